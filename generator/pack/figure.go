package pack

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// anchor makes an id prefix for a drawing from an object's id.
func anchor(id string) string {
	return "d-" + strings.ToLower(strings.NewReplacer("/", "-", "+", "-", ".", "-", " ", "-").Replace(id))
}

func xy(p geometry.Point) drawing.XY { return drawing.XY{X: float64(p.X), Y: float64(p.Y)} }

func outline(p geometry.Polygon) []drawing.XY {
	out := make([]drawing.XY, len(p))
	for i, at := range p {
		out[i] = xy(at)
	}
	return out
}

// stripDrawing is the strip layout of a surface. What its strips run onto in one piece is drawn unfolded beyond the edge.
func (a *assembler) stripDrawing(l *assess.Layout) Drawing {
	s := l.Surface
	d := drawing.StripLayout{Words: a.words(), Surface: string(s.ID), Name: s.Room.Name + ", " + a.roleWord(s), Facing: facing(s), Outline: outline(l.Outline())}
	d.Members = members(s)
	a.drawSurface(&d, s, asIs)
	caption := a.say("Strips in fitting order. Mark the edges first, then hang.")
	if l.Over != nil {
		a.drawUnfolded(&d, l)
		caption = a.say("Strips in fitting order, %s drawn unfolded beyond the dashed edge. Mark the edges first, then hang.", partsText(l.Over))
	}
	if l.HungWith != nil {
		a.drawFromSlope(&d, s, l.HungWith)
		caption = a.say("The strips come over the edge from %s in one piece.", string(l.HungWith.Surface.ID))
	} else {
		a.drawStrips(&d, l)
	}
	return Drawing{SVG: svg.Render(anchor(string(s.ID)), d), Title: string(s.ID), Caption: caption}
}

// drawSurface adds a surface's holes, openings, penetrations and the names of its edges where on puts them.
func (a *assembler) drawSurface(d *drawing.StripLayout, s *surface.Surface, on onto) {
	for _, h := range s.Holes {
		d.Holes = append(d.Holes, outline(on.polygon(h)))
	}
	for _, o := range s.Openings {
		width, height := on.size(o.Width, o.Height)
		m := drawing.OpeningMark{ID: string(o.ID), Outline: outline(on.polygon(o.Outline)), Width: width, Height: height}
		if !overhead(s) {
			m.Sill, m.HasSill = o.Outline.Bounds().Min.Y, true
		}
		d.Openings = append(d.Openings, m)
	}
	for _, p := range s.Penetrations {
		width, height := on.size(p.Width, p.Height)
		d.Penetrations = append(d.Penetrations, drawing.HoleMark{ID: string(p.ID), At: xy(on(p.At)), Diameter: p.Diameter, Width: width, Height: height})
	}
	n := a.numbers(s.Room)
	for _, e := range a.Model.Room(s.Room).Edges {
		if no := n.of[e.ID]; no > 0 && (e.A == s || e.B == s) {
			n := e.SideA
			if e.B == s {
				n = e.SideB
			}
			from, to := s.Side(n)
			d.Edges = append(d.Edges, drawing.EdgeMark{No: no, ID: e.ID, From: xy(on(from)), To: xy(on(to))})
		}
	}
}

func overhead(s *surface.Surface) bool { return s.Role == surface.Ceiling }

func facing(s *surface.Surface) drawing.Facing {
	switch s.Role {
	case surface.Slope:
		return drawing.Sloping
	case surface.Ceiling:
		return drawing.Overhead
	case surface.Floor:
		return drawing.Underfoot
	}
	return drawing.Upright
}

