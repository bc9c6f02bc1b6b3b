package assess

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// Stage is one activity of a room with what is done in it.
type Stage struct {
	Activity *library.Activity
	Places   []*Place
	Minutes  Range         // of the junctions installed in it, plus its own fixed part
	Known    bool          // false: another trade's work, no figure
	Wait     library.Hours // the longest wait any component placed in it asks before load
	WaitFor  string        // that component's name
}

// stages lists the activities of a room in working order. An activity without work of its own stays when it carries a
// hold or checks, so that holds never vanish.
func (r *Results) stages(room *job.Room) []Stage {
	by := map[string][]*Place{}
	for _, p := range r.byRoom[room.ID] {
		if p.Answered() {
			by[p.Chosen.Activity] = append(by[p.Chosen.Activity], p)
		}
	}
	var out []Stage
	for _, a := range r.Library.Activities.All() {
		if a.Scope != "room" && len(by[a.ID]) == 0 || !r.concerns(a, room, by[a.ID]) {
			continue
		}
		s := Stage{Activity: a, Places: by[a.ID]}
		s.Minutes, s.Known = r.minutes(a, room, s.Places)
		s.Wait, s.WaitFor = r.wait(s.Places)
		out = append(out, s)
	}
	return out
}

// concerns reports whether an activity stands in a room's plan: the conditions of the activity table's only_if.
func (r *Results) concerns(a *library.Activity, room *job.Room, places []*Place) bool {
	switch a.ID {
	case "strip-out":
		return r.Job.State.Retrofit
	case "plaster":
		return r.has(room, func(f *job.Face) bool { return f.Layer == job.Plaster })
	case "insulate", "insulation-release": // behind the layer; plaster has none to hide
		return r.has(room, func(f *job.Face) bool { return f.Layer == job.Sheet || f.Layer == job.Board })
	case "loose-fill":
		return r.has(room, func(f *job.Face) bool { return f.LooseFill })
	case "services":
		return r.has(room, func(f *job.Face) bool { return f.Cavity > 0 })
	}
	return a.Minutes != "labour" || len(places) > 0
}

func (r *Results) has(room *job.Room, is func(*job.Face) bool) bool {
	shape := r.Model.Room(room)
	for _, s := range shape.Surfaces {
		if s.AirBoundary && is(s.Face) {
			return true
		}
	}
	return false
}

// minutes is an activity's person-minutes in a room: its junctions' labour plus the fixed part of the activity table.
func (r *Results) minutes(a *library.Activity, room *job.Room, places []*Place) (Range, bool) {
	var sum Range
	known := false
	for _, p := range places {
		sum, known = sum.Plus(p.Minutes), true
	}
	for _, term := range strings.Split(a.Minutes, "+") {
		x, ok := r.work(strings.TrimSpace(term), room)
		known = known || ok
		sum = sum.Plus(Range{x, x, x})
	}
	return sum, known
}

// term evaluates one term of an activity's minutes: a number, a variable, or their product.
func (r *Results) term(text string, room *job.Room) (q.Minutes, bool) {
	if text == "labour" || text == "trade" {
		return 0, false
	}
	product := 1.0
	for _, factor := range strings.Split(text, "*") {
		var x float64
		if _, err := fmt.Sscanf(factor, "%g", &x); err != nil {
			x = r.planVariable(factor, room)
		}
		product *= x
	}
	return q.Minutes(product), true
}

// planVariable gives the variables of the activity table. Common practice, no source.
func (r *Results) planVariable(name string, room *job.Room) float64 {
	shape := r.Model.Room(room)
	switch name {
	case "room_setup_min":
		return 30
	case "moisture_points":
		return r.moisturePoints(room)
	case "penetrations":
		n := 0
		for _, s := range shape.Surfaces {
			n += len(s.Penetrations)
		}
		return float64(n)
	case "prep_m":
		var sum q.Length
		for _, p := range r.byRoom[room.ID] {
			if p.Answered() && p.Chosen.Activity == "abutments" {
				sum += p.Record.Length
			}
		}
		return float64(sum)
	case "area_total":
		return float64(r.LayerArea(room))
	}
	return 0
}

// moisturePoints: one reading per 5 m of wall, three at least, and one per joist end.
func (r *Results) moisturePoints(room *job.Room) float64 {
	var wall q.MM
	ends := 0
	for _, s := range r.Model.Room(room).Surfaces {
		if s.CarriesSheet && !over(s) {
			wall += s.Outline.Bounds().Width()
		}
		for _, m := range s.Members {
			if m.Item == "joist" {
				ends += max(1, m.Count)
			}
		}
	}
	return float64(max(3, int((wall+4999)/5000)) + ends)
}

// LayerArea is the net area of a room's surfaces that carry the layer.
func (r *Results) LayerArea(room *job.Room) q.Area {
	var sum q.Area
	for _, s := range r.Model.Room(room).Surfaces {
		if s.CarriesSheet {
			sum += s.Net
		}
	}
	return sum
}

// wait gives the longest wait before load that any component placed asks.
func (r *Results) wait(places []*Place) (library.Hours, string) {
	var longest library.Hours
	name := ""
	for _, p := range places {
		for _, line := range p.Lines {
			c := r.Library.Components.Find(line.Component)
			if c != nil && c.Wait.Load > longest {
				longest, name = c.Wait.Load, c.Name
			}
		}
	}
	return longest, name
}

// several writes a list of ids, cut after eight.
func several(ids []string) string {
	ids = slices.Clone(ids)
	if n := len(ids); n > 8 {
		return strings.Join(ids[:8], ", ") + fmt.Sprintf(" and %d more", n-8)
	}
	return strings.Join(ids, ", ")
}
