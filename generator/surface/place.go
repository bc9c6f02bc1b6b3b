package surface

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// place puts a room's openings, penetrations and members on their surfaces.
func (shape *RoomShape) place(found *diag.List) {
	p := placer{shape: shape, room: shape.Room, found: found}
	for _, o := range shape.Room.Openings {
		p.opening(o)
	}
	for _, x := range shape.Room.Penetrations {
		p.penetration(x)
	}
	for _, x := range shape.Room.Members {
		p.member(x)
	}
}

type placer struct {
	shape *RoomShape
	room  *job.Room
	found *diag.List
}

func (p placer) fault(pos diag.Pos, item, hint, format string, args ...any) {
	p.found.Add(diag.Finding{Level: diag.Fault, Pos: orPos(pos, p.room.Pos), Item: item, Hint: hint, Msg: fmt.Sprintf(format, args...)})
}

// find gives the piece of the named surface that the point lies on, else its first piece.
func (p placer) find(text string, at geometry.Point, pos diag.Pos, item string) *Surface {
	pieces, err := p.shape.pieces(text)
	if err != nil {
		if p.failedDormer(text) {
			return nil
		}
		hint := ""
		if u := (*UnknownSurface)(nil); errors.As(err, &u) {
			hint = u.Hint
		}
		p.fault(pos, item, hint, "%s: %v", item, err)
		return nil
	}
	for _, s := range pieces {
		if s.Region().Contains(at, 1) {
			return s
		}
	}
	return pieces[0]
}

// failedDormer says whether a text names a dormer that the room states and that does not stand: its own finding tells.
func (p placer) failedDormer(text string) bool {
	var no int
	if _, err := fmt.Sscanf(strings.ToLower(text), "dormer %d ", &no); err != nil || no < 1 || no > len(p.room.Dormers) {
		return false
	}
	return !slices.ContainsFunc(p.shape.Surfaces, func(s *Surface) bool { return s.Dormer == p.room.Dormers[no-1] })
}

func (p placer) opening(o *job.Opening) {
	id := string(o.ID)
	if o.Width <= 0 || o.Height <= 0 {
		p.fault(o.Pos, id, "state its width and height", "opening %s is %d x %d mm", id, o.Width, o.Height)
		return
	}
	s := p.find(o.Surface, geometry.Point{X: o.X + o.Width/2, Y: o.Y + o.Height/2}, o.Pos, id)
	if s == nil {
		return
	}
	outline := geometry.Rect(o.X, o.Y, o.Width, o.Height)
	// a millimetre over the border is rounding, not an error
	if in := geometry.Rect(o.X+1, o.Y+1, o.Width-2, o.Height-2); o.Width > 2 && o.Height > 2 && !s.Region().Holds(in) {
		p.fault(o.Pos, id, reachHint(outline, s.Outline), "opening %s reaches outside %s (%s)", id, s.ID, s.Name)
		return
	}
	for _, other := range s.Openings {
		if outline.Bounds().Overlaps(other.Outline.Bounds()) {
			p.found.Add(diag.Finding{Level: diag.Fault, Pos: orPos(o.Pos, p.room.Pos), Item: id, See: []diag.Pos{other.Pos},
				Msg: fmt.Sprintf("openings %s and %s on %s overlap", other.ID, id, s.ID), Hint: "check x, y, width and height of both"})
			return
		}
	}
	s.Openings = append(s.Openings, Opening{Opening: o, Outline: outline})
	s.Net -= outline.Area()
}

func (p placer) penetration(x *job.Penetration) {
	id, at := string(x.ID), geometry.Point{X: x.X, Y: x.Y}
	s := p.find(x.Surface, at, x.Pos, id)
	if s == nil {
		return
	}
	if !s.Region().Contains(at, 1) {
		p.fault(x.Pos, id, "x and y count from the surface's lower left; it "+spans(s.Outline), "penetration %s at (%d, %d) mm lies outside %s (%s)", id, x.X, x.Y, s.ID, s.Name)
		return
	}
	for _, o := range s.Openings {
		b := o.Outline.Bounds()
		if at.X > b.Min.X && at.X < b.Max.X && at.Y > b.Min.Y && at.Y < b.Max.Y {
			p.found.Add(diag.Finding{Level: diag.Fault, Pos: orPos(x.Pos, p.room.Pos), Item: id, See: []diag.Pos{o.Pos},
				Msg: fmt.Sprintf("penetration %s lies inside opening %s", id, o.ID), Hint: "check x and y of both"})
			return
		}
	}
	s.Penetrations = append(s.Penetrations, Penetration{Penetration: x, At: at})
}

func (p placer) member(x *job.Member) {
	id, from := string(x.ID), geometry.Point{X: x.X, Y: x.Y}
	to := geometry.Point{X: x.X + x.Length, Y: x.Y}
	if x.Upright {
		to = geometry.Point{X: x.X, Y: x.Y + x.Length}
	}
	middle := geometry.Point{X: (from.X + to.X) / 2, Y: (from.Y + to.Y) / 2}
	s := p.find(x.Surface, middle, x.Pos, id)
	if s == nil {
		return
	}
	for _, end := range []geometry.Point{from, to} {
		if !s.Region().Contains(end, 1) {
			p.fault(x.Pos, id, "check x, y, length and direction; the surface "+spans(s.Outline),
				"member %s reaches (%d, %d) mm, outside %s (%s)", id, end.X, end.Y, s.ID, s.Name)
			return
		}
	}
	s.Members = append(s.Members, Member{Member: x, From: from, To: to})
}

// reachHint says where an opening leaves a surface. Under a slope the surface's greatest height says nothing: what counts is
// how high it reaches at the opening's sides.
func reachHint(opening, surface geometry.Polygon) string {
	for _, c := range []geometry.Point{opening[2], opening[3]} {
		if top, ok := highest(surface, c.X); ok && float64(c.Y) > top+1 && top < float64(surface.Bounds().Max.Y)-1 {
			return fmt.Sprintf("at x %d mm it reaches up to y %d mm, the surface to %.0f mm: lower it, or move it to where the surface is higher", c.X, c.Y, top)
		}
	}
	return "it " + spans(opening) + "; the surface " + spans(surface)
}

// highest is how far up an outline reaches over x; false where it does not reach over x at all.
func highest(p geometry.Polygon, x q.MM) (top float64, ok bool) {
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if a.X > b.X {
			a, b = b, a
		}
		if x < a.X || x > b.X {
			continue
		}
		y := float64(max(a.Y, b.Y))
		if a.X < b.X {
			y = float64(a.Y) + float64(b.Y-a.Y)*float64(x-a.X)/float64(b.X-a.X)
		}
		if !ok || y > top {
			top, ok = y, true
		}
	}
	return top, ok
}

// spans says in words how far an outline reaches.
func spans(p geometry.Polygon) string {
	b := p.Bounds()
	return fmt.Sprintf("spans x %d to %d, y %d to %d mm", b.Min.X, b.Max.X, b.Min.Y, b.Max.Y)
}

// lengthHint offers the sill that fits the depth and the depth that fits the sill.
func lengthHint(sill q.MM, depth float64) string {
	if depth < 0 {
		return fmt.Sprintf("set the sill to %d mm", sill)
	}
	return fmt.Sprintf("set the sill to %d mm, or the depth to %.0f mm", sill, depth)
}
