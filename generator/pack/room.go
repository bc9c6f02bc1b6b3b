package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// roomPages gives each room with something to do its page, in working order, and behind it those of its later phases.
func (a *assembler) roomPages() []Page {
	var rooms []*job.Room
	for _, st := range a.Job.Storeys {
		rooms = append(rooms, a.layerRooms(st)...)
	}
	out := slices.Concat(parallel.Map(len(rooms), func(i int) []Page { return a.pagesOf(rooms[i]) })...)
	for i := range out[:max(0, len(out)-1)] {
		out[i].Next = &Link{Text: out[i+1].Title, Path: out[i+1].Path}
	}
	return out
}

// room is the page that a room begins with, without its work: where it is and its lists.
func (a *assembler) room(room *job.Room) *Room {
	shape := a.Model.Room(room)
	v := &Room{ID: string(room.ID), Name: room.Name, Storey: room.Storey.Name, Key: a.keyPlan(room, nil), View: a.roomView(shape),
		Blocks: a.blocks(room), Materials: a.roomMaterials(room),
		Spots: a.spots(room.ID)}
	v.Cautions, v.Everywhere = a.roomCautions(room)
	v.InFull = a.cautionsInFull()
	v.Facts = []Figure{
		{Label: a.say("Floor area"), Value: a.format.Area(shape.FloorArea), Inputs: a.how(a.Model.Total.FloorHow)},
		{Label: a.say("Volume"), Value: a.format.Volume(shape.Volume), Inputs: a.how(a.Model.Total.VolumeHow)},
		{Label: a.say("Layer, net"), Value: a.format.Area(a.LayerArea(room)), Inputs: a.say("surfaces that carry the layer, openings taken off")},
	}
	for _, s := range shape.Surfaces {
		v.Surfaces = append(v.Surfaces, a.surfaceRow(s))
	}
	for _, p := range a.PlacesIn(room.ID) {
		row := a.junctionRow(p)
		if p.Record.Edge == junction.PenetrationAt || p.Record.Edge == junction.Recess {
			v.Holes = append(v.Holes, row)
		} else if p.Record.Edge != junction.Field {
			v.Junctions = append(v.Junctions, row)
		}
	}
	return v
}

// blocks are the open points of a room.
func (a *assembler) blocks(room *job.Room) []Note {
	return a.notesOf(room.ID, diag.Open, string(room.ID))
}

func (a *assembler) surfaceRow(s *surface.Surface) SurfaceRow {
	row := SurfaceRow{ID: string(s.ID), Role: a.roleWord(s), Behind: a.word(string(s.Face.Behind)), Layer: a.say("none"), Net: a.format.Area(s.Net)}
	if s.CarriesSheet {
		row.Layer = a.word(string(s.Face.Layer))
	}
	if s.Face.BuildUp != nil {
		row.BuildUp = s.Face.BuildUp.Name
	}
	if l := a.LayoutOf(s.ID); l != nil {
		row.Strips = fmt.Sprintf("%d %s", len(l.Strips), a.word(l.Direction.String()))
		if l.HungWith != nil {
			row.Strips = a.say("with %s", string(l.HungWith.Surface.ID))
		}
		row.Path = surfacePath(s.ID)
	}
	return row
}

// roleWord names a surface's role for people.
func (a *assembler) roleWord(s *surface.Surface) string {
	if s.Dormer != nil {
		return a.say("dormer, %s", a.word(string(s.Part)))
	}
	switch s.Role {
	case surface.KneeWall:
		return a.say("knee wall")
	case surface.Ceiling:
		return a.say("ceiling")
	}
	return a.word(s.Role.String())
}

// activity is one stage of a room: its work by statement and variant, its checks and its hold.
func (a *assembler) activity(room *job.Room, stage assess.Stage) Activity {
	act := stage.Activity
	v := Activity{Name: act.ID, Title: act.Title, Crew: a.crew(act), Conditions: act.Note}
	if stage.Known {
		v.Minutes = a.minutes(stage.Minutes)
	}
	if stage.Wait > 0 {
		v.Wait = a.say("%g h before load or a fan test (%s)", float64(stage.Wait), a.lowerFirst(short(stage.WaitFor)))
	}
	v.Clocks = a.clocks(room, stage)
	for _, same := range sameWork(stage.Places) {
		v.Work = append(v.Work, a.work(same))
	}
	v.Checks = a.checksIn(string(room.ID), func(c assess.Check) bool { return c.Activity == act && c.Hold == nil })
	v.Stop = a.stop(room, act)
	return v
}

