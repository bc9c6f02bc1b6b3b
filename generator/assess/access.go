package assess

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// access holds each delivery against the way up to its storeys: what is longer than gets round the stairs, what is more than
// goes up at once, with the number of loads it makes instead, and single packs that are too heavy for any.
func (r *Results) access(found *diag.List) {
	for _, d := range r.Deliveries {
		for _, st := range storeysOf(d) {
			if st.Longest > 0 {
				r.tooLong(d, st, found)
			}
		}
		r.tooHeavy(d, found)
	}
}

// tooHeavy says in how many loads a delivery goes up, and reports a pack that is too heavy for any.
func (r *Results) tooHeavy(d *Delivery, found *diag.List) {
	limit, trips := d.Limit(), r.Trips(d)
	if len(trips) == 0 || len(d.Rooms) == 0 {
		return
	}
	pos := d.Rooms[0].Pos
	if storeys := storeysOf(d); len(storeys) > 0 {
		pos = storeys[0].Pos
	}
	mass, _ := r.MassOf(d)
	found.Notef(pos, d.Called(), "delivery %s weighs about %.0f kg; %.0f kg go up at once: it makes %d loads", d.Called(), float64(mass), float64(limit), len(trips))
	told := map[job.ComponentID]bool{}
	for _, p := range r.Purchases(d) {
		if p.Packs > 0 && p.PackMass > limit && !told[p.Component] {
			told[p.Component] = true
			found.Openf(pos, d.Called(), "order smaller packs, or agree another way up", "delivery %s: one pack of %s weighs about %.0f kg, and only %.0f kg go up at once",
				d.Called(), p.Component, float64(p.PackMass), float64(limit))
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
			found.Openf(st.Pos, d.Called(), "order it shorter, have it cut below, or agree another way in",
				"delivery %s: %s is %d mm long, only %d mm get up to %s", d.Called(), p.Component, int(length), int(st.Longest), st.Name)
		}
	}
}
