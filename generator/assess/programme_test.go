package assess

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/calc/bill"
	"lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// linked gives the wait of one step for another; -1 where there is no link.
func linked(t *testing.T, n network, from, to string) q.Minutes {
	t.Helper()
	if n.byID[from] == nil || n.byID[to] == nil {
		t.Fatalf("no step %s or %s", from, to)
	}
	for _, l := range n.byID[to].After {
		if l.From.ID == from {
			return l.Wait
		}
	}
	return -1
}

// placed makes the network of one room where one place of an activity takes these components.
func placed(t *testing.T, activity string, levelKgM2 float64, components ...string) network {
	t.Helper()
	rooms, st := exampleRooms(1)
	p := &Place{Record: junction.Record{ID: "R1-W1", Room: rooms[0]}, Env: &library.Env{LevelKgM2: levelKgM2}}
	for _, c := range components {
		p.Lines = append(p.Lines, bill.Line{Component: c})
	}
	r := Results{Context: Context{Job: &job.Job{Rooms: rooms, Storeys: []*job.Storey{st}}}, byRoom: map[job.RoomID][]*Place{"R1": {p}}}
	n := network{lib: tablesOnly(t), crews: crewsOf(r.Job), scopes: r.scopes()}
	n.effort = func(a *library.Activity, s Scope) effort {
		e := effort{concerns: true}
		if a.ID == activity {
			e.places = []*Place{p}
		}
		return e
	}
	n.build()
	return n
}

// Waits are those of the components (common practice, no source): liquid bead 48 h and tape 24 h before a fan test, roll
// adhesive none; brush-on coats 12 h between and 24 h before cover; smoothing band 24 h a millimetre at 6 mm mean
// (R-PREP-3), 24 h in all under plaster tape; primer 1 h. Thickness follows the mortar per area: 18 kg/m2 are 12 mm.
func TestWaitsComeFromTheComponents(t *testing.T) {
	for _, c := range []struct {
		activity   string
		kg         float64
		components string
		from, to   string
		hours      q.Minutes
	}{
		{"abutments", 9, "adhesive-sausage tape-split", "abutments@R1", "interim-test@Z", 48},
		{"laps", 9, "tape-single-60", "laps@R1", "interim-test@Z", 24},
		{"abutments", 9, "adhesive-roll", "abutments@R1", "interim-test@Z", -1},
		{"abutments", 9, "adhesive-roll", "prepare@R1", "abutments@R1", 0},
		{"abutments", 9, "primer-water adhesive-sausage", "prepare@R1", "abutments@R1", 1},
		{"abutments", 9, "mortar-level primer-water adhesive-sausage", "prepare@R1", "abutments@R1", 145},
		{"abutments", 18, "mortar-level adhesive-sausage", "prepare@R1", "abutments@R1", 288},
		{"openings", 9, "mortar-level tape-plaster", "prepare@R1", "openings@R1", 24},
		{"penetrations", 9, "mortar-level tape-single-60", "prepare@R1", "penetrations@R1", 144}, // no link in the table
		{"early-strips", 9, "primer-water tape-single-60", "prepare@R1", "early-strips@storey-1", 1},
		{"blocking", 9, "liquid-membrane", "blocking@R1", "insulate@R1", 36},
		{"penetrations", 9, "liquid-membrane", "penetrations@R1", "battens@R1", 36},
		{"penetrations", 9, "liquid-membrane", "penetrations@R1", "insulate@R1", -1}, // covered before: no turning round
		{"penetrations", 9, "collar-cable", "penetrations@R1", "interim-test@Z", -1},
		{"laps", 9, "tape-single-60", "repair@Z", "final-test@Z", 24},
	} {
		want := c.hours * 60
		if c.hours < 0 {
			want = -1
		}
		n := placed(t, c.activity, c.kg, strings.Fields(c.components)...)
		if got := linked(t, n, c.from, c.to); got != want {
			t.Errorf("%s with %s: %s waits %v for %s, want %v", c.activity, c.components, c.to, got, c.from, want)
		}
		if _, err := n.schedule(programme.Weekdays, Range.likely, true); err != nil {
			t.Errorf("%s with %s: %v", c.activity, c.components, err)
		}
	}
}

// A lone fitter: preparation 56 min as before, hanging ceilings 96/2 · 2.2 = 105.6, battens 239.4/2 · 2.2 = 263.34, early
// strips 59 (both hands of one). The fan test takes the tester and the fitter.
func TestCrewOfOne(t *testing.T) {
	n := example(t, 1)
	n.crews = crewsOf(&job.Job{Firm: job.Firm{Crew: 1}})
	for id, want := range map[string]float64{"prepare@R1": 56, "hang-ceilings@R1": 105.6, "battens@R1": 263.34, "early-strips@storey-1": 59, "brief": 30} {
		if got := float64(n.duration(n.byID[id]).Likely); got < want-1e-6 || got > want+1e-6 {
			t.Errorf("%s takes %g min, want %g", id, got, want)
		}
	}
	if needs := n.needs(n.byID["interim-test@Z"].Activity); len(needs) != 2 || needs[0] != (programme.Need{Crew: "fitter", Size: 1}) {
		t.Errorf("the fan test takes %v", needs)
	}
	p := Programme{Calendar: programme.Weekdays}
	if err := p.plan(&n, true); err != nil {
		t.Fatal(err)
	}
}

