package pack

import (
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/library"
)

// phase is a stretch of a room's work that has a page of its own.
type phase struct {
	*library.Phase // nil: the library divides nothing
	path           string
	activities     []Activity
}

// pagesOf gives a room's page, which has the first phase of its work, and a page for each later phase with something to do.
func (a *assembler) pagesOf(room *job.Room) []Page {
	phases := a.phases(room)
	name := string(room.ID) + " " + room.Name
	first := a.room(room, phases[0])
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
		v := a.phase(room, phases, i)
		if i == len(phases)-1 {
			v.SignOff = signOff
		}
		pages = append(pages, Page{Path: phases[i].path, Kind: KindPhase, Title: name + ": " + v.Title, Where: string(room.ID) + " " + v.Title, Phase: v})
	}
	return pages
}

// phases divides a room's work. The first is there even where nothing is done in it: its page is the room's.
func (a *assembler) phases(room *job.Room) []phase {
	out := []phase{{path: roomPath(room.ID)}}
	if all := a.Library.Phases.All(); len(all) > 0 {
		out[0].Phase = all[0]
	}
	for _, stage := range a.Stages[room.ID] {
		in := a.Library.PhaseOf(stage.Activity)
		if in != nil && in != out[len(out)-1].Phase {
			out = append(out, phase{Phase: in, path: strings.TrimSuffix(roomPath(room.ID), ".html") + "-" + in.ID + ".html"})
		}
		last := &out[len(out)-1]
		last.activities = append(last.activities, a.activity(room, stage))
	}
	return out
}

// phaseLinks is the row that leads through a room's work to its sign-off.
func (a *assembler) phaseLinks(room *job.Room, phases []phase, here int) []PhaseLink {
	var out []PhaseLink
	for i, p := range phases {
		out = append(out, PhaseLink{Text: p.Title, Path: p.path, Here: i == here})
	}
	return append(out, PhaseLink{Text: a.say("Sign-off"), Path: signPath(string(room.ID))})
}

// phase is the page of a later phase: beside its own work it shows the holds that stand before it and the waits that may
// still run.
func (a *assembler) phase(room *job.Room, phases []phase, at int) *Phase {
	p := phases[at]
	v := &Phase{ID: string(room.ID) + "-" + p.ID, Name: room.Name, Storey: room.Storey.Name, Title: p.Title, Room: string(room.ID), RoomPath: roomPath(room.ID),
		Key: a.keyPlan(room, nil), Activities: p.activities, Phases: a.phaseLinks(room, phases, at)}
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
