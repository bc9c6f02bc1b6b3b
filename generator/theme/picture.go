package theme

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"image/jpeg"
	"image/png"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
)

// Picture is a picture that asks for nothing outside itself.
type Picture struct {
	Ending        string // .svg, .png, .jpg
	Data          []byte
	Width, Height int // own size; of a drawing the ratio counts
}

// The bounds of pictures. Own choice.
const (
	maxMark    = 64 << 10
	maxPicture = 400 << 10
	maxSide    = 4000
)

var pictures = []string{".svg", ".png", ".jpg", ".jpeg"}

// URI is the picture as it stands in a page.
func (p Picture) URI() string {
	kind := map[string]string{".svg": "image/svg+xml", ".png": "image/png"}[p.Ending]
	if kind == "" {
		kind = "image/jpeg"
	}
	return "data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(p.Data)
}

// mark reads the mark that the look names.
func (r reader) mark() *Picture {
	name := r.Look.Logo
	data, ok := r.read(name, maxMark)
	if !ok {
		if _, err := r.FS.Open(name); err != nil {
			r.found.Faultf(r.Look.LogoPos, "put the file beside firm.yaml", "there is no %s", name)
		}
		return nil
	}
	p, ok := r.picture(name, data, maxMark)
	if !ok {
		return nil
	}
	return &p
}

// picture reads a picture; what it could carry besides is a fault at its place.
func (r reader) picture(name string, data []byte, most int) (Picture, bool) {
	p := Picture{Ending: strings.ToLower(path.Ext(name)), Data: data}
	at := r.at(name)
	if len(data) > most {
		r.found.Faultf(at, "make it smaller", "the picture has %d bytes; more than %d are not taken", len(data), most)
		return p, false
	}
	var err error
	switch p.Ending {
	case ".svg":
		before := r.found.Count(diag.Fault)
		p.Width, p.Height = checkSVG(at.File, string(data), r.found)
		return p, r.found.Count(diag.Fault) == before
	case ".png":
		c, e := png.DecodeConfig(bytes.NewReader(data))
		p.Width, p.Height, err = c.Width, c.Height, e
	default:
		c, e := jpeg.DecodeConfig(bytes.NewReader(data))
		p.Width, p.Height, err = c.Width, c.Height, e
	}
	switch {
	case err != nil:
		r.found.Faultf(at, "save it again as "+p.Ending, "this is no picture of its kind: %v", err)
	case p.Width < 1 || p.Height < 1 || p.Width > maxSide || p.Height > maxSide:
		r.found.Faultf(at, "make it smaller", "the picture has %d by %d pixels; a side has 1 to %d", p.Width, p.Height, maxSide)
	default:
		return p, true
	}
	return p, false
}

// Elements and attributes that a drawing may have. Everything else could carry a program, or ask for something outside.
var (
	svgElements = strings.Fields("svg g path rect circle ellipse line polyline polygon title desc defs linearGradient radialGradient stop clipPath mask use symbol pattern text tspan metadata")
	svgAttrs    = strings.Fields("id class x y x1 y1 x2 y2 cx cy r rx ry fx fy d points width height viewBox transform fill stroke style opacity offset version xmlns space lang dx dy preserveAspectRatio gradientUnits gradientTransform spreadMethod clipPathUnits maskUnits maskContentUnits patternUnits patternContentUnits patternTransform textLength lengthAdjust role")
	svgPrefixes = []string{"fill-", "stroke-", "stop-", "clip-", "font-", "text-", "mask", "vector-effect", "paint-order", "shape-rendering", "color", "aria-", "dominant-baseline", "letter-spacing"}
)

// checkSVG refuses what a drawing may not carry, at its place, and gives the drawing's size.
func checkSVG(file, text string, found *diag.List) (width, height int) {
	d := xml.NewDecoder(strings.NewReader(text))
	refuse := func(offset int64, format string, args ...any) {
		found.Faultf(place(file, text, int(offset)), "save it as a plain drawing: shapes and colours only", format, args...)
	}
	first := true
	for {
		offset := d.InputOffset()
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			refuse(offset, "the drawing cannot be read: %v", err)
			return 0, 0
		}
		switch e := token.(type) {
		case xml.Directive:
			refuse(offset, "a drawing with a document type is refused")
		case xml.ProcInst:
			if e.Target != "xml" {
				refuse(offset, "a drawing that names a style or a program is refused: <?%s", e.Target)
			}
		case xml.StartElement:
			if first {
				width, height = svgSize(e)
				first = false
				if e.Name.Local != "svg" || e.Name.Space != svgSpace || width == 0 {
					refuse(offset, "a drawing begins with <svg xmlns=%q> and has a viewBox", svgSpace)
				}
			}
			if !slices.Contains(svgElements, e.Name.Local) || e.Name.Space != "" && e.Name.Space != svgSpace {
				refuse(offset, "<%s> is refused in a drawing", e.Name.Local)
			}
			checkAttrs(e, func(format string, args ...any) { refuse(offset, format, args...) })
		}
	}
	if first {
		refuse(0, "the drawing is empty")
	}
	return width, height
}

const svgSpace = "http://www.w3.org/2000/svg"

func checkAttrs(e xml.StartElement, refuse func(format string, args ...any)) {
	for _, a := range e.Attr {
		name := a.Name.Local
		value := strings.ToLower(a.Value)
		switch {
		case name == "href":
			if !strings.HasPrefix(a.Value, "#") {
				refuse("a drawing refers to nothing outside itself: %.60q", a.Value)
			}
		case a.Name.Space == "xmlns":
		case leadsOut(value), strings.Contains(value, "javascript:"), strings.Contains(value, `\`):
			refuse("a drawing refers to nothing outside itself: %.60q", a.Value)
		case !slices.Contains(svgAttrs, name) && !slices.ContainsFunc(svgPrefixes, func(p string) bool { return strings.HasPrefix(name, p) }):
			refuse("the attribute %s is refused in a drawing", name)
		}
	}
}

// leadsOut reports whether a value names something outside the drawing.
func leadsOut(value string) bool {
	for _, after := range strings.Split(value, "url(")[1:] {
		if !strings.HasPrefix(strings.TrimLeft(after, "\"' "), "#") {
			return true
		}
	}
	return false
}

// svgSize reads the viewBox, or width and height; 0: none.
func svgSize(e xml.StartElement) (int, int) {
	value := func(name string) string {
		for _, a := range e.Attr {
			if a.Name.Local == name {
				return a.Value
			}
		}
		return ""
	}
	size := []string{value("width"), value("height")}
	if box := strings.FieldsFunc(value("viewBox"), func(c rune) bool { return c == ' ' || c == ',' }); len(box) == 4 {
		size = box[2:]
	}
	var out [2]int
	for i, s := range size {
		x, err := strconv.ParseFloat(strings.TrimSuffix(s, "px"), 64)
		if err != nil || !(x > 0 && x < 1e6) {
			return 0, 0
		}
		out[i] = max(1, int(x+0.5))
	}
	return out[0], out[1]
}
