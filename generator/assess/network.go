package assess

import (
	"maps"
	"slices"

	"lapwork/generator/calc/programme"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// network is the activity table over the scopes of a job.
type network struct {
	Context
	lib    *library.Library
	crews  map[string]int
	scopes map[string][]Scope // by the words of the activity table
	effort func(*library.Activity, Scope) effort
	stated func(*library.Activity, Scope) *job.TradeTime // nil: no trade states its times

	steps  []*Step // in table order, then in the order of the scopes
	byID   map[string]*Step
	of     map[string][]*Step         // by activity
	in     map[stepsIn][]*Step        // the same by room, in their order
	ranks  map[*job.Room]int          // places of the rooms in the working order
	later  map[string]map[string]bool // activities that must be finished before one
	links  map[[2]*Step]int           // where in After of the second its link to the first stands
	cures  []Cure
	cureAt map[curedIn]int // where in cures what is placed in a step stands
}

// stepsIn is an activity in a room.
type stepsIn struct {
	activity string
	room     *job.Room
}

// effort is the work of an activity in a scope.
type effort struct {
	places   []*Place
	minutes  Range
	known    bool
	concerns bool
}

// scopes lists the rooms with a layer, their storeys, the test zones and the job.
func (r *Results) scopes() map[string][]Scope {
	var rooms []*job.Room
	out := map[string][]Scope{}
	for _, room := range r.Job.Rooms {
		if r.HasLayer(room.ID) {
			rooms = append(rooms, room)
			out["room"] = append(out["room"], Scope{"room", string(room.ID), string(room.ID) + " " + room.Name, []*job.Room{room}})
		}
	}
	for _, st := range r.Job.Storeys {
		s := Scope{Kind: "storey", ID: StoreyScope(st.ID), Name: st.Name}
		for _, room := range rooms {
			if room.Storey == st {
				s.Rooms = append(s.Rooms, room)
			}
		}
		if len(s.Rooms) > 0 {
			out["storey"] = append(out["storey"], s)
		}
	}
	out["zone"] = r.zones(r.Job.Zones, rooms)
	if len(rooms) > 0 {
		out["job"] = []Scope{{Kind: "job", Name: r.say("the job"), Rooms: rooms}}
	}
	return out
}

// Zones gives the test zones of the job, each with its rooms.
func (r *Results) Zones() []Scope { return r.scopes()["zone"] }

// zones gives the test zones: the whole dwelling where the job states none. Rooms that stand in no stated zone make one
// of their own, so that no room goes without a test.
func (c Context) zones(stated []job.TestZone, rooms []*job.Room) []Scope {
	left := slices.Clone(rooms)
	var out []Scope
	for _, z := range stated {
		s := Scope{Kind: "zone", ID: "Z" + z.ID, Name: z.Name}
		if s.Name == "" {
			s.Name = c.say("zone %s", z.ID)
		}
		for _, room := range rooms {
			if len(z.Rooms) == 0 || slices.Contains(z.Rooms, room.ID) {
				s.Rooms = append(s.Rooms, room)
				left = slices.DeleteFunc(left, func(x *job.Room) bool { return x == room })
			}
		}
		if len(s.Rooms) > 0 {
			out = append(out, s)
		}
	}
	if len(left) > 0 {
		name := c.say("whole dwelling")
		if len(out) > 0 {
			name = c.say("rooms outside the stated zones")
		}
		out = append(out, Scope{"zone", "Z", name, left})
	}
	return out
}

// build makes the steps and links them.
func (n *network) build() {
	n.byID, n.of, n.in = map[string]*Step{}, map[string][]*Step{}, map[stepsIn][]*Step{}
	n.links, n.cureAt = map[[2]*Step]int{}, map[curedIn]int{}
	for _, a := range n.lib.Activities.All() {
		for _, s := range n.scopes[a.Scope] {
			e := n.effort(a, s)
			step := &Step{ID: a.ID, Activity: a, Scope: s, Places: e.places, Minutes: e.minutes, Known: e.known, Concerns: e.concerns}
			if n.stated != nil {
				if step.Stated = n.stated(a, s); step.Stated != nil {
					step.Known = true
				}
			}
			if s.ID != "" {
				step.ID += "@" + s.ID
			}
			n.steps = append(n.steps, step)
			n.byID[step.ID] = step
			n.of[a.ID] = append(n.of[a.ID], step)
			for _, room := range s.Rooms {
				n.in[stepsIn{a.ID, room}] = append(n.in[stepsIn{a.ID, room}], step)
			}
		}
	}
	n.ranks = map[*job.Room]int{}
	for i, room := range n.scopes["room"] {
		n.ranks[room.Rooms[0]] = i
	}
	n.order()
	for _, s := range n.steps {
		for _, before := range s.Activity.After {
			for _, from := range n.meeting(before, s.Scope.Rooms) {
				if wait, why := from.drying(); wait > 0 {
					n.linkAll([]*Step{from}, []*Step{s}, wait, why)
				} else {
					n.linkAll([]*Step{from}, []*Step{s}, 0, "")
				}
			}
		}
	}
	n.linkCures()
}

// meeting gives the steps of an activity that share a room with these: a storey waits for all its rooms, a room for
// itself and its storey.
func (n *network) meeting(activity string, rooms []*job.Room) []*Step {
	if len(rooms) == 1 {
		return n.in[stepsIn{activity, rooms[0]}]
	}
	meets := map[*Step]bool{}
	for _, room := range rooms {
		for _, s := range n.in[stepsIn{activity, room}] {
			meets[s] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(n.of[activity]), func(s *Step) bool { return !meets[s] })
}

// linkAll makes each of to wait for each of from; of two waits between the same steps the longer stands.
func (n *network) linkAll(from, to []*Step, wait q.Minutes, why string) {
	for _, t := range to {
		for _, f := range from {
			if i, linked := n.links[[2]*Step{f, t}]; !linked {
				n.links[[2]*Step{f, t}] = len(t.After)
				t.After = append(t.After, StepLink{f, wait, why})
			} else if wait > t.After[i].Wait {
				t.After[i].Wait, t.After[i].For = wait, why
			}
		}
	}
}

// order finds which activities come before which.
func (n *network) order() {
	n.later = map[string]map[string]bool{}
	for _, a := range n.lib.Activities.All() {
		seen := map[string]bool{}
		n.collect(a, seen)
		n.later[a.ID] = seen
	}
}

func (n *network) collect(a *library.Activity, seen map[string]bool) {
	for _, id := range a.After {
		if before := n.lib.Activities.Find(id); before != nil && !seen[id] {
			seen[id] = true
			n.collect(before, seen)
		}
	}
}

// follows reports whether the table puts one activity after another, directly or not.
func (n *network) follows(activity, before string) bool { return n.later[activity][before] }

// schedule computes the programme with one of the three times of each step, the rooms in order or all at once. It changes
// nothing, so that several can be computed side by side.
func (n *network) schedule(cal programme.Calendar, time func(Range) q.Minutes, inOrder bool) (programme.Plan, error) {
	acts := make([]programme.Activity, 0, len(n.steps))
	for _, s := range n.steps {
		d := n.duration(s)
		a := programme.Activity{ID: s.ID, Duration: time(d), Low: d.Low, High: d.High, Needs: n.needs(s.Activity), Whole: isTest(s.Activity), Alone: n.alone(s.Activity),
			After: make([]programme.Link, 0, len(s.After))}
		if inOrder {
			a.Rank = n.rank(s.Scope)
		}
		for _, l := range s.After {
			a.After = append(a.After, programme.Link{ID: l.From.ID, Lag: l.Wait})
		}
		acts = append(acts, a)
	}
	return programme.Schedule(acts, n.crews, cal)
}

// isTest reports whether a tester leads an activity: a fan test, which is not left over night.
func isTest(a *library.Activity) bool { return len(a.Crew) > 0 && a.Crew[0].Role == "tester" }

// pairs are the activities that take both of a pair at once: overhead, or one at the hose (common practice, no source).
var pairs = []string{"hang-ceilings", "battens", "loose-fill"}

// alone reports whether one fitter may do what the table gives to two, while the other is busy elsewhere.
func (n *network) alone(a *library.Activity) bool {
	return len(a.Crew) == 1 && a.Crew[0].Role == "fitter" && !slices.Contains(pairs, a.ID)
}

// rank is the place of a scope's last room in the working order that the job lists its rooms in.
func (n *network) rank(s Scope) int {
	last := 0
	for _, room := range s.Rooms {
		last = max(last, n.ranks[room])
	}
	return last
}

// placed writes the plan into the steps and gives them in order of their start.
func (n *network) placed(plan programme.Plan) []*Step {
	critical := map[string]bool{}
	for _, id := range plan.Critical {
		critical[id] = true
	}
	var out []*Step
	for _, slot := range plan.Slots {
		s := n.byID[slot.ID]
		s.Slot, s.Critical = slot, critical[slot.ID]
		s.SetBy = n.byID[slot.SetBy]
		if slot.SetBy == programme.SetByCrew {
			s.SetBy = n.byID[slot.FreedBy]
		}
		for _, l := range s.After {
			if l.From == s.SetBy && slot.Lag > 0 {
				s.SetFor = l.For
			}
		}
		out = append(out, s)
	}
	return out
}

// crewsOf is how many persons of each role there are: the firm's fitters, two of the other trades, one of each other
// role (common practice, no source).
func crewsOf(j *job.Job) map[string]int {
	out := map[string]int{}
	for _, role := range job.Roles {
		out[role] = 1
	}
	out["other-trade"], out["fitter"] = 2, 2
	if j.Firm.Crew > 0 {
		out["fitter"] = j.Firm.Crew
	}
	return out
}

// needs gives the persons an activity takes. A lone fitter does alone what two would do; another trade comes with all of
// its people when the activity is its own.
func (n *network) needs(a *library.Activity) []programme.Need {
	sizes := map[string]int{}
	for _, m := range a.Crew {
		sizes[m.Role] = min(sizes[m.Role]+m.Count, n.crews[m.Role])
	}
	if len(a.Crew) == 1 && a.Crew[0].Role == "other-trade" {
		sizes["other-trade"] = n.crews["other-trade"]
	}
	var out []programme.Need
	for _, role := range slices.Sorted(maps.Keys(sizes)) {
		out = append(out, programme.Need{Crew: role, Size: sizes[role]})
	}
	return out
}

// lone is how much longer one person takes for what two hold up together, over the time two need (common practice, no
// source).
const lone = 2.2

// duration is the time a step takes: the fitters' part, and what another trade states for its own.
func (n *network) duration(s *Step) Range {
	d := n.ownDuration(s)
	if s.Stated != nil && s.Concerns {
		d = d.Plus(onSite(s.Stated))
	}
	return d
}

// ownDuration is a step's person-minutes over the persons of the role that leads it; the others stand by.
func (n *network) ownDuration(s *Step) Range {
	if len(s.Activity.Crew) == 0 {
		return s.Minutes
	}
	lead := s.Activity.Crew[0].Role
	for _, need := range n.needs(s.Activity) {
		if need.Crew == lead && need.Size > 0 {
			d := s.Minutes.Times(1 / float64(need.Size))
			if lead == "fitter" && n.crews[lead] == 1 && (s.Activity.ID == "hang-ceilings" || s.Activity.ID == "battens") {
				return d.Times(lone / 2)
			}
			return d
		}
	}
	return s.Minutes
}