// Where people live the rooms are taken in order, although every room open at once would end sooner.
func TestOccupiedHouseTakesRoomsInOrder(t *testing.T) {
	for _, occupied := range []bool{true, false} {
		n := example(t, 4)
		p := Programme{Calendar: programme.Weekdays}
		if err := p.plan(&n, occupied); err != nil {
			t.Fatal(err)
		}
		if p.InOrder != occupied || (p.Otherwise < p.Finish) != occupied {
			t.Errorf("occupied %v: in order %v, ends %s, otherwise %s", occupied, p.InOrder, moment(p.Finish), moment(p.Otherwise))
		}
	}
}

// Every room is in a test zone, also one that no stated zone names.
func TestZones(t *testing.T) {
	rooms, _ := exampleRooms(3)
	for _, c := range []struct {
		stated []job.TestZone
		want   string
	}{
		{nil, "Z:R1,R2,R3"},
		{[]job.TestZone{{ID: "a", Rooms: []job.RoomID{"R1", "R3"}}}, "Za:R1,R3 Z:R2"},
		{[]job.TestZone{{ID: "a"}}, "Za:R1,R2,R3"},
		{[]job.TestZone{{ID: "a", Rooms: []job.RoomID{"R9"}}}, "Z:R1,R2,R3"},
	} {
		var got []string
		for _, z := range (Context{}).zones(c.stated, rooms) {
			var ids []string
			for _, r := range z.Rooms {
				ids = append(ids, string(r.ID))
			}
			got = append(got, z.ID+":"+strings.Join(ids, ","))
		}
		if text := strings.Join(got, " "); text != c.want {
			t.Errorf("zones %v: %s, want %s", c.stated, text, c.want)
		}
	}
}

// Day 1 is Monday 2026-03-16; Good Friday 2026-04-03 is day 19. Where people live half an hour of the day is lost.
func TestCalendarOfTheSite(t *testing.T) {
	p := Programme{}
	p.calendar(&job.Job{State: job.State{Occupied: true}, Site: job.Site{Start: "2026-03-16", DayStart: 450, Closed: []string{"2026-04-03", "2026-03-01"}}})
	if !p.Dated || p.Calendar.FirstDay != 0 || !p.Calendar.Closed[19] || p.Calendar.DayStart != 450 || p.Calendar.DayMinutes != 450 {
		t.Errorf("%+v", p.Calendar)
	}
	if d, minute := p.DateOf(18*1440 + 480); d.String() != "2026-04-03" || minute != 480 {
		t.Errorf("%s %d", d, minute)
	}
	p = Programme{}
	p.calendar(&job.Job{Site: job.Site{WorkDays: []string{"sat", "sun"}}})
	if p.Dated || p.Calendar.Works != [7]bool{5: true, 6: true} {
		t.Errorf("%+v", p.Calendar)
	}
}

// A delivery that comes after the day it is needed is an open point; one that comes on the day is not.
func TestLateDelivery(t *testing.T) {
	for date, late := range map[string]bool{"2026-03-16": false, "2026-03-17": true, "": false} {
		n := example(t, 1)
		p := Programme{Calendar: programme.Weekdays, Dated: true}
		p.Start, _ = ParseDate("2026-03-16")
		if err := p.plan(&n, false); err != nil {
			t.Fatal(err)
		}
		room := n.scopes["room"][0].Rooms
		r := Results{Context: Context{Job: &job.Job{Deliveries: []job.Delivery{{ID: "d1"}}}}, Deliveries: []*Delivery{{ID: "d1", Date: date, Rooms: room}}}
		var found diag.List
		p.needs(&r, &found)
		if len(p.Needs) != 1 || p.Needs[0].Late != late || found.Count(diag.Open) == 1 != late || p.Needs[0].Step.ID != "prepare@R1" {
			t.Errorf("due %q: %+v, %v", date, p.Needs, found.Sorted())
		}
	}
}

// The activity table as it is shipped: everything it waits for exists, a room can be planned, and nothing closes a
// surface before the fan test of its zone, nor tests before every room is inspected.
func TestShippedActivities(t *testing.T) {
	only := fstest.MapFS{}
	for _, name := range []string{"tables/activities.csv", "tables/components.csv"} {
		data, err := os.ReadFile("../../content/" + name)
		if err != nil {
			t.Fatal(err)
		}
		only[name] = &fstest.MapFile{Data: data}
	}
	var found diag.List
	n := example(t, 2)
	effort := n.effort
	n = network{lib: library.LoadLayers([]library.Layer{{Name: "built-in", FS: only}}, &found), crews: n.crews, scopes: n.scopes, effort: effort}
	n.build()
	for _, a := range n.lib.Activities.All() {
		for _, before := range a.After {
			if n.lib.Activities.Find(before) == nil {
				t.Errorf("%s waits for %s, which is no activity", a.ID, before)
			}
		}
	}
	for _, order := range [][2]string{{"lining", "interim-test"}, {"interim-test", "inspection"}, {"hang-walls", "insulation-release"},
		{"penetrations", "freeze"}, {"final-test", "second-fix"}, {"handover", "final-test"}} {
		if !n.follows(order[0], order[1]) {
			t.Errorf("%s does not come after %s", order[0], order[1])
		}
	}
	plan, err := n.schedule(programme.Weekdays, Range.likely, true)
	if err != nil {
		t.Fatal(err)
	}
	at := func(id string) programme.Slot {
		i := slices.IndexFunc(plan.Slots, func(s programme.Slot) bool { return s.ID == id })
		return plan.Slots[i]
	}
	if at("interim-test@Z").Start < at("inspection@R2").Finish || at("lining@R1").Start < at("interim-test@Z").Finish {
		t.Error("the rooms of a zone are tested before they are inspected, or closed before they are tested")
	}
}
