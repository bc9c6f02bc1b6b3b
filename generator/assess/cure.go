package assess

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/calc/programme"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// Use is what a wait must be over for.
type Use string

// What a wait ends with.
const (
	ForLoad  Use = "load or a fan test"
	ForCover Use = "cover"
	ForSeal  Use = "the seal on it"
)

// Cure is one component at places of one step that must be left alone for a time.
type Cure struct {
	Step      *Step // it is placed in
	Component *library.Component
	Places    []string
	Wait      q.Minutes // elapsed
	How       string    // how the wait is made up, where it is not one figure
	Use       Use
	Until     programme.Instant
}

// prepare is the activity in which smoothing mortar and primer are laid, ahead of the seals on them.
const prepare = "prepare"

// Covering are the activities that cover what lies under them.
var Covering = []string{"insulate", "hang-ceilings", "hang-walls", "battens", "loose-fill", "lining"}

// linkCures finds what must cure and makes the steps that load, cover or seal it wait. A wait never turns the table's
// order round: it is added only between activities of which the table puts one after the other.
func (n *network) linkCures() {
	for _, s := range n.steps {
		for _, room := range s.Scope.Rooms {
			n.roomCures(s, room)
		}
	}
	n.repairCure()
	for _, c := range n.cures {
		from, why := c.Step.Activity, []*Step{c.Step}
		for _, a := range n.lib.Activities.All() {
			if c.Use != ForSeal && n.follows(a.ID, from.ID) && (isTest(a) || c.Use == ForCover && slices.Contains(Covering, a.ID)) {
				n.linkAll(why, n.meeting(a.ID, c.Step.Scope.Rooms), c.Wait, c.Component.Name)
			}
		}
	}
}

// roomCures collects what a step places in one room by component, and its ground by the time it needs.
func (n *network) roomCures(s *Step, room *job.Room) {
	ground := map[q.Minutes]*Cure{}
	var waits []q.Minutes
	for _, p := range s.Places {
		if p.Record.Room != room {
			continue
		}
		for _, line := range p.Lines {
			if c := n.lib.Components.Find(line.Component); c != nil && c.Wait.Load > 0 && !isGround(c) {
				n.add(s, c, p.Record.ID)
			}
		}
		if g := n.ground(p); g.Wait > 0 {
			if ground[g.Wait] == nil {
				ground[g.Wait] = &g
				waits = append(waits, g.Wait)
			}
			ground[g.Wait].Places = append(ground[g.Wait].Places, p.Record.ID)
		}
	}
	slices.Sort(waits)
	for _, w := range waits {
		n.addGround(*ground[w], s, room)
	}
}

// isGround: primer and what becomes a substrate itself is laid before the seal, not with it.
func isGround(c *library.Component) bool { return c.Class == "primer" || c.Becomes != "" }

// add notes a component at a place. A coat that takes a second one is covered after both have dried.
func (n *network) add(s *Step, c *library.Component, place string) {
	i, known := n.cureAt[curedIn{step: s, component: c}]
	if !known {
		cure := Cure{Step: s, Component: c, Wait: elapsed(c.Wait.Load), Use: ForLoad}
		if c.Wait.Between > 0 {
			cure.Wait += elapsed(c.Wait.Between)
			cure.Use, cure.How = ForCover, n.say("%s between two coats and %s after the second", hours(c.Wait.Between), hours(c.Wait.Load))
		}
		i = n.addCure(cure, curedIn{step: s, component: c})
	}
	if !slices.Contains(n.cures[i].Places, place) {
		n.cures[i].Places = append(n.cures[i].Places, place)
	}
}

// curedIn is a component placed in a step; of ground also the wait, which differs with its thickness.
type curedIn struct {
	step      *Step
	component *library.Component
	ground    q.Minutes
}

// addCure adds a cure and gives its place in the list.
func (n *network) addCure(c Cure, at curedIn) int {
	n.cureAt[at] = len(n.cures)
	n.cures = append(n.cures, c)
	return len(n.cures) - 1
}

