package pack

import (
	"math"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// Clock is a wait that begins when something is placed in an activity of a room. The tablet counts it.
type Clock struct {
	Key     string // of the record "all placed now"
	What    string // "Liquid bead"
	Use     string // "load or a fan test may begin"
	Wait    string // "48 h"
	Minutes int
	Holds   string // names of the activities of the room that must wait, with spaces between
}

// RunningWait is a clock of an earlier page of a room.
type RunningWait struct {
	Key, What, Use, Holds string // as the clock's
	Minutes               int
	From                  string // keys of the checks that tell when it was placed, with spaces between
}

// clockUse says what may begin when a wait is over.
func (a *assembler) clockUse(u assess.Use) string {
	switch u {
	case assess.ForCover:
		return a.say("cover")
	case assess.ForSeal:
		return a.say("the seal on it")
	}
	return a.say("load or a fan test")
}

// clocks are the waits that an activity of a room begins: those of the programme, or without one the longest that a
// component placed in it asks.
func (a *assembler) clocks(room *job.Room, stage assess.Stage) []Clock {
	key := string(room.ID) + "/clock/" + stage.Activity.ID
	if a.Results.Programme == nil {
		if stage.Wait == 0 {
			return nil
		}
		return []Clock{{Key: key, What: short(stage.WaitFor), Use: a.clockUse(assess.ForLoad), Wait: a.waiting(q.Minutes(stage.Wait) * 60), Minutes: int(float64(stage.Wait) * 60)}}
	}
	var out []Clock
	for _, c := range a.cures()[atStage{room.ID, stage.Activity}] {
		one := Clock{Key: key, What: short(c.Component.Name), Use: a.clockUse(c.Use), Wait: a.waiting(c.Wait), Minutes: int(float64(c.Wait) + 0.5), Holds: strings.Join(a.held(room, stage, c), " ")}
		if i := slices.IndexFunc(out, func(x Clock) bool { return x.What == one.What && x.Use == one.Use }); i < 0 {
			out = append(out, one)
		} else if out[i].Minutes < one.Minutes {
			out[i] = one
		}
	}
	return out
}

// waiting is how long a wait is: whole hours as they are said, 48 h.
func (a *assembler) waiting(m q.Minutes) string {
	if m >= 60 && math.Mod(float64(m), 60) == 0 {
		return a.format.Number(float64(m)/60, 0) + " h"
	}
	return a.format.Minutes(m)
}

// atStage is an activity in a room.
type atStage struct {
	room     job.RoomID
	activity *library.Activity
}

// curesByStage gives the waits of the programme, in its order, by the activities and rooms in which they begin.
func (a *assembler) curesByStage() map[atStage][]assess.Cure {
	out := map[atStage][]assess.Cure{}
	for _, c := range a.Results.Programme.Cures {
		placed := map[job.RoomID]bool{}
		for _, id := range c.Places {
			if p := a.Place(id); p != nil {
				placed[p.Record.Room.ID] = true
			}
		}
		for _, room := range c.Step.Scope.Rooms {
			if placed[room.ID] {
				at := atStage{room.ID, c.Step.Activity}
				out[at] = append(out[at], c)
			}
		}
	}
	return out
}

// held are the activities of a room that a wait holds up: what covers it, or what is sealed on it.
func (a *assembler) held(room *job.Room, from assess.Stage, c assess.Cure) []string {
	var out []string
	after := false
	for _, s := range a.Stages[room.ID] {
		switch {
		case s.Activity == from.Activity:
			after = true
		case !after:
		case c.Use == assess.ForCover && slices.Contains(assess.Covering, s.Activity.ID):
			out = append(out, s.Activity.ID)
		case c.Use == assess.ForSeal && slices.ContainsFunc(s.Places, func(p *assess.Place) bool { return slices.Contains(c.Places, p.Record.ID) }):
			out = append(out, s.Activity.ID)
		}
	}
	return out
}