// stop is the hold at the end of an activity with the signatures that release it; nil where there is none.
func (a *assembler) stop(room *job.Room, act *library.Activity) *Stop {
	h := a.Library.Holds.Find(act.Hold)
	if h == nil {
		return nil
	}
	v := &Stop{Hold: h.ID, Text: a.say("Stop until released: %s. Signs: %s.", h.Release, a.roles(h.Signs))}
	for _, c := range a.checksIn(string(room.ID), func(c assess.Check) bool { return c.Activity == act && c.Hold != nil }) {
		v.Key = strings.TrimSpace(v.Key + " " + c.Key)
		v.Seal = strings.TrimSpace(v.Seal + " " + c.Seal)
		v.Path = signPath(string(room.ID)) + "#" + h.ID
	}
	return v
}

func (a *assembler) crew(act *library.Activity) string {
	var parts []string
	for _, m := range act.Crew {
		parts = append(parts, fmt.Sprintf("%d %s", m.Count, a.people(m.Count, m.Role)))
	}
	return strings.Join(parts, " + ")
}

// sameWork groups places with the same statement and variant, in order of first mention.
func sameWork(places []*assess.Place) [][]*assess.Place {
	var out [][]*assess.Place
	for _, p := range places {
		i := slices.IndexFunc(out, func(g []*assess.Place) bool {
			f := g[0].Chosen
			return f.Statement == p.Chosen.Statement && f.Variant == p.Chosen.Variant && g[0].Problem == p.Problem
		})
		if i < 0 {
			out = append(out, nil)
			i = len(out) - 1
		}
		out[i] = append(out[i], p)
	}
	return out
}

// work is one statement at its places in a room.
func (a *assembler) work(same []*assess.Place) Work {
	first := same[0]
	s := first.Chosen.Statement
	v := Work{Title: s.Title, Link: Link{Text: s.Title, Path: methodPath(s.ID)}, Variant: variantTitle(first.Chosen), Problem: first.Problem}
	var sum float64
	shown := map[library.CautionID]bool{}
	for _, p := range same {
		v.Places = append(v.Places, p.Record.ID)
		sum += measureOf(s.Measure, p.Record)
		for _, id := range a.Results.Cautions.Place[p.Record.ID] {
			shown[id] = true
		}
	}
	v.Amount = a.measured(s.Measure, sum)
	v.Uses = a.uses(same)
	v.Steps = a.steps(first, s)
	for _, c := range a.Library.Cautions.All() {
		if shown[c.ID] && slices.Contains(s.Cautions, string(c.ID)) {
			v.Cautions = append(v.Cautions, a.caution(c, ""))
		}
	}
	return v
}

// uses sums what a group of places takes: "13.50 m Tape, one-sided, 60 mm".
func (a *assembler) uses(same []*assess.Place) []string {
	sum := map[string]float64{}
	unit := map[string]string{}
	var order []string
	for _, p := range same {
		for _, l := range p.Lines {
			if _, seen := sum[l.Component]; !seen {
				order = append(order, l.Component)
			}
			sum[l.Component] += l.Amount
			unit[l.Component] = l.Unit
		}
	}
	var out []string
	for _, id := range order {
		out = append(out, a.format.Amount(sum[id], unit[id])+" "+a.lowerFirst(short(a.componentName(id))))
	}
	return out
}

func (a *assembler) componentName(id string) string {
	if c := a.Library.Components.Find(id); c != nil {
		return c.Name
	}
	return id
}

// lowerFirst puts a name into a sentence. Other languages keep its capital: in some it is a rule.
func (a *assembler) lowerFirst(name string) string {
	if a.build.Lang.English() && len(name) > 1 && name[1] >= 'a' && name[1] <= 'z' {
		return strings.ToLower(name[:1]) + name[1:]
	}
	return name
}

// steps renders the steps of a place's variant with that place's figures.
func (a *assembler) steps(p *assess.Place, s *library.Statement) []Step {
	var out []Step
	numbers := p.Chosen.StepNumbers()
	for _, st := range s.Steps {
		if slices.Contains(numbers, st.No) {
			out = append(out, a.beneath(Step{No: st.No, HTML: a.line(st.Text, a.fill(p.Env))}, p, s))
		}
	}
	return counted(out)
}

// counted marks the steps whose number is not their place in the list: steps of other variants lie before them. Every step
// after a gap says its own number, since browsers do not agree on how a list counts on from one that was given.
func counted(steps []Step) []Step {
	for i := range steps {
		if steps[i].No != i+1 {
			steps[i].Jump = steps[i].No
		}
	}
	return steps
}

// fill gives a figure's value at a place. Figures of settings in millimetres are whole numbers; their unit stands in the
// text.
func (a *assembler) fill(env *library.Env) func(string) (string, error) {
	return a.fillAs(a.format, env)
}

// fillAs is the same with numbers in the format of another language.
func (a *assembler) fillAs(f q.Format, env *library.Env) func(string) (string, error) {
	return func(expression string) (string, error) {
		var quiet diag.List // compiled once already when the library was loaded
		return a.Library.Figures("{="+expression+"}", &quiet).Expand(env, func(x float64) string {
			if x == float64(int64(x)) {
				return f.Number(x, 0)
			}
			return f.Number(x, 2)
		})
	}
}