// drawStrips adds the strips, laps, end joints and set-out marks of a layout.
func (a *assembler) drawStrips(d *drawing.StripLayout, l *assess.Layout) {
	roll := a.rolls()
	cuts := map[string]assess.CutPiece{}
	for _, c := range l.Cuts {
		cuts[c.ID] = c
	}
	next := 0
	for i, st := range l.Strips {
		mark := drawing.StripMark{No: st.No, ID: fmt.Sprintf("%s/%d", l.Surface.ID, st.No)}
		for range st.Pieces {
			c := l.Cuts[next]
			next++
			mark.Pieces = append(mark.Pieces, drawing.PieceMark{Outline: patch(l, c.At, c.At+c.Width, c.From, c.To), Cut: c.Cut, Roll: roll[c.ID], From: c.OffcutOf})
		}
		d.Strips = append(d.Strips, mark)
		edge, lapped := l.Across(st.At), l.Across(st.At+st.Lap)
		set := drawing.SetOut{At: edge, Value: edge - l.Base(false)}
		if i > 0 {
			for _, run := range st.Seam {
				d.Laps = append(d.Laps, drawing.LapMark{ID: fmt.Sprintf("%s/%d+%d", l.Surface.ID, st.No-1, st.No),
					Outline: patch(l, edge, lapped, l.Along(run.From), l.Along(run.To)), Width: st.Lap})
			}
			if l.Direction == strips.Level {
				d.Heights = append(d.Heights, set)
			} else {
				d.Offsets = append(d.Offsets, set)
			}
		}
		for n, j := range st.Joints {
			line := l.Along(l.JointLine(j))
			hung := l.Cuts[next-1] // a piece of the strip: all are as wide
			edge := patch(l, hung.At, hung.At+hung.Width, line, line)
			from, to := edge[0], edge[2]
			d.EndJoints = append(d.EndJoints, drawing.JointMark{ID: fmt.Sprintf("%s/%d.%d", l.Surface.ID, st.No, n+1), From: from, To: to, Offset: line - l.Base(true)})
		}
	}
}

// patch is the rectangle across × along, in the surface's own coordinates.
func patch(l *assess.Layout, v0, v1, u0, u1 q.MM) []drawing.XY {
	v0, v1, u0, u1 = min(v0, v1), max(v0, v1), min(u0, u1), max(u0, u1)
	if l.Direction == strips.Level {
		return outline(geometry.Polygon{{X: u0, Y: v0}, {X: u1, Y: v0}, {X: u1, Y: v1}, {X: u0, Y: v1}})
	}
	return outline(geometry.Polygon{{X: v0, Y: u0}, {X: v1, Y: u0}, {X: v1, Y: u1}, {X: v0, Y: u1}})
}

// members are the framing lines of a surface, across its whole box; the drawing clips them.
func members(s *surface.Surface) []drawing.MemberLine {
	lines, level := assess.FramingLines(s)
	box := s.Outline.Bounds()
	var out []drawing.MemberLine
	for _, at := range lines {
		m := drawing.MemberLine{From: drawing.XY{X: float64(at), Y: float64(box.Min.Y)}, To: drawing.XY{X: float64(at), Y: float64(box.Max.Y)}, Offset: at - box.Min.X}
		if level {
			m.Offset = at - box.Min.Y
			m.From, m.To = drawing.XY{X: float64(box.Min.X), Y: float64(at)}, drawing.XY{X: float64(box.Max.X), Y: float64(at)}
		}
		out = append(out, m)
	}
	return out
}

// once gives a drawing that several pages show: it is drawn for the first of them.
func (a *assembler) once(of any, draw func() Drawing) Drawing {
	if d, done := a.figures.Load(of); done {
		return d.(Drawing)
	}
	d := draw()
	a.figures.Store(of, d)
	return d
}

// roomView is the isometric view of a room with its junction lines numbered.
func (a *assembler) roomView(shape *surface.RoomShape) Drawing {
	return a.once(shape.Room, func() Drawing { return a.drawRoom(shape) })
}