// ground is the wait under the seal of a place: mortar by its thickness, then primer. Under plaster tape alone mortar
// waits its hours once (R-PREP-3). Common practice, no source.
func (n *network) ground(p *Place) Cure {
	out := Cure{Use: ForSeal}
	var parts []string
	seals := n.seals(p)
	for _, line := range p.Lines {
		c := n.lib.Components.Find(line.Component)
		if c == nil || !isGround(c) || c.Wait.Load == 0 {
			continue
		}
		wait := c.Wait.Load
		text := c.Name + " " + hours(wait)
		if c.Wait.PerMM && !onlyPlasterTape(seals) {
			thick := levelThickness(p.Env)
			wait *= library.Hours(thick)
			text = n.say("%s %s mm at %s a millimetre", c.Name, number(thick), hours(c.Wait.Load))
		}
		if parts = append(parts, text); len(parts) > 1 {
			parts = []string{n.say("%s, then %s", parts[0], text)}
		}
		if out.Component == nil || out.Component.Wait.Load < c.Wait.Load {
			out.Component = c
		}
		out.Wait += elapsed(wait)
	}
	if out.Component != nil && out.Wait != elapsed(out.Component.Wait.Load) {
		out.How = strings.Join(parts, "")
	}
	return out
}

func (n *network) seals(p *Place) []library.Seal {
	var out []library.Seal
	for _, line := range p.Lines {
		if c := n.lib.Components.Find(line.Component); c != nil && c.Seal != "" {
			out = append(out, c.Seal)
		}
	}
	return out
}

func onlyPlasterTape(seals []library.Seal) bool {
	return len(seals) > 0 && !slices.ContainsFunc(seals, func(s library.Seal) bool { return s != library.SealPlaster })
}

// mortarDensity is dry mortar per area and thickness, kg/(m2·mm) (common practice, no source).
const mortarDensity = 1.5

// levelThickness is the mean thickness of a smoothing band in millimetres, from the setting for its mortar per area;
// 6 mm at the usual 9 kg/m2 (R-PREP-3).
func levelThickness(env *library.Env) float64 {
	if env.LevelKgM2 <= 0 {
		return 6
	}
	return env.LevelKgM2 / mortarDensity
}

// addGround makes the step wait for the ground laid in the room's preparation.
func (n *network) addGround(c Cure, s *Step, room *job.Room) {
	rooms := []*job.Room{room}
	from := n.meeting(prepare, rooms)
	if s.Activity.ID == prepare || n.follows(prepare, s.Activity.ID) {
		return
	}
	n.linkAll(from, []*Step{s}, c.Wait, c.Component.Name)
	for _, f := range from {
		at := curedIn{f, c.Component, c.Wait}
		if i, known := n.cureAt[at]; known {
			n.cures[i].Places = append(slices.Clip(n.cures[i].Places), c.Places...)
			continue
		}
		c.Step = f
		n.addCure(c, at)
	}
}

// repairCure is the tape of repairs: which places they are nobody knows before the test. The longest wait of the job's
// tapes stands for it.
func (n *network) repairCure() {
	var tape *library.Component
	for _, c := range n.cures {
		if c.Component.Class == "tape" && (tape == nil || c.Component.Wait.Load > tape.Wait.Load) {
			tape = c.Component
		}
	}
	if tape == nil {
		return
	}
	for _, s := range n.of["repair"] {
		n.cures = append(n.cures, Cure{Step: s, Component: tape, Wait: elapsed(tape.Wait.Load), Use: ForLoad})
	}
}

// cured gives every wait with its end, in the order of the ends.
func (n *network) cured() []Cure {
	out := slices.Clone(n.cures)
	for i := range out {
		out[i].Until = out[i].Step.Slot.Finish + programme.Instant(out[i].Wait)
	}
	sorting.StableFunc(out, func(a, b Cure) int {
		return cmp.Or(cmp.Compare(a.Until, b.Until), strings.Compare(a.Step.ID, b.Step.ID))
	})
	return out
}

func elapsed(h library.Hours) q.Minutes { return q.Minutes(h * 60) }

func hours(h library.Hours) string { return number(float64(h)) + " h" }
