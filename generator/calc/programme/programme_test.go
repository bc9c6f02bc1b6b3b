package programme_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/programme"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"
)

// always works round the clock, so that instants are plain sums.
var always = programme.Calendar{DayMinutes: 1440, Works: [7]bool{true, true, true, true, true, true, true}}

func act(id string, d q.Minutes, after ...string) programme.Activity {
	a := programme.Activity{ID: id, Duration: d}
	for _, p := range after {
		a.After = append(a.After, programme.Link{ID: p})
	}
	return a
}

func slot(t *testing.T, p programme.Plan, id string) programme.Slot {
	t.Helper()
	for _, s := range p.Slots {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no slot %s", id)
	return programme.Slot{}
}

// The seven-activity network that encyclopaedias print for the programme evaluation and review technique (from memory):
// expected times 4, 5.33, 5.17, 6.33, 5.17, 4.5, 5.17 days; critical a-c-e-g, 19.51 days; slack of b 3.84, of d and f 4.68.
// Hundredths of a day stand for minutes here, so every figure is exact.
func TestPublishedNetwork(t *testing.T) {
	acts := []programme.Activity{act("a", 400), act("b", 533), act("c", 517, "a"), act("d", 633, "a"),
		act("e", 517, "b", "c"), act("f", 450, "d"), act("g", 517, "e")}
	p, err := programme.Schedule(acts, nil, always)
	if err != nil {
		t.Fatal(err)
	}
	if p.Finish != 1951 || p.Earliest != 1951 {
		t.Errorf("finish %d, earliest %d; want 1951", p.Finish, p.Earliest)
	}
	if want := []string{"a", "c", "e", "g"}; !slices.Equal(p.Critical, want) || !slices.Equal(p.Driving, want) {
		t.Errorf("critical %v, driving %v; want %v", p.Critical, p.Driving, want)
	}
	for id, want := range map[string]q.Minutes{"a": 0, "b": 384, "c": 0, "d": 468, "e": 0, "f": 468, "g": 0} {
		if got := slot(t, p, id).Float; got != want {
			t.Errorf("float of %s is %v, want %v", id, got, want)
		}
	}
	if s := slot(t, p, "f"); s.EarlyStart != 1033 || s.EarlyFinish != 1483 || s.LateStart != 1501 || s.LateFinish != 1951 {
		t.Errorf("f: %+v", s)
	}
}

// Same source, same network: three-point estimates (2,4,6) (4,5,7) (4,5,7) (3,5,8) along the critical path have the
// variances (4/6)² + (3/6)² + (3/6)² + (5/6)² = 1.6389 days², so a deviation of 1.2802 days.
func TestThreePoints(t *testing.T) {
	three := func(id string, low, likely, high q.Minutes, after ...string) programme.Activity {
		a := act(id, likely, after...)
		a.Low, a.High = low, high
		return a
	}
	p, err := programme.Schedule([]programme.Activity{three("a", 200, 400, 600), three("c", 400, 500, 700, "a"),
		three("e", 400, 500, 700, "c"), three("g", 300, 500, 800, "e")}, nil, always)
	if err != nil {
		t.Fatal(err)
	}
	if p.Low != 1300 || p.Likely != 1900 || p.High != 2800 || fmt.Sprintf("%.2f", float64(p.Deviation)) != "128.02" {
		t.Errorf("low %v, likely %v, high %v, deviation %v", p.Low, p.Likely, p.High, p.Deviation)
	}
}

// Worked by hand. Day 1 is a Friday, eight hours from 08:00. Tape 60 min from Friday 15:30: 30 min, then Monday (day 4)
// 08:00 to 08:30. A lag of 24 elapsed hours ends Tuesday (day 5) 08:30. Bead 30 min Friday 15:00 to 15:30 and 48 h end on
// Sunday 15:30: the next work may start Monday 08:00.
func TestCureGoesOnAtNightAndWorkDoesNot(t *testing.T) {
	cal := programme.Weekdays
	cal.FirstDay = 4
	hold := func(id string, d q.Minutes, after string, lag q.Minutes) programme.Activity {
		return programme.Activity{ID: id, Duration: d, After: []programme.Link{{ID: after, Lag: lag}}}
	}
	p, err := programme.Schedule([]programme.Activity{act("hang", 420), hold("bead", 30, "hang", 0), hold("tape", 60, "bead", 0),
		hold("test after tape", 60, "tape", 24*60), hold("test after bead", 60, "bead", 48*60)}, nil, cal)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string][2]string{"bead": {"day 1 15:00", "day 1 15:30"}, "tape": {"day 1 15:30", "day 4 08:30"},
		"test after tape": {"day 5 08:30", "day 5 09:30"}, "test after bead": {"day 4 08:00", "day 4 09:00"}} {
		s := slot(t, p, id)
		if got := [2]string{clock(s.Start), clock(s.Finish)}; got != want {
			t.Errorf("%s: %v, want %v", id, got, want)
		}
	}
	cal.Closed = map[int]bool{4: true}
	p, err = programme.Schedule([]programme.Activity{act("hang", 420), hold("bead", 30, "hang", 0), hold("test", 60, "bead", 48*60)}, nil, cal)
	if err != nil {
		t.Fatal(err)
	}
	if got := clock(slot(t, p, "test").Start); got != "day 5 08:00" {
		t.Errorf("with Monday closed the test starts %s", got)
	}
}

