package assess

import (
	"math"
	"strconv"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// effort sums an activity over the rooms of a scope: the labour of its junctions, what its formula says for each room,
// and what it says once.
func (r *Results) effort(a *library.Activity, s Scope) effort {
	var e effort
	for _, room := range s.Rooms {
		var here []*Place
		for _, p := range r.byRoom[room.ID] {
			if p.Answered() && p.Chosen.Activity == a.ID {
				here = append(here, p)
				e.minutes, e.known = e.minutes.Plus(p.Minutes), true
			}
		}
		e.places = append(e.places, here...)
		e.concerns = e.concerns || r.concerns(a, room, here)
	}
	for _, term := range strings.Split(a.Minutes, "+") {
		rooms := s.Rooms
		if _, err := strconv.ParseFloat(strings.TrimSpace(term), 64); err == nil {
			rooms = rooms[:min(1, len(rooms))] // once, not for each room
		}
		for _, room := range rooms {
			x, ok := r.work(strings.TrimSpace(term), room)
			e.minutes, e.known = e.minutes.Plus(Range{x, x, x}), e.known || ok
		}
	}
	if !e.concerns {
		e.minutes = Range{}
	}
	return e
}

// work evaluates one term of an activity's minutes in a room. Leaks and fill holes are not known before they are found
// and cut: three leaks a room before the test, one hole a bay (common practice, no source).
func (r *Results) work(term string, room *job.Room) (q.Minutes, bool) {
	factors := strings.Split(term, "*")
	for i, f := range factors {
		switch f {
		case "leaks_n":
			factors[i] = "3"
		case "fill_holes":
			factors[i] = strconv.Itoa(r.bays(room))
		}
	}
	return r.term(strings.Join(factors, "*"), room)
}

// bays counts the bays of a room's surfaces on which loose-fill rests.
func (r *Results) bays(room *job.Room) int {
	n := 0
	for _, s := range r.Model.Room(room).Surfaces {
		if s.CarriesSheet && s.Face.LooseFill && s.Face.Framing.Pitch > 0 {
			n += int(math.Ceil(float64(s.Outline.Bounds().Width()) / float64(s.Face.Framing.Pitch)))
		}
	}
	return n
}

// number writes a figure without needless decimals.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