func (a *assembler) drawRoom(shape *surface.RoomShape) Drawing {
	room := shape.Room
	d := drawing.RoomView{Words: a.words(), Room: string(room.ID), Name: room.Name}
	for _, s := range shape.Surfaces {
		face := drawing.Face3{ID: string(s.ID), Role: faceRole(s), Carries: s.CarriesSheet}
		for _, p := range s.Outline {
			face.Outline = append(face.Outline, space(s, p))
		}
		d.Faces = append(d.Faces, face)
		for _, o := range s.Openings {
			mark := drawing.Opening3{ID: string(o.ID), Face: string(s.ID)}
			for _, p := range o.Outline {
				mark.Outline = append(mark.Outline, space(s, p))
			}
			d.Openings = append(d.Openings, mark)
		}
		for _, p := range s.Penetrations {
			d.Holes = append(d.Holes, drawing.Hole3{ID: string(p.ID), Face: string(s.ID), At: space(s, p.At)})
		}
	}
	numbers := a.numbers(room)
	for _, e := range shape.Edges {
		no := numbers.of[e.ID]
		d.Edges = append(d.Edges, drawing.Edge3{No: no, ID: e.ID, From: millimetres(e.From), To: millimetres(e.To), Layer: no > 0})
	}
	out := Drawing{SVG: svg.Render(anchor(string(room.ID)), d), Title: a.say("%s from inside", string(room.ID)),
		Caption: a.say("Numbers mark the junction lines. The same numbers stand in the list of junctions.")}
	for _, row := range d.Legend() {
		text := row.ID
		if p := a.Place(row.ID); p != nil && p.Answered() {
			text += " " + p.Chosen.Statement.Title
		}
		out.Legend = append(out.Legend, Term{Name: strconv.Itoa(row.No), Text: text})
	}
	return out
}

func faceRole(s *surface.Surface) drawing.FaceRole {
	switch s.Role {
	case surface.Slope:
		return drawing.SlopeFace
	case surface.Ceiling:
		return drawing.CeilingFace
	case surface.Floor:
		return drawing.FloorFace
	}
	return drawing.WallFace
}

func space(s *surface.Surface, p geometry.Point) drawing.XYZ { return millimetres(s.Frame.Space(p)) }

func millimetres(m [3]float64) drawing.XYZ {
	return drawing.XYZ{X: m[0] * 1000, Y: m[1] * 1000, Z: m[2] * 1000}
}

// planRooms are the rooms of a storey in plan.
func (a *assembler) planRooms(st *job.Storey) []drawing.PlanRoom {
	var out []drawing.PlanRoom
	for _, r := range a.Job.Rooms {
		if r.Storey != st {
			continue
		}
		p := drawing.PlanRoom{ID: string(r.ID), Name: r.Name}
		for _, c := range r.Footprint {
			p.Outline = append(p.Outline, drawing.XY{X: float64(c.X), Y: float64(c.Y)})
		}
		out = append(out, p)
	}
	return out
}

// storeyPlan is the plan of a storey with surfaces, openings and holes.
func (a *assembler) storeyPlan(st *job.Storey) Drawing {
	return a.once(st, func() Drawing { return a.drawStorey(st) })
}

func (a *assembler) drawStorey(st *job.Storey) Drawing {
	d := drawing.StoreyPlan{Words: a.words(), Title: st.Name, Rooms: a.planRooms(st)}
	for _, shape := range a.Model.Rooms {
		if shape.Room.Storey != st {
			continue
		}
		for _, s := range shape.Surfaces {
			a.planSurface(&d, s)
		}
	}
	return Drawing{SVG: svg.Render(anchor("plan-"+string(st.ID)), d), Title: st.Name, Caption: a.say("Heavy lines carry the layer.")}
}

