package library

import (
	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	q "lapwork/generator/quantity"
)

// Materials are the hatches a solid of a section drawing may have.
var Materials = []string{"timber-end", "timber-along", "masonry", "concrete", "insulation", "plasterboard", "ground",
	"panel", "metal", "plastic", "glass", "air", "noncombustible", "plaster"}

// shapes are the kinds of part whose value is their path, with the least and the most number of points.
var shapes = map[string][2]int{
	"sheet": {2, 64}, "tape": {2, 64}, "adhesive": {2, 64}, "primer": {2, 64}, "collar": {2, 64}, "membrane": {2, 64},
	"bead": {1, 64}, "fold": {2, 2}, "staple": {1, 64}, "screw": {2, 2}, "dimension": {2, 2},
}

var partKeys = []string{"solid", "sheet", "tape", "bead", "adhesive", "primer", "fold", "staple", "screw", "collar",
	"membrane", "dimension", "label", "number", "box", "path", "at", "to", "text", "name"}

// section reads a section drawing: one frame under parts, or several under frames. It gives the place of every part too.
func (p parser) section(n *yaml.Node) (*drawing.Section, [][]diag.Pos) {
	m, ok := p.mapping(n, "section", []string{"title", "size", "parts", "frames"})
	if !ok {
		return nil, nil
	}
	var places [][]diag.Pos
	s := &drawing.Section{Title: m.need("title")}
	if size := p.numbers(m.values["size"], 2, "size: [width, height]"); size != nil {
		s.Width, s.Height = q.MM(size[0]), q.MM(size[1])
		if s.Width < 1 || s.Height < 1 {
			p.faultf(m.values["size"], "millimetres of the real thing", "a drawing has a width and a height")
		}
	} else {
		m.present("size")
	}
	switch {
	case m.has("parts") == m.has("frames"):
		p.faultf(n, "parts for one drawing, frames for before and after", "a section has either parts or frames")
	case m.has("parts"):
		parts, at := p.parts(m)
		s.Frames, places = []drawing.Frame{{Parts: parts}}, [][]diag.Pos{at}
	}
	for _, f := range m.items("frames") {
		if fm, ok := p.mapping(f, "a frame", []string{"caption", "parts"}); ok {
			parts, at := p.parts(fm)
			s.Frames = append(s.Frames, drawing.Frame{Caption: fm.need("caption"), Parts: parts})
			places = append(places, at)
		}
	}
	return s, places
}

func (p parser) parts(m mapping) (out []drawing.Part, at []diag.Pos) {
	for _, n := range m.items("parts") {
		if part, ok := p.part(n); ok {
			out, at = append(out, part), append(at, p.pos(n))
		}
	}
	return out, at
}

func (p parser) part(n *yaml.Node) (drawing.Part, bool) {
	m, ok := p.mapping(n, "a part", partKeys)
	if !ok {
		return drawing.Part{}, false
	}
	out := drawing.Part{Name: m.text("name"), Text: m.text("text")}
	kinds := 0
	for _, k := range partKeys[:14] {
		if m.has(k) {
			kinds++
			out.Kind = drawing.PartKind(k)
		}
	}
	if kinds != 1 {
		p.faultf(n, "one of solid, sheet, tape, bead, label ...", "a part is of exactly one kind, this one of %d", kinds)
		return out, false
	}
	kind := string(out.Kind)
	switch out.Kind {
	case drawing.Solid:
		out.Material = drawing.Material(m.word("solid", Materials))
		out.Path = p.outline(m)
	case drawing.Label, drawing.Number:
		p.pointer(m, &out)
	default:
		if limits, ok := shapes[kind]; ok {
			out.Path = p.points(m.values[kind], kind, limits)
		}
		if out.Kind == drawing.Dimension {
			m.need("text")
		}
	}
	if m.has("text") {
		p.figured(out.Text, p.exprPos(m.values["text"]))
	}
	return out, true
}

// outline reads box: [x, y, width, height] or path: [[x, y], ...].
func (p parser) outline(m mapping) []drawing.XY {
	switch {
	case m.has("box") && !m.has("path"):
		b := p.numbers(m.values["box"], 4, "box: [x, y, width, height]")
		if b == nil {
			return nil
		}
		if b[2] <= 0 || b[3] <= 0 {
			p.faultf(m.values["box"], "box: [x, y, width, height]", "a box has a width and a height above 0")
		}
		x, y, r, t := b[0], b[1], b[0]+b[2], b[1]+b[3]
		return []drawing.XY{{X: x, Y: y}, {X: r, Y: y}, {X: r, Y: t}, {X: x, Y: t}}
	case m.has("path") && !m.has("box"):
		return p.points(m.values["path"], "path", [2]int{3, 200})
	}
	p.faultf(m.node, "add box: [x, y, width, height] or path: [[x, y], ...]", "a solid has either a box or a path")
	return nil
}

// pointer reads a label or a number: where it stands and, for a label if wished, what it points at.
func (p parser) pointer(m mapping, out *drawing.Part) {
	if out.Kind == drawing.Label {
		out.Text = m.need("label")
		p.figured(out.Text, p.exprPos(m.values["label"]))
	} else {
		out.Step = int(m.number("number"))
		if out.Step < 1 {
			p.faultf(m.values["number"], "number: 3 points at what step 3 does", "a number names a step from 1 up")
		}
		m.present("to")
	}
	for _, key := range []string{"at", "to"} {
		v := m.values[key]
		if v == nil {
			if key == "at" {
				m.present("at")
			}
			continue
		}
		if at := p.numbers(v, 2, key+": [x, y]"); at != nil {
			out.Path = append(out.Path, drawing.XY{X: at[0], Y: at[1]})
		}
	}
}

func (p parser) points(n *yaml.Node, what string, limits [2]int) []drawing.XY {
	if n.Kind != yaml.SequenceNode {
		p.faultf(n, "write [[x, y], [x, y]]", "%s must be a list of points", what)
		return nil
	}
	if len(n.Content) < limits[0] || len(n.Content) > limits[1] {
		p.faultf(n, "", "%s has %d points, it needs %d to %d", what, len(n.Content), limits[0], limits[1])
	}
	var out []drawing.XY
	for _, c := range n.Content {
		if xy := p.numbers(c, 2, "a point [x, y]"); xy != nil {
			out = append(out, drawing.XY{X: xy[0], Y: xy[1]})
		}
	}
	return out
}

// numbers reads a list of exactly count numbers, or reports and gives nil.
func (p parser) numbers(n *yaml.Node, count int, what string) []float64 {
	if n == nil {
		return nil
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) != count {
		p.faultf(n, "write "+what, "this must be a list of %d numbers", count)
		return nil
	}
	out := make([]float64, count)
	for i, c := range n.Content {
		out[i], _ = p.number(c, "each entry")
	}
	return out
}
