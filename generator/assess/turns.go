package assess

import (
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// turnsOf gives, for each surface of a room, the sheet turned over each side of its outline: the turn and the fold that
// the statement of the edge's junction asks. Where several edges share a side the largest counts.
func (c Context) turnsOf(room *surface.RoomShape, byID map[string]*Place) map[*surface.Surface]map[int]q.MM {
	out := map[*surface.Surface]map[int]q.MM{}
	put := func(s *surface.Surface, side int, turn q.MM) {
		if out[s] == nil {
			out[s] = map[int]q.MM{}
		}
		out[s][side] = max(out[s][side], turn)
	}
	for _, e := range room.Edges {
		p := byID[e.ID]
		put(e.A, e.SideA, c.edgeTurn(p, e.A, e.B))
		if e.B != nil {
			put(e.B, e.SideB, c.edgeTurn(p, e.B, e.A))
		}
	}
	return out
}

// edgeTurn is the sheet of s that goes over its edge to other: the junction's turn, 100 mm where a ceiling or slope comes
// down a wall, and the fold where the junction has one.
func (c Context) edgeTurn(p *Place, s, other *surface.Surface) q.MM {
	if p == nil {
		return 0 // neither side carries the layer
	}
	turn := c.setting("turn_mm", s)
	if p.Answered() {
		rule := p.Chosen.Turn
		turn = c.turn(rule.Turn, s)
		if rule.CeilingDown && over(s) && other != nil && !over(other) {
			turn = ceilingDown
		}
		if rule.Fold {
			turn += c.setting("fold_mm", s)
		}
	}
	return turn
}

// over reports whether a surface is a ceiling or a slope.
func over(s *surface.Surface) bool { return s.Role == surface.Ceiling || s.Role == surface.Slope }

// isSheet reports whether a component is what the job hangs as its sheet.
func (c Context) isSheet(id job.ComponentID) bool {
	return id == c.component("sheet-main")
}
