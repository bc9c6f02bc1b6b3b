package assess

import (
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// Planned is what the plan gives for the places of one statement in a room.
type Planned struct {
	Places  int
	Minutes q.Minutes // person-minutes
}

// PlannedFor gives the places of a statement in a room with their planned time. Nobody uses it there: no places.
func (r *Results) PlannedFor(room job.RoomID, statement library.StatementID) Planned {
	var out Planned
	for _, p := range r.byRoom[room] {
		if p.Answered() && p.Chosen.Statement.ID == statement {
			out.Places++
			out.Minutes += p.Minutes.Likely
		}
	}
	return out
}

// Of is the plan for some of the places: their share, since a time is stated for so many of them and not for which. Of none
// or more than there are it is all.
func (p Planned) Of(places int) Planned {
	if places <= 0 || places >= p.Places {
		return p
	}
	return Planned{places, p.Minutes * q.Minutes(places) / q.Minutes(p.Places)}
}
