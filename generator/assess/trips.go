package assess

import (
	"cmp"
	"slices"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// Trip is what is carried up in one go: whole packs and rolls of a delivery.
type Trip struct {
	Packs []Purchase // Packs of each line are those of this trip
	Mass  q.Mass     // of the packs whose weight is known
	Rooms []*job.Room
}

// parcel is one pack or roll of a delivery, and the room that needs it first.
type parcel struct {
	line Purchase
	room int // index among the delivery's rooms
}

// Limit is the most that the job lets a delivery carry up at once: its own, or the least of its storeys'; 0: none stated.
func (d *Delivery) Limit() q.Mass {
	if d.Load > 0 {
		return d.Load
	}
	return leastLoad(d)
}

// Trips parts a delivery that is heavier than its limit into trips, none heavier than the limit unless one pack alone is.
// Packs are taken in the order that the rooms need them, for one room the heavy ones first, and each goes up in the first
// trip that has room for it: what is needed first is there first, and what is left of a trip is filled. Nil where everything
// goes up at once or no limit is stated. A pack whose weight nobody knows weighs nothing here.
func (r *Results) Trips(d *Delivery) []Trip {
	limit := d.Limit()
	if mass, _ := r.MassOf(d); limit == 0 || mass <= limit {
		return nil
	}
	var out []Trip
	for _, p := range r.parcels(d) {
		i := slices.IndexFunc(out, func(t Trip) bool { return t.Mass+p.line.PackMass <= limit })
		if i < 0 {
			i, out = len(out), append(out, Trip{})
		}
		out[i].add(p.line, d.Rooms[p.room])
	}
	return out
}

// add puts one pack into a trip.
func (t *Trip) add(p Purchase, room *job.Room) {
	t.Mass += p.PackMass
	if !slices.Contains(t.Rooms, room) {
		t.Rooms = append(t.Rooms, room)
	}
	i := slices.IndexFunc(t.Packs, func(o Purchase) bool { return o.Component == p.Component && o.Width == p.Width && o.Length == p.Length })
	if i < 0 {
		t.Packs = append(t.Packs, p)
		return
	}
	t.Packs[i].Packs += p.Packs
}

// parcels lists every pack of a delivery in the order that its rooms need them.
func (r *Results) parcels(d *Delivery) []parcel {
	index := map[job.RoomID]int{}
	for i, room := range d.Rooms {
		index[room.ID] = i
	}
	var out []parcel
	for _, s := range d.Sheets {
		lines := r.SheetPurchases(s)
		for _, roll := range s.Rolls {
			i := slices.IndexFunc(lines, func(p Purchase) bool { return !p.Leftover && p.Length == roll.Length })
			if roll.Leftover || i < 0 {
				continue
			}
			first := len(d.Rooms) - 1
			for _, c := range roll.Sequence() {
				first = min(first, index[c.Surface.Room.ID])
			}
			out = append(out, parcel{one(lines[i]), first})
		}
	}
	for _, it := range d.Items {
		need := make([]float64, len(d.Rooms))
		for _, l := range it.Lines {
			need[index[job.RoomID(l.Room)]] += l.Amount
		}
		line, room, sum := r.ItemPurchase(it), 0, need[0]
		if it.Packs == 0 { // bought as much as is needed
			out = append(out, parcel{line, max(0, slices.IndexFunc(need, func(x float64) bool { return x > 0 }))})
		}
		for n := range it.Packs { // pack n is opened by the room with which the need passes n full packs
			for sum <= float64(n)*it.PackSize && room < len(need)-1 {
				room++
				sum += need[room]
			}
			out = append(out, parcel{one(line), room})
		}
	}
	sorting.StableFunc(out, func(a, b parcel) int { return cmp.Or(a.room-b.room, cmp.Compare(b.line.PackMass, a.line.PackMass)) })
	return out
}

// one is a single pack of a line.
func one(p Purchase) Purchase {
	p.Packs = 1
	return p
}
