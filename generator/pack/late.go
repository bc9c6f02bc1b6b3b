package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	calc "lapwork/generator/calc/programme"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// Late is the list of what another trade or a later step is about to bury.
type Late struct {
	Groups []LateGroup // the one that closes first comes first
	Notes  []Note
}

// LateGroup is what one event closes.
type LateGroup struct {
	Event  string // "A partition is fixed there"
	Do     string // activity it is done in
	Before string // activity that must not begin before it is done
	Look   []Term // checks to be made while it is open: id and title, acceptance
	Rows   []LateRow
}

// LateRow is one thing to do before it is covered.
type LateRow struct {
	ID, Room, What, Where, Amount string
	Planned, Latest               string // when the programme does it, and when what buries it begins; empty without a programme
	Problem                       string // unresolved: whom to ask
	Path                          string
}

const latePath = "late.html"

// The activities whose work lies behind what comes next: everything installed in them stands on the list.
var buried = []string{"early-strips", "blocking"}

// backingItem is the row of the table of closings for backing strips.
const backingItem = "backing"

// buriedAt is one row with what it is sorted and grouped by.
type buriedAt struct {
	row    LateRow
	event  string
	do     *library.Activity
	before *library.Activity
	latest calc.Instant
	whole  bool // a whole room: these come after the single places
}

func (a *assembler) latePage() Page {
	v := &Late{}
	steps := a.stepOf()
	var all []buriedAt
	for _, room := range a.Job.Rooms {
		for _, p := range a.PlacesIn(room.ID) {
			if slices.Contains(buried, p.Chosen.Activity) || p.Record.Stands == "after" {
				all = append(all, a.buriedPlace(room, p))
			}
		}
		all = append(all, a.buriedWhole(room)...)
		for _, l := range a.LayoutsIn(room.ID) {
			all = append(all, a.buriedBacking(l)...)
		}
	}
	for i := range all {
		a.dateBuried(&all[i], steps)
	}
	v.Groups = a.lateGroups(all)
	if a.Results.Programme == nil {
		v.Notes = append(v.Notes, Note{Level: "open", Text: a.say("There is no programme, so nothing here has a day. Agree the days with the trades that close each place.")})
	} else if !a.Results.Programme.Dated {
		v.Notes = append(v.Notes, Note{Level: "note", Text: a.say("The job states no start: days are numbered."), Hint: a.say("State start under site.")})
	}
	v.Notes = append(v.Notes, Note{Level: "note", Text: a.say("Other trades' work has no figure in the programme: ask each of them for the day on which it closes a place, and take the earlier one.")})
	return Page{Path: latePath, Kind: KindLate, Title: a.say("Before it is too late"), Where: a.say("Before it is too late"), Late: v}
}

// buriedPlace is the row of a junction that the next work covers.
func (a *assembler) buriedPlace(room *job.Room, p *assess.Place) buriedAt {
	r := p.Record
	b := buriedAt{do: a.Library.Activities.Find(p.Chosen.Activity)}
	b.event, b.before = a.closing(room, r.Item, p.Chosen)
	row := a.junctionRow(p)
	b.row = LateRow{ID: r.ID, Room: string(room.ID), What: row.Title, Amount: row.Amount, Problem: p.Problem, Path: row.Path}
	if row.Variant != "" {
		b.row.What += ": " + a.lowerFirst(row.Variant)
	}
	b.row.Where = string(r.A.ID)
	for _, m := range r.A.Members {
		if string(m.ID) == r.Object {
			b.row.Where += ", " + a.whereOn(r.A, m.From)
		}
	}
	return b
}

// buriedBacking are the rows of a surface's backing strips: they go in with the blocking and vanish behind the sheet.
func (a *assembler) buriedBacking(l *assess.Layout) []buriedAt {
	s := l.Surface
	room := s.Room
	var out []buriedAt
	for _, strip := range l.Backing {
		what := a.say("Backing strip behind an end joint")
		if strip.Seam {
			what = a.say("Backing strip behind a seam")
		}
		b := buriedAt{do: a.Library.Activities.Find("blocking"), before: a.hangs(s)}
		b.event, _ = a.closing(room, backingItem, library.Selection{})
		b.row = LateRow{ID: string(s.ID), Room: string(room.ID), What: what, Amount: a.format.Metres(strip.Length.Metres()),
			Where: a.edgeText(l, l.Across(strip.At)), Path: surfacePath(s.ID)}
		if !strip.Seam {
			b.row.Where = a.say("%s along the strips", a.format.MM(l.Along(strip.At)))
		}
		out = append(out, b)
	}
	return out
}

