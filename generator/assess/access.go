package assess

import (
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// access holds each delivery against the way up to its storeys: what is longer than gets round the stairs, and what is
// more than the storey's people want at once, with the loads that its rooms would make instead.
func (r *Results) access(found *diag.List) {
	for _, d := range r.Deliveries {
		for _, st := range storeysOf(d) {
			if st.Longest > 0 {
				r.tooLong(d, st, found)
			}
		}
		if limit := leastLoad(d); limit > 0 {
			if mass, _ := r.MassOf(d); mass > limit {
				found.Openf(storeysOf(d)[0].Pos, d.ID, "state deliveries of the rooms "+loadsText(r.Loads(d, limit)),
					"delivery %s weighs about %.0f kg; the storey takes %.0f kg at once", d.ID, float64(mass), float64(limit))
			}
		}
	}
}

func storeysOf(d *Delivery) []*job.Storey {
	var out []*job.Storey
	seen := map[*job.Storey]bool{}
	for _, room := range d.Rooms {
		if room.Storey != nil && !seen[room.Storey] {
			seen[room.Storey] = true
			out = append(out, room.Storey)
		}
	}
	return out
}

// leastLoad is the smallest limit of a delivery's storeys; 0: none states one.
func leastLoad(d *Delivery) q.Mass {
	var least q.Mass
	for _, st := range storeysOf(d) {
		if st.Load > 0 && (least == 0 || st.Load < least) {
			least = st.Load
		}
	}
	return least
}

// foldedFrom is the roll width from which sheet comes folded once (R-GEO-2, common practice, no source).
const foldedFrom q.MM = 2000

// tooLong reports packs that do not get up to a storey: rolls by their width, lengths of timber by their length.
func (r *Results) tooLong(d *Delivery, st *job.Storey, found *diag.List) {
	for _, p := range r.Purchases(d) {
		length := p.Width
		if length > foldedFrom {
			length /= 2
		}
		if c := r.Library.Components.Find(string(p.Component)); c != nil && c.Class == "timber" && c.Unit == "m" {
			length = q.MMOf(q.Length(p.PackSize))
		}
		if p.Packs > 0 && length > st.Longest {
			found.Openf(st.Pos, d.ID, "order it shorter, have it cut below, or agree another way in",
				"delivery %s: %s is %d mm long, only %d mm get up to %s", d.ID, p.Component, int(length), int(st.Longest), st.Name)
		}
	}
}

// Loads parts a delivery's rooms, in their order, into loads of at most this mass; a room that is heavier makes one of its
// own. It counts what the rooms need: whole packs of each load weigh somewhat more.
func (r *Results) Loads(d *Delivery, limit q.Mass) [][]*job.Room {
	mass := r.roomMasses(d)
	var out [][]*job.Room
	var sum q.Mass
	for _, room := range d.Rooms {
		m := mass[room.ID]
		if len(out) == 0 || sum+m > limit && sum > 0 {
			out, sum = append(out, nil), 0
		}
		out[len(out)-1] = append(out[len(out)-1], room)
		sum += m
	}
	return out
}

// roomMasses is what each room of a delivery needs of it.
func (r *Results) roomMasses(d *Delivery) map[job.RoomID]q.Mass {
	out := map[job.RoomID]q.Mass{}
	for _, s := range d.Sheets {
		for _, p := range s.Pieces {
			if m, ok := r.Library.MassOf(s.Component, float64(s.Width.Metres().Times(p.Cut.Metres()))); ok {
				out[p.Surface.Room.ID] += m
			}
		}
	}
	for _, it := range d.Items {
		for _, l := range it.Lines {
			if m, ok := r.Library.MassOf(job.ComponentID(it.Component), l.Amount); ok {
				out[job.RoomID(l.Room)] += m
			}
		}
	}
	return out
}

func loadsText(loads [][]*job.Room) string {
	var parts []string
	for _, load := range loads {
		var ids []string
		for _, room := range load {
			ids = append(ids, string(room.ID))
		}
		parts = append(parts, "["+strings.Join(ids, ", ")+"]")
	}
	return strings.Join(parts, " ")
}
