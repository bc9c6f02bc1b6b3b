package drawing

// StoreyPlan is the plan of one storey: rooms, the edges that carry the layer heavy, openings, junctions, penetrations.
type StoreyPlan struct {
	Title    string
	Rooms    []PlanRoom
	Edges    []PlanEdge
	Openings []PlanOpening
	Holes    []PlanHole
	Words    *Words
}

// PlanRoom is a room in plan. Note is a third line, such as "3 of 7 done".
type PlanRoom struct {
	ID, Name, Note string
	Outline        []XY
}

// PlanEdge is a piece of wall in plan.
type PlanEdge struct {
	From, To XY
	Carries  bool   // carries the layer: drawn heavy
	ID       string // surface or junction written at it; may be empty
}

// PlanOpening is an opening in plan, From-To on its wall.
type PlanOpening struct {
	ID       string
	From, To XY
}

// PlanHole is a penetration in plan.
type PlanHole struct {
	ID string // B2-P02
	At XY
}

// KeyPlan is the small plan that answers "where am I": one room, or one wall of it, is marked.
type KeyPlan struct {
	Title    string
	Rooms    []PlanRoom
	Here     string // id of the marked room
	From, To XY     // the marked wall; both zero: none
	Words    *Words
}
