package pack

import (
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/library"
)

// phase is a stretch of a room's work that has a page of its own: a phase of the library, or several that are short.
type phase struct {
	id, title, path string // empty where the library divides nothing
	activities      []Activity
	lines           int // what its page is long by
}

// pageLines is how many lines, steps with checks and rows of lists, a page of a room holds before its next phase goes onto a
// page of its own: about 55 kB and forty screens of a tablet. Own choice.
const pageLines = 150

// pagesOf gives a room's page, which has the first phase of its work, and a page for each later phase that is too long to
// stand on the one before.
func (a *assembler) pagesOf(room *job.Room) []Page {
	first := a.room(room)
	phases := a.phases(room, first.rows())
	first.Activities = phases[0].activities
	name := string(room.ID) + " " + room.Name
	pages := []Page{{Path: phases[0].path, Kind: KindRoom, Title: name, Where: name, Room: first}}
	signOff := Link{Text: a.say("Sign-off of %s", string(room.ID)), Path: signPath(string(room.ID))}
	if len(phases) == 1 {
		first.SignOff = signOff
		return pages
	}
	first.Phases = a.phaseLinks(room, phases, 0)
	for i, p := range phases {
		first.Phases[i].Progress = a.progress(a.checksOf(p))
	}
	for i := 1; i < len(phases); i++ {
		v := a.phase(room, phases, i, first.Key)
		if i == len(phases)-1 {
			v.SignOff = signOff
		}
		pages = append(pages, Page{Path: phases[i].path, Kind: KindPhase, Title: name + ": " + v.Title, Where: string(room.ID) + " " + v.Title, Phase: v})
	}
	return pages
}

// phases divides a room's work into pages, the first of which is the room's own and has its lists: so many rows.
func (a *assembler) phases(room *job.Room, rows int) []phase {
	out := []phase{{path: roomPath(room.ID), lines: rows}}
	for i, p := range a.libraryPhases(room) {
		last := &out[len(out)-1]
		switch {
		case i == 0:
			last.id, last.title = p.id, p.title
		case last.lines+p.lines > pageLines:
			p.path = strings.TrimSuffix(roomPath(room.ID), ".html") + "-" + p.id + ".html"
			out = append(out, p)
			continue
		default:
			last.title += ", " + a.lowerFirst(p.title)
		}
		last.activities, last.lines = append(last.activities, p.activities...), last.lines+p.lines
	}
	return out
}

// libraryPhases are the phases of a room's work as the library has them.
func (a *assembler) libraryPhases(room *job.Room) []phase {
	out := []phase{{}}
	var last *library.Phase
	for i, stage := range a.Stages[room.ID] {
		in := a.Library.PhaseOf(stage.Activity)
		if in != last && i > 0 {
			out = append(out, phase{})
		}
		p := &out[len(out)-1]
		if last = in; in != nil {
			p.id, p.title = in.ID, in.Title
		}
		act := a.activity(room, stage)
		p.activities, p.lines = append(p.activities, act), p.lines+act.lines()
	}
	return out
}

// rows is how many rows a room's lists have.
func (v *Room) rows() int {
	return len(v.Surfaces) + len(v.Junctions) + len(v.Holes) + len(v.Materials) + len(v.Cautions) + len(v.Spots)
}

// lines is how many steps and checks an activity has.
func (act *Activity) lines() int {
	n := len(act.everyCheck())
	for _, w := range act.Work {
		n += len(w.Steps)
	}
	return n
}

// phaseLinks is the row that leads through a room's work to its sign-off.
func (a *assembler) phaseLinks(room *job.Room, phases []phase, here int) []PhaseLink {
	var out []PhaseLink
	for i, p := range phases {
		out = append(out, PhaseLink{Text: p.title, Path: p.path, Here: i == here})
	}
	return append(out, PhaseLink{Text: a.say("Sign-off"), Path: signPath(string(room.ID))})
}

// phase is the page of a later phase: beside its own work it shows the holds that stand before it and the waits that may
// still run.
func (a *assembler) phase(room *job.Room, phases []phase, at int, key Drawing) *Phase {
	p := phases[at]
	v := &Phase{ID: string(room.ID) + "-" + p.id, Name: room.Name, Storey: room.Storey.Name, Title: p.title, Room: string(room.ID), RoomPath: roomPath(room.ID),
		Key: key, Activities: p.activities, Phases: a.phaseLinks(room, phases, at)}
	if a.worksJunctions(p) {
		v.View = a.roomView(a.Model.Room(room))
	}
	for _, before := range phases[:at] {
		for _, act := range before.activities {
			if act.Stop != nil {
				stop := *act.Stop
				stop.Text = a.say("Stop until released.") // what for stands on its own page
				v.Earlier = append(v.Earlier, stop)
			}
			v.Running = append(v.Running, running(&act)...)
		}
	}
	return v
}

// worksJunctions is whether a line of the room's drawing is worked in a phase.
func (a *assembler) worksJunctions(p phase) bool {
	for _, act := range p.activities {
		for _, w := range act.Work {
			for _, id := range w.Places {
				if place := a.Place(id); place != nil && a.numbers(place.Record.Room).of[id] > 0 {
					return true
				}
			}
		}
	}
	return false
}

// running are the waits of an activity as a later page counts them: by the checks that were answered when it was done. Of
// several for the same use the longest stands for all.
func running(act *Activity) []RunningWait {
	if len(act.Clocks) == 0 {
		return nil
	}
	from := strings.Join(keys(act.everyCheck()), " ")
	var out []RunningWait
	for _, c := range act.Clocks {
		wait := RunningWait{Key: c.Key, What: c.What, Use: c.Use, Holds: c.Holds, Minutes: c.Minutes, From: from}
		if i := slices.IndexFunc(out, func(x RunningWait) bool { return x.Use == c.Use && x.Holds == c.Holds }); i < 0 {
			out = append(out, wait)
		} else if out[i].Minutes < c.Minutes {
			out[i] = wait
		}
	}
	return out
}

// everyCheck is the checks of an activity and of its steps.
func (act *Activity) everyCheck() []Check {
	checks := slices.Clone(act.Checks)
	for _, w := range act.Work {
		for _, step := range w.Steps {
			checks = append(checks, step.Checks...)
		}
	}
	return checks
}

// checksOf is the checks of a phase and the signatures that release its holds.
func (a *assembler) checksOf(p phase) []Check {
	var out []Check
	for _, act := range p.activities {
		out = append(out, act.everyCheck()...)
		if act.Stop != nil {
			for key := range strings.FieldsSeq(act.Stop.Key) {
				out = append(out, a.checks[key])
			}
		}
	}
	return out
}
