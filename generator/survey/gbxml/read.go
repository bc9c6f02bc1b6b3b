package gbxml

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// reader fills one building.
type reader struct {
	b      *survey.Building
	text   *survey.Text
	units  units
	stacks stacks
	spaces map[string]*survey.Space
	levels map[string]*survey.Storey
	sides  []side
	uses   []use
	storey []storeyOf

	otherArea, otherTilt, flat []string
	noLayer                    []string // constructions that name layers or materials that are not there
	unknownKinds               map[string][]*node
	declared                   string
}

// side is one adjacency, resolved at the end.
type side struct {
	face  *survey.Face
	space string
	pos   diag.Pos
}

type use struct {
	face         *survey.Face
	construction string
}

type storeyOf struct {
	space *survey.Space
	id    string
}

// Read reads a gbXML file, or the one inside a zip container. What is wrong in it goes into the building's findings; an
// error means that it cannot be read at all.
func Read(name string, data io.ReaderAt, size int64) (*survey.Building, error) {
	var in io.Reader = io.NewSectionReader(data, 0, size)
	head := make([]byte, 4)
	if n, err := data.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	} else if survey.IsZip(head[:n]) {
		inner, rc, err := survey.Unpack(data, size, ".gbxml", ".xml")
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		defer rc.Close() // reading only: nothing is lost if closing fails
		in, name = rc, name+"!"+inner
	}
	return ReadText(name, in)
}

// ReadText reads the text of a gbXML file.
func ReadText(name string, in io.Reader) (*survey.Building, error) {
	r := &reader{b: &survey.Building{Source: survey.Source{Name: name, Format: "gbXML"}}, spaces: map[string]*survey.Space{},
		levels: map[string]*survey.Storey{}, unknownKinds: map[string][]*node{},
		stacks: stacks{layers: map[string]*node{}, materials: map[string]*node{}}}
	r.text = survey.NewText(survey.Bounded(in))
	s := newStream(name, r.text)
	if err := r.document(s); err != nil {
		return nil, fmt.Errorf("%s: %w", s.pos(), err)
	}
	r.finish(s)
	return r.b, nil
}

// document reads the root and all it holds.
func (r *reader) document(s *stream) error {
	rooted := false
	for {
		pos := s.pos()
		t, err := s.next()
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case nil:
			if !rooted {
				return errors.New("this is no gbXML: no element gbXML")
			}
			return nil
		case xml.ProcInst:
			r.declaration(t, pos)
		case xml.StartElement:
			if !rooted {
				if t.Name.Local != "gbXML" {
					return fmt.Errorf("this is no gbXML: the root element is %s", t.Name.Local)
				}
				rooted = true
				r.root(s, t, pos)
				continue
			}
			if err := r.top(s, t, pos); err != nil {
				return err
			}
		}
	}
}

// declaration notes an encoding that the bytes belie.
func (r *reader) declaration(p xml.ProcInst, pos diag.Pos) {
	_, after, ok := strings.Cut(string(p.Inst), "encoding=")
	if p.Target != "xml" || !ok || len(after) < 2 {
		return
	}
	r.declared, _, _ = strings.Cut(after[1:], after[:1])
	wide := strings.HasPrefix(strings.ToUpper(r.declared), "UTF-16")
	if wide != strings.HasPrefix(r.text.Encoding, "UTF-16") {
		r.b.Found.Notef(pos, "", "the file says its encoding is %s, but its bytes are %s; the bytes were trusted", r.declared, r.text.Encoding)
	}
}

const namespace = "http://www.gbxml.org/schema"

func (r *reader) root(s *stream, t xml.StartElement, pos diag.Pos) {
	s.space = t.Name.Space
	if s.space != namespace {
		r.b.Found.Notef(pos, "", "the namespace is %q, not %s; elements were read all the same", s.space, namespace)
	}
	attr := func(name string) string {
		for _, a := range t.Attr {
			if a.Name.Local == name {
				return strings.TrimSpace(a.Value)
			}
		}
		return ""
	}
	r.rootUnits(attr, pos)
	r.b.Source.Version = attr("version")
	if r.b.Source.Version == "" {
		r.b.Found.Notef(pos, "", "the file does not say which version of the schema it follows")
	}
	switch attr("SurfaceReferenceLocation") {
	case "Centerline":
		r.b.Source.Basis = "centre lines"
	case "InteriorSurface":
		r.b.Source.Basis = "inner faces"
	}
}