// planSurface adds a wall with its openings and holes to a plan; of ceilings and slopes only the holes.
func (a *assembler) planSurface(d *drawing.StoreyPlan, s *surface.Surface) {
	at := func(p geometry.Point) drawing.XY {
		m := millimetres(s.Frame.Space(p))
		return drawing.XY{X: m.X, Y: m.Y}
	}
	for _, p := range s.Penetrations {
		if a.Place(string(p.ID)) != nil {
			d.Holes = append(d.Holes, drawing.PlanHole{ID: string(p.ID), At: at(p.At)})
		}
	}
	if s.PlanEdge == 0 || s.Role == surface.Slope || s.Dormer != nil {
		return
	}
	box := s.Outline.Bounds()
	e := drawing.PlanEdge{From: at(geometry.Point{X: box.Min.X}), To: at(geometry.Point{X: box.Max.X}), Carries: s.CarriesSheet}
	if s.CarriesSheet {
		e.ID = string(s.ID)
	}
	d.Edges = append(d.Edges, e)
	for _, o := range s.Openings {
		b := o.Outline.Bounds()
		d.Openings = append(d.Openings, drawing.PlanOpening{ID: string(o.ID), From: at(geometry.Point{X: b.Min.X}), To: at(geometry.Point{X: b.Max.X})})
	}
}

// keyPlan answers "where am I": the room, or one wall of it, marked on its storey.
func (a *assembler) keyPlan(room *job.Room, s *surface.Surface) Drawing {
	d := drawing.KeyPlan{Words: a.words(), Title: room.Storey.Name, Rooms: near(a.planRooms(room.Storey), string(room.ID)), Here: string(room.ID)}
	id := "key-" + string(room.ID)
	if s != nil && s.PlanEdge > 0 {
		box := s.Outline.Bounds()
		from, to := millimetres(s.Frame.Space(geometry.Point{X: box.Min.X})), millimetres(s.Frame.Space(geometry.Point{X: box.Max.X}))
		d.From, d.To = drawing.XY{X: from.X, Y: from.Y}, drawing.XY{X: to.X, Y: to.Y}
		id = "key-" + string(s.ID)
	}
	return Drawing{SVG: svg.Render(anchor(id), d), Title: a.say("Where %s lies", string(room.ID))}
}

// mostKeyRooms is how many rooms a key plan can show and still be read.
const mostKeyRooms = 24

// near keeps the rooms around one where a storey has too many for a key plan.
func near(rooms []drawing.PlanRoom, here string) []drawing.PlanRoom {
	if len(rooms) <= mostKeyRooms {
		return rooms
	}
	at := func(r drawing.PlanRoom) drawing.XY {
		if len(r.Outline) == 0 {
			return drawing.XY{}
		}
		return r.Outline[0]
	}
	var centre drawing.XY
	for _, r := range rooms {
		if r.ID == here {
			centre = at(r)
		}
	}
	distance := func(r drawing.PlanRoom) float64 { return math.Hypot(at(r).X-centre.X, at(r).Y-centre.Y) }
	rooms = slices.Clone(rooms)
	sorting.StableFunc(rooms, func(x, y drawing.PlanRoom) int { return cmp.Compare(distance(x), distance(y)) })
	return rooms[:mostKeyRooms]
}

// section is a statement's drawing, its figures filled in with the job's own settings.
func (a *assembler) section(s *library.Statement, env *library.Env) *Drawing {
	if s.Section == nil {
		return nil
	}
	env = library.ForDrawing(env)
	filled := *s.Section
	filled.Frames = nil
	for _, f := range s.Section.Frames {
		parts := append([]drawing.Part(nil), f.Parts...)
		for i := range parts {
			parts[i].Text = a.expand(parts[i].Text, env)
		}
		f.Parts = parts
		filled.Frames = append(filled.Frames, f)
	}
	return &Drawing{SVG: svg.Render(anchor("method-"+string(s.ID)), filled.In(a.words())), Title: filled.Title,
		Caption: a.say("Numbers are the steps. Thin layers are drawn thicker than they are.")}
}

// expand fills the figures of a plain text.
func (a *assembler) expand(text string, env *library.Env) string {
	if !strings.Contains(text, "{=") {
		return text
	}
	var quiet diag.List // compiled once already when the library was loaded
	out, err := a.Library.Figures(text, &quiet).Expand(env, func(x float64) string { return a.format.Number(x, 0) })
	if err != nil {
		a.fail(fmt.Errorf("%q: %w", text, err))
	}
	return out
}