// hangs is the activity in which the sheet of a surface is hung.
func (a *assembler) hangs(s *surface.Surface) *library.Activity {
	if p := a.Place(string(s.ID)); p != nil {
		return a.Library.Activities.Find(p.Chosen.Activity)
	}
	return nil
}

// closing is the event that buries an item, and the activity with which it begins: one that the table of closings names,
// else one that the statement names or that the table of activities puts right after.
func (a *assembler) closing(room *job.Room, item string, chosen library.Selection) (event string, before *library.Activity) {
	event = a.say("The next step covers it")
	c := a.Library.Closings.Find(item)
	if c != nil {
		event = c.Event
	}
	var named []string
	if chosen.Statement != nil {
		named = chosen.Statement.Before
	}
	for _, stage := range a.Stages[room.ID] { // in working order
		act := stage.Activity
		after := act.ID != chosen.Activity && (slices.Contains(act.After, chosen.Activity) || slices.Contains(named, act.ID))
		if c != nil && len(c.Before) > 0 {
			after = slices.Contains(c.Before, act.ID)
		}
		if after {
			return event, act
		}
	}
	return event, nil
}

// buriedWhole are the releases after which a whole room is covered, where the table of closings has a row for them.
func (a *assembler) buriedWhole(room *job.Room) []buriedAt {
	var out []buriedAt
	for _, stage := range a.Stages[room.ID] {
		act := stage.Activity
		if a.Library.Closings.Find(act.ID) == nil {
			continue
		}
		b := buriedAt{do: act, whole: true, row: LateRow{ID: string(room.ID), Room: string(room.ID), What: act.Title, Where: a.say("whole room"),
			Amount: a.format.Area(a.LayerArea(room)), Path: roomPath(room.ID)}}
		b.event, b.before = a.closing(room, act.ID, library.Selection{Activity: act.ID})
		out = append(out, b)
	}
	return out
}

// stepOf finds the step of an activity that covers a room.
func (a *assembler) stepOf() map[string]*assess.Step {
	out := map[string]*assess.Step{}
	if a.Results.Programme == nil {
		return out
	}
	for _, s := range a.Results.Programme.Steps {
		for _, room := range s.Scope.Rooms {
			out[s.Activity.ID+"@"+string(room.ID)] = s
		}
	}
	return out
}

// dateBuried adds the days of the programme.
func (a *assembler) dateBuried(b *buriedAt, steps map[string]*assess.Step) {
	w := planWords{a, a.Results.Programme}
	if b.do != nil {
		if s := steps[b.do.ID+"@"+b.row.Room]; s != nil {
			b.row.Planned = w.moment(s.Slot.Start)
		}
	}
	b.latest = 1 << 40 // what has no day comes last
	if b.before != nil {
		if s := steps[b.before.ID+"@"+b.row.Room]; s != nil {
			b.latest, b.row.Latest = s.Slot.Start, w.moment(s.Slot.Start)
		}
	}
}

// lateGroups sorts by the day it is too late, and puts together what one event closes.
func (a *assembler) lateGroups(all []buriedAt) []LateGroup {
	sorting.StableFunc(all, func(x, y buriedAt) int {
		return cmp.Or(cmp.Compare(order(x.whole), order(y.whole)), cmp.Compare(x.latest, y.latest), strings.Compare(x.row.ID, y.row.ID))
	})
	var out []LateGroup
	for _, b := range all {
		do, before := titleOf(b.do), titleOf(b.before)
		i := slices.IndexFunc(out, func(g LateGroup) bool { return g.Event == b.event && g.Do == do && g.Before == before })
		if i < 0 {
			out = append(out, LateGroup{Event: b.event, Do: do, Before: before, Look: a.looks(b.do)})
			i = len(out) - 1
		}
		out[i].Rows = append(out[i].Rows, b.row)
	}
	return out
}

func titleOf(act *library.Activity) string {
	if act == nil {
		return ""
	}
	return act.Title
}

// order puts false before true.
func order(b bool) int {
	if b {
		return 1
	}
	return 0
}

// looks are the checks of an activity: what is looked at while it is still open.
func (a *assembler) looks(act *library.Activity) []Term {
	if act == nil {
		return nil
	}
	var out []Term
	for _, id := range act.Checks {
		if c := a.Library.Checks.Find(id); c != nil {
			out = append(out, Term{fmt.Sprintf("%s %s", c.ID, c.Title), c.Accept})
		}
	}
	return out
}