// top reads an element of the root, Campus or Building.
func (r *reader) top(s *stream, t xml.StartElement, pos diag.Pos) error {
	if t.Name.Space != s.space {
		return s.skip()
	}
	var read func(*node)
	switch t.Name.Local {
	case "Campus", "Building":
		return nil // what they hold comes next
	case "Name":
		read = func(n *node) {
			if name := strings.Join(strings.Fields(n.text), " "); r.b.Name == "" {
				r.b.Name = name
			}
		}
	case "Location":
		read = r.location
	case "BuildingStorey":
		read = r.level
	case "Space":
		read = r.room
	case "Surface":
		read = r.surface
	case "Construction":
		read = func(n *node) { r.stacks.constructions = append(r.stacks.constructions, n) }
	case "Layer":
		read = func(n *node) { r.stacks.layers[n.attr("id")] = n }
	case "Material":
		read = func(n *node) { r.stacks.materials[n.attr("id")] = n }
	default:
		return s.skip()
	}
	n, err := s.element(t, pos)
	if err == nil {
		read(n)
	}
	return err
}

func (r *reader) location(n *node) {
	if a := n.child("CADModelAzimuth"); a != nil {
		if x, ok := r.number(a); ok {
			r.b.North = q.Degrees(x)
		}
	}
}

func (r *reader) level(n *node) {
	s := &survey.Storey{ID: n.attr("id"), Name: n.words("Name"), Level: q.Length(r.quantity(n, "Level", r.units.length, 1)), Pos: n.pos}
	r.levels[s.ID] = s
	r.b.Storeys = append(r.b.Storeys, s)
	r.count("storey", "")
}

// heats says what a conditionType says about heating; the words are the schema's.
var heats = map[string]survey.Warm{"Heated": survey.IsHeated, "HeatedAndCooled": survey.IsHeated, "Cooled": survey.IsHeated,
	"Unconditioned": survey.NotHeated, "Vented": survey.NotHeated, "NaturallyVentedOnly": survey.NotHeated}

func (r *reader) room(n *node) {
	s := &survey.Space{ID: n.attr("id"), Name: n.words("Name"), Heated: heats[n.attr("conditionType")], Pos: n.pos}
	r.count("space", "")
	s.Stated.FloorArea = q.Area(r.quantity(n, "Area", r.units.area, 2))
	s.Stated.Volume = q.Volume(r.quantity(n, "Volume", r.units.volume, 3))
	s.Outline = r.planar(n)
	if g := n.child("ShellGeometry"); g != nil {
		unit := r.unitOf(g, r.units.length, 1)
		for _, shell := range g.all("ClosedShell") {
			for _, p := range shell.all("PolyLoop") {
				s.Body = append(s.Body, survey.Poly{Loop: r.loop(p, unit)})
			}
		}
	}
	if first := r.spaces[s.ID]; first != nil {
		twice := survey.Say("the space id %q stands twice; surfaces that name it were given to the first", s.ID)
		r.b.Found.Add(diag.Finding{Level: diag.Open, Pos: n.pos, See: []diag.Pos{first.Pos}, Msg: twice.String(), Hint: survey.Say("correct the ids in the file").String(), Pattern: twice.Pattern, Values: twice.Values})
	} else {
		r.spaces[s.ID] = s
	}
	if id := n.attr("buildingStoreyIdRef"); id != "" {
		r.storey = append(r.storey, storeyOf{s, id})
	}
	r.b.Spaces = append(r.b.Spaces, s)
}

func (r *reader) count(group, kind string) {
	for i := range r.b.Counts {
		if c := &r.b.Counts[i]; c.Group == group && c.Kind == kind {
			c.N++
			return
		}
	}
	r.b.Counts = append(r.b.Counts, survey.Count{Group: group, Kind: kind, N: 1})
}