// Day 1 is a Friday from 08:00. Saturday is no step of the axis; Monday noon is half of the second working day.
func TestWorkingDays(t *testing.T) {
	cal := programme.Weekdays
	cal.FirstDay = 4
	for at, want := range map[programme.Instant]float64{0: 0, 12 * 60: 0.5, 16 * 60: 1, 23 * 60: 1, 1440 + 600: 1, 3*1440 + 12*60: 1.5} {
		if got := cal.Days(at); got != want {
			t.Errorf("%s is working day %g, want %g", clock(at), got, want)
		}
	}
	// Friday 15:30 to Monday 08:30: half an hour on each.
	from, to := programme.Instant(15*60+30), programme.Instant(3*1440+8*60+30)
	for day, want := range map[int]string{1: "day 1 15:30 day 1 16:00 true", 4: "day 4 08:00 day 4 08:30 true"} {
		if start, end, ok := cal.Part(day, from, to); fmt.Sprint(clock(start), " ", clock(end), " ", ok) != want {
			t.Errorf("day %d: %s to %s %v", day, clock(start), clock(end), ok)
		}
	}
	if _, _, ok := cal.Part(2, from, to); ok {
		t.Error("work on a Saturday")
	}
}

func clock(i programme.Instant) string {
	day, minute := i.Day()
	return fmt.Sprintf("day %d %02d:%02d", day, minute/60, minute%60)
}

// Two rooms, one pair of fitters: the second room waits for the crew, and says so.
func TestOneCrewTwoRooms(t *testing.T) {
	a, b := act("hang@1", 100), act("hang@2", 50)
	a.Needs = []programme.Need{{"fitters", 2}}
	b.Needs = a.Needs
	p, err := programme.Schedule([]programme.Activity{a, b, act("test", 10, "hang@1", "hang@2")}, map[string]int{"fitters": 2}, always)
	if err != nil {
		t.Fatal(err)
	}
	// The longer one has the earlier latest start and goes first.
	if s := slot(t, p, "hang@2"); s.Start != 100 || s.SetBy != programme.SetByCrew || s.FreedBy != "hang@1" || p.Finish != 160 || p.Earliest != 110 {
		t.Errorf("hang@2 %+v, finish %d, earliest %d", s, p.Finish, p.Earliest)
	}
}

