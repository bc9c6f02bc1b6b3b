package svg_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A reader of the SVG that the package writes, by the grammar of path data of SVG 2, section 9.3: numbers follow each
// other without a blank where a sign or a second point parts them. It knows what the tests paint, and refuses the rest.

// point is a place in pixels.
type point struct{ x, y float64 }

// subpath is one line of a path.
type subpath struct {
	points []point
	closed bool
}

// painted is one element with what it inherits.
type painted struct {
	stroke, fill string // names of inks; empty: none
	width        float64
	round        bool
	lines        []subpath
	circle       bool
	centre       point
	r            float64
}

// elements reads the paths and circles of a drawing in the order in which a browser paints them.
func elements(svg string) ([]painted, error) {
	var out []painted
	var open []map[string]string
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		switch e := tok.(type) {
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.StartElement:
			all := map[string]string{"stroke-width": "1.5"} // as the style sheet gives it
			if len(open) > 0 {
				all = map[string]string{}
				for k, v := range open[len(open)-1] {
					all[k] = v
				}
			}
			for _, a := range e.Attr {
				all[a.Name.Local] = a.Value
			}
			open = append(open, all)
			p, err := paintedBy(e.Name.Local, all)
			if err != nil {
				return nil, err
			}
			if p != nil {
				out = append(out, *p)
			}
		}
	}
}

func paintedBy(name string, all map[string]string) (*painted, error) {
	if name != "path" && name != "circle" {
		return nil, nil
	}
	p := &painted{}
	for _, c := range strings.Fields(all["class"]) {
		switch {
		case c == "dr":
			p.round = true
		case strings.HasPrefix(c, "ds-"):
			p.stroke = c[3:]
		case strings.HasPrefix(c, "df-"):
			p.fill = c[3:]
		}
	}
	var err error
	if p.width, err = strconv.ParseFloat(all["stroke-width"], 64); err != nil {
		return nil, err
	}
	if name == "path" {
		p.lines, err = pathData(all["d"])
		return p, err
	}
	p.circle = true
	for key, to := range map[string]*float64{"cx": &p.centre.x, "cy": &p.centre.y, "r": &p.r} {
		if *to, err = strconv.ParseFloat(all[key], 64); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// scanner reads path data.
type scanner struct {
	text string
	at   int
}

func (s *scanner) blank() {
	for s.at < len(s.text) && (s.text[s.at] == ' ' || s.text[s.at] == ',') {
		s.at++
	}
}

func (s *scanner) number() (float64, error) {
	s.blank()
	from, point := s.at, false
	if s.at < len(s.text) && s.text[s.at] == '-' {
		s.at++
	}
	for ; s.at < len(s.text); s.at++ {
		c := s.text[s.at]
		if c == '.' && !point {
			point = true
			continue
		}
		if c < '0' || c > '9' {
			break
		}
	}
	return strconv.ParseFloat(s.text[from:s.at], 64)
}

func (s *scanner) numbers(n int) ([]float64, error) {
	out := make([]float64, n)
	for i := range out {
		var err error
		if out[i], err = s.number(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// pathData reads a path; a curve gives its ends and, before each, the guide point.
func pathData(text string) ([]subpath, error) {
	var out []subpath
	var at, guide point
	s := &scanner{text: text}
	command := byte(0)
	for s.blank(); s.at < len(s.text); s.blank() {
		if c := s.text[s.at]; c >= 'A' && c <= 'z' {
			command = c
			s.at++
		}
		n := strings.IndexByte("z hv Mmlt    q", command)
		if n < 0 || len(out) == 0 && command != 'M' {
			return nil, fmt.Errorf("command %q at %d of %s", command, s.at, text)
		}
		v, err := s.numbers(map[byte]int{'z': 0, 'h': 1, 'v': 1, 'M': 2, 'm': 2, 'l': 2, 't': 2, 'q': 4}[command])
		if err != nil {
			return nil, fmt.Errorf("%w at %d of %s", err, s.at, text)
		}
		switch command {
		case 'z':
			line := &out[len(out)-1]
			line.closed, at, command = true, line.points[0], 0
			continue
		case 'M', 'm':
			if command == 'M' {
				at = point{}
			}
			at = point{at.x + v[0], at.y + v[1]}
			out = append(out, subpath{points: []point{at}})
			command = map[byte]byte{'M': 0, 'm': 'l'}[command] // further numbers are a line; absolute ones are not written
			continue
		}
		line := &out[len(out)-1]
		switch command {
		case 'h':
			at.x += v[0]
		case 'v':
			at.y += v[0]
		case 'l':
			at = point{at.x + v[0], at.y + v[1]}
		case 'q':
			guide = point{at.x + v[0], at.y + v[1]}
			line.points = append(line.points, guide)
			at = point{at.x + v[2], at.y + v[3]}
		case 't':
			guide = point{2*at.x - guide.x, 2*at.y - guide.y}
			line.points = append(line.points, guide)
			at = point{at.x + v[0], at.y + v[1]}
		}
		line.points = append(line.points, at)
	}
	return out, nil
}

// over gives the ink that an element leaves at a place; empty: none.
func (p painted) over(at point) string {
	if p.circle {
		d := math.Hypot(at.x-p.centre.x, at.y-p.centre.y)
		if p.stroke != "" && math.Abs(d-p.r) < p.width/2 {
			return p.stroke
		}
		if d < p.r {
			return p.fill
		}
		return ""
	}
	winding := 0
	for _, line := range p.lines {
		if p.stroke != "" && line.strokes(at, p.width/2, p.round) {
			return p.stroke
		}
		winding += line.winding(at)
	}
	if winding != 0 {
		return p.fill
	}
	return ""
}

// strokes tells whether a stroke of level and upright lines covers a place; the corners of a closed one are full.
func (l subpath) strokes(at point, half float64, round bool) bool {
	points := l.points
	if l.closed {
		points = append(points[:len(points):len(points)], points[0])
	}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a == b {
			if round && math.Hypot(at.x-a.x, at.y-a.y) < half {
				return true
			}
			continue
		}
		x, y := 0.0, 0.0
		if l.closed || a.y == b.y {
			y = half
		}
		if l.closed || a.x == b.x {
			x = half
		}
		if at.x > math.Min(a.x, b.x)-x && at.x < math.Max(a.x, b.x)+x && at.y > math.Min(a.y, b.y)-y && at.y < math.Max(a.y, b.y)+y {
			return true
		}
	}
	return false
}

// winding is how often the line goes round a place: the default rule of SVG fills where the sum is not 0.
func (l subpath) winding(at point) int {
	n := 0
	for i, a := range l.points {
		b := l.points[(i+1)%len(l.points)]
		if (a.y > at.y) == (b.y > at.y) || at.x >= a.x+(at.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			continue
		}
		if a.y > b.y {
			n++
		} else {
			n--
		}
	}
	return n
}
