package assess

import (
	"math"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Share is what some rooms take of a job.
type Share struct {
	Layer, Sheet q.Area
	Minutes      Range // of fitting
}

// Plus adds two shares.
func (s Share) Plus(o Share) Share {
	return Share{s.Layer + o.Layer, s.Sheet + o.Sheet, s.Minutes.Plus(o.Minutes)}
}

// Like reports whether two shares are the same but for rounding: to the square centimetre and the second.
func (s Share) Like(o Share) bool {
	near := func(a, b, by float64) bool { return math.Abs(a-b) < by }
	return near(float64(s.Layer), float64(o.Layer), 1e-4) && near(float64(s.Sheet), float64(o.Sheet), 1e-4) &&
		near(float64(s.Minutes.Likely), float64(o.Minutes.Likely), 1.0/60)
}

// ShareOf sums rooms.
func (r *Results) ShareOf(rooms []job.RoomID) Share {
	in := map[job.RoomID]bool{}
	for _, id := range rooms {
		in[id] = true
	}
	var out Share
	for _, room := range r.Job.Rooms {
		if !in[room.ID] || !r.HasLayer(room.ID) {
			continue
		}
		out.Layer += r.LayerArea(room)
		for _, l := range r.LayoutsIn(room.ID) {
			out.Sheet += l.SheetUsed
		}
		for _, p := range r.PlacesIn(room.ID) {
			out.Minutes = out.Minutes.Plus(p.Minutes)
		}
	}
	return out
}