// Worked by hand. One fitter, 100 min of hanging in room 1, an hour of cure, 50 min of sealing. Room 2 has its turn after
// room 1: 60 min of hanging just fit into the cure, 61 wait until room 1 is sealed at 210. Without ranks they do not.
func TestRanksFillTheWaitingOnly(t *testing.T) {
	for _, c := range []struct {
		work      q.Minutes
		rank      int
		hang2     programme.Instant
		seal1     programme.Instant
		by, freed string
	}{{60, 1, 100, 160, programme.SetByCrew, "hang@1"}, {61, 1, 210, 160, programme.SetByCrew, "seal@1"}, {61, 0, 100, 161, programme.SetByCrew, "hang@1"}} {
		a, b, d := act("hang@1", 100), act("seal@1", 50), act("hang@2", c.work)
		b.After = []programme.Link{{ID: "hang@1", Lag: 60}}
		d.Rank = c.rank
		acts := []programme.Activity{a, b, d}
		for i := range acts {
			acts[i].Needs = []programme.Need{{Crew: "fitters", Size: 1}}
		}
		p, err := programme.Schedule(acts, map[string]int{"fitters": 1}, always)
		if err != nil {
			t.Fatal(err)
		}
		hang, seal := slot(t, p, "hang@2"), slot(t, p, "seal@1")
		if hang.Start != c.hang2 || seal.Start != c.seal1 || hang.SetBy != c.by || hang.FreedBy != c.freed {
			t.Errorf("%v min of rank %d: hang@2 at %d by %s %s, seal@1 at %d", c.work, c.rank, hang.Start, hang.SetBy, hang.FreedBy, seal.Start)
		}
	}
}

// Worked by hand. One of two fitters is taken for 100 min. Protecting a room takes two 15 min; one may do it alone in 30,
// to 30 instead of 115. What needs both hands waits. When both are free two do it.
func TestOneAloneOrBoth(t *testing.T) {
	for _, c := range []struct {
		alone  bool
		other  int // persons of the work beside it
		finish programme.Instant
		size   int
	}{{true, 1, 30, 1}, {false, 1, 115, 2}, {true, 2, 115, 2}, {true, 0, 15, 2}} {
		beside, protect := act("a", 100), act("protect", 15)
		beside.Needs = []programme.Need{{Crew: "fitters", Size: c.other}}
		protect.Needs, protect.Alone, protect.Rank = []programme.Need{{Crew: "fitters", Size: 2}}, c.alone, 1
		p, err := programme.Schedule([]programme.Activity{beside, protect}, map[string]int{"fitters": 2}, always)
		if err != nil {
			t.Fatal(err)
		}
		if s := slot(t, p, "protect"); s.Finish != c.finish || s.Needs[0].Size != c.size || int(s.Duration)*c.size != 30 {
			t.Errorf("alone %v beside %d: to %d by %d in %v min", c.alone, c.other, s.Finish, s.Needs[0].Size, s.Duration)
		}
	}
}

func TestRefusals(t *testing.T) {
	big := act("x", 1)
	big.Needs = []programme.Need{{"fitters", 3}}
	lag := act("x", 1)
	lag.After = []programme.Link{{ID: "x", Lag: -1}}
	for _, c := range []struct {
		acts []programme.Activity
		cal  programme.Calendar
		want error
	}{
		{[]programme.Activity{act("a", 1, "b"), act("b", 1, "a")}, always, programme.ErrCycle},
		{[]programme.Activity{act("a", 1, "z")}, always, programme.ErrUnknown},
		{[]programme.Activity{act("a", 1), act("a", 1)}, always, programme.ErrTwice},
		{[]programme.Activity{big}, always, programme.ErrNoCrew},
		{[]programme.Activity{act("a", -1)}, always, programme.ErrNegative},
		{[]programme.Activity{lag}, always, programme.ErrNegative},
		{nil, programme.Calendar{DayMinutes: 480}, programme.ErrNoDay},
	} {
		if _, err := programme.Schedule(c.acts, map[string]int{"fitters": 2}, c.cal); !errors.Is(err, c.want) {
			t.Errorf("%v: got %v, want %v", c.acts, err, c.want)
		}
	}
}

