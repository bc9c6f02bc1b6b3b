// Package programme computes when each activity of a job can start: the critical path of an activity network with lags
// in elapsed hours and work in working hours, and a schedule levelled to the crews there are.
//
// Method: forward and backward pass over finish-to-start links (critical path method, Kelley and Walker 1959, from
// memory; the tests hold published examples). Levelling: serial schedule generation, ready activities in the order of
// their rank and then of their earliest and latest start. It gives a feasible plan, not the shortest there is.
//
// An instant is counted in elapsed minutes from 00:00 of day 1. Elapsed lags (tape cures, bead sets) run at night and on
// closed days; work does not.
package programme

import (
	"errors"
	"fmt"

	q "lapwork/generator/quantity"
)

// Instant is elapsed minutes from 00:00 of day 1.
type Instant int

// Day gives the day number from 1 and the minute of that day.
func (i Instant) Day() (day, minute int) { return int(i)/minutesPerDay + 1, int(i) % minutesPerDay }

const minutesPerDay = 24 * 60

// Calendar says when work is done.
type Calendar struct {
	DayStart   int          // minutes after midnight
	DayMinutes int          // working minutes a day
	FirstDay   int          // weekday of day 1: 0 Monday … 6 Sunday
	Works      [7]bool      // Monday first
	Closed     map[int]bool // day numbers without work
}

// Weekdays is Monday to Friday, eight hours from 08:00, day 1 a Monday.
var Weekdays = Calendar{DayStart: 8 * 60, DayMinutes: 8 * 60, Works: [7]bool{true, true, true, true, true}}

// Link is a predecessor and the elapsed wait after it.
type Link struct {
	ID  string
	Lag q.Minutes // elapsed minutes from its finish; ≥ 0
}

// Activity is one piece of work at one place.
type Activity struct {
	ID        string
	Duration  q.Minutes // working minutes for the crew; ≥ 0
	Low, High q.Minutes // range of the duration; both 0: no range stated
	Needs     []Need    // all of them at once, for the whole of it
	Whole     bool      // done within one day where a day is long enough
	Alone     bool      // one person of the first need may do it, in as many times the time as it takes persons of that need
	Rank      int       // the crews go to lower ranks first and to higher ones while those wait
	After     []Link
}

// Need is persons of one crew.
type Need struct {
	Crew string
	Size int
}

// Slot is when an activity happens. Where one person does alone what more could, Duration and Needs are theirs.
type Slot struct {
	Activity
	Start, Finish           Instant   // levelled
	EarlyStart, EarlyFinish Instant   // with unlimited crews
	LateStart, LateFinish   Instant   // without moving the end
	Float                   q.Minutes // working minutes between early and late start
	SetBy                   string    // predecessor that set the start, or SetByCrew or SetByStart
	Lag                     q.Minutes // elapsed wait after SetBy
	FreedBy                 string    // with SetByCrew: the activity whose end set the crew free
}

// What sets a start where no predecessor does.
const (
	SetByCrew  = "crew"
	SetByStart = "start"
)

// Plan is the whole programme, in start order.
type Plan struct {
	Slots             []Slot
	Finish            Instant
	Earliest          Instant   // finish with unlimited crews: a lower bound of Finish
	Critical          []string  // longest path with unlimited crews, from its start
	Driving           []string  // chain of predecessors and crews that set Finish in the levelled plan, from its start
	Low, Likely, High q.Minutes // working minutes of the critical path
	Deviation         q.Minutes // of the critical path, three-point estimate
}

// Errors of the input.
var (
	ErrCycle    = errors.New("the activities wait for each other in a circle")
	ErrUnknown  = errors.New("an activity waits for one that does not exist")
	ErrTwice    = errors.New("two activities have one id")
	ErrNoCrew   = errors.New("an activity takes more persons than the crew has")
	ErrNoDay    = errors.New("the calendar has no working day")
	ErrNegative = errors.New("a duration or a lag is negative")
)

// check refuses an input that has no schedule.
func check(acts []Activity, crews map[string]int, cal Calendar) error {
	if cal.DayMinutes <= 0 || cal.DayStart < 0 || cal.DayStart+cal.DayMinutes > minutesPerDay || cal.Works == [7]bool{} {
		return ErrNoDay
	}
	seen := map[string]bool{}
	for _, a := range acts {
		if seen[a.ID] {
			return fmt.Errorf("%w: %s", ErrTwice, a.ID)
		}
		seen[a.ID] = true
		if !(a.Duration >= 0) {
			return fmt.Errorf("%w: %s", ErrNegative, a.ID)
		}
		for _, n := range a.Needs {
			if n.Size > crews[n.Crew] {
				return fmt.Errorf("%w: %s takes %d of %d %s", ErrNoCrew, a.ID, n.Size, crews[n.Crew], n.Crew)
			}
		}
	}
	for _, a := range acts {
		for _, l := range a.After {
			if !seen[l.ID] {
				return fmt.Errorf("%w: %s waits for %s", ErrUnknown, a.ID, l.ID)
			}
			if !(l.Lag >= 0) {
				return fmt.Errorf("%w: the lag of %s after %s", ErrNegative, a.ID, l.ID)
			}
		}
	}
	return nil
}

// Schedule computes the programme. crews is how many persons each crew has.
func Schedule(acts []Activity, crews map[string]int, cal Calendar) (Plan, error) {
	if err := check(acts, crews, cal); err != nil {
		return Plan{}, err
	}
	net, err := newNetwork(acts)
	if err != nil {
		return Plan{}, err
	}
	slots := make([]Slot, len(acts))
	for i, a := range acts {
		slots[i].Activity = a
	}
	net.forward(slots, cal)
	end := Instant(0)
	for _, s := range slots {
		end = max(end, s.EarlyFinish)
	}
	net.backward(slots, cal, end)
	net.level(slots, crews, cal)
	return net.plan(slots, end), nil
}
