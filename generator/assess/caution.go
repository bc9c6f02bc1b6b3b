package assess

import (
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// Cautions says which cautions show where.
type Cautions struct {
	Room       map[job.RoomID][]library.CautionID
	Everywhere map[library.CautionID]bool // met in every room that carries the layer
	Place      map[string][]library.CautionID
	Job        []library.CautionID            // every caution of the job, in table order
	Why        map[library.CautionID][]string // rooms and places that trigger it
}

// cautions evaluates every caution over the facts of each room and each place.
func (r *Results) cautions() Cautions {
	out := Cautions{Room: map[job.RoomID][]library.CautionID{}, Place: map[string][]library.CautionID{},
		Why: map[library.CautionID][]string{}}
	shown := map[library.CautionID]bool{}
	cautionsFor := r.Library.CautionsOnce()
	for _, room := range r.Job.Rooms {
		if !r.HasLayer(room.ID) {
			continue
		}
		base := library.RoomFacts(r.Job, room)
		base.DropWidth, base.DropLength = r.longestDrop(room)
		inRoom := map[library.CautionID]bool{}
		for _, p := range r.byRoom[room.ID] {
			ids := cautionsFor(r.Library.RecordFacts(base, &p.Record, p.Chosen, r.reach(p)))
			out.Place[p.Record.ID] = ids
			for _, id := range ids {
				inRoom[id], shown[id] = true, true
				if why := out.Why[id]; len(why) == 0 || why[len(why)-1] != string(room.ID) {
					out.Why[id] = append(why, string(room.ID))
				}
			}
		}
		out.Room[room.ID] = r.ordered(inRoom)
	}
	for _, id := range r.Library.CautionsFor(r.testFacts()) {
		shown[id] = true
	}
	out.Job = r.ordered(shown)
	out.Everywhere = map[library.CautionID]bool{}
	for _, id := range out.Job {
		out.Everywhere[id] = len(out.Room) > 1 && len(out.Why[id]) == len(out.Room)
	}
	return out
}

// testFacts are the facts of the fan test: it meets the whole house.
func (r *Results) testFacts() library.CautionFacts {
	f := library.RoomFacts(r.Job, nil)
	f.FanTest = true
	return f
}

func (r *Results) ordered(set map[library.CautionID]bool) []library.CautionID {
	var out []library.CautionID
	for _, c := range r.Library.Cautions.All() {
		if set[c.ID] {
			out = append(out, c.ID)
		}
	}
	return out
}

// longestDrop gives the widest and longest piece of sheet handled in a room.
func (r *Results) longestDrop(room *job.Room) (width, length q.Length) {
	for _, l := range r.layouts[room.ID] {
		for _, c := range l.Cuts {
			width, length = max(width, c.Width.Metres()), max(length, c.Cut.Metres())
		}
	}
	return width, length
}

// reach is how high over the floor a place lies at most: the top of its surface.
func (r *Results) reach(p *Place) q.Length {
	if p.Record.A == nil {
		return 0
	}
	top := 0.0
	for _, at := range p.Record.A.Outline {
		top = max(top, p.Record.A.Frame.Space(at)[2])
	}
	floor := p.Record.Room.Storey.Level + p.Record.Room.FloorOffset
	return q.Length(top) - floor.Metres()
}

// AcceptText is a check's acceptance at a place, its figures filled in.
func (r *Results) AcceptText(c library.Check, p *Place) string {
	if !strings.Contains(c.Accept, "{=") {
		return c.Accept
	}
	var quiet diag.List // the checker has compiled every figure already
	figured := r.Library.Figures(c.Accept, &quiet)
	text, err := figured.Expand(p.Env, func(x float64) string { return q.English.Number(x, 0) })
	if err != nil {
		return figured.Words()
	}
	return text
}