// drawNetwork draws up to 25 activities; each may wait for earlier ones only, so that there is no circle.
func drawNetwork(t *rapid.T) []programme.Activity {
	n := rapid.IntRange(1, 25).Draw(t, "n")
	acts := make([]programme.Activity, n)
	for i := range acts {
		acts[i] = act(fmt.Sprint("a", i), q.Minutes(rapid.IntRange(0, 900).Draw(t, "work")))
		acts[i].Alone = rapid.Bool().Draw(t, "alone")
		acts[i].Whole = rapid.IntRange(0, 3).Draw(t, "whole") == 0
		acts[i].Rank = rapid.IntRange(0, 2).Draw(t, "rank")
		if rapid.Bool().Draw(t, "crew") {
			acts[i].Needs = append(acts[i].Needs, programme.Need{Crew: "fitters", Size: rapid.IntRange(1, 2).Draw(t, "size")})
		}
		if rapid.IntRange(0, 3).Draw(t, "lead") == 0 {
			acts[i].Needs = append(acts[i].Needs, programme.Need{Crew: "lead", Size: 1})
		}
		for j := range i {
			if rapid.IntRange(0, 4).Draw(t, "link") == 0 {
				acts[i].After = append(acts[i].After, programme.Link{ID: fmt.Sprint("a", j), Lag: q.Minutes(rapid.IntRange(0, 3000).Draw(t, "lag"))})
			}
		}
	}
	return acts
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		acts := drawNetwork(t)
		cal := programme.Weekdays
		cal.FirstDay = rapid.IntRange(0, 6).Draw(t, "weekday")
		p, err := programme.Schedule(acts, map[string]int{"fitters": 2, "lead": 1}, cal)
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]programme.Slot{}
		for _, s := range p.Slots {
			at[s.ID] = s
		}
		if p.Finish < p.Earliest {
			t.Fatalf("levelled to %d, before the earliest %d", p.Finish, p.Earliest)
		}
		for _, s := range p.Slots {
			if s.Start < s.EarlyStart || s.EarlyStart > s.LateStart && s.Duration > 0 || s.Float < 0 {
				t.Fatalf("%+v starts before it can", s)
			}
			for _, l := range s.After {
				if s.Start < at[l.ID].Finish+programme.Instant(l.Lag) {
					t.Fatalf("%s starts at %d, %s ends at %d and wants %v", s.ID, s.Start, l.ID, at[l.ID].Finish, l.Lag)
				}
			}
			for crew, size := range map[string]int{"fitters": 2, "lead": 1} {
				if busy := busyAt(p.Slots, crew, s.Start); busy > size {
					t.Fatalf("%d %s at %d, there are %d", busy, crew, s.Start, size)
				}
			}
			if day, minute := s.Start.Day(); minute < cal.DayStart || minute > cal.DayStart+cal.DayMinutes || !cal.Works[(cal.FirstDay+day-1)%7] {
				t.Fatalf("%s starts outside working time: %s", s.ID, clock(s.Start))
			}
			if first, _ := s.Start.Day(); s.Whole && s.Duration <= 480 {
				if last, _ := s.Finish.Day(); last != first {
					t.Fatalf("%s is split: %s to %s", s.ID, clock(s.Start), clock(s.Finish))
				}
			}
			if s.SetBy == programme.SetByCrew && at[s.FreedBy].Finish > s.Start {
				t.Fatalf("%s waits for the crew of %s, which ends after it starts", s.ID, s.FreedBy)
			}
		}
	})
}

// busyAt counts the persons of a crew at work.
func busyAt(slots []programme.Slot, crew string, at programme.Instant) int {
	busy := 0
	for _, o := range slots {
		for _, n := range o.Needs {
			if n.Crew == crew && o.Duration > 0 && o.Start <= at && at < o.Finish {
				busy += n.Size
			}
		}
	}
	return busy
}
