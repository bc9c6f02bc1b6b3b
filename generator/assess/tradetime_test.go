package assess

import (
	"strings"
	"testing"

	"lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// stating gives the example of a room count with what other trades state.
func stating(t *testing.T, rooms int, times ...job.TradeTime) network {
	t.Helper()
	n := example(t, rooms)
	r := Results{Context: Context{Job: &job.Job{TradeTimes: times}, Library: n.lib}}
	again := network{lib: n.lib, crews: n.crews, scopes: n.scopes, effort: n.effort, stated: r.tradeTime}
	again.build()
	return again
}

// Worked by hand: insulation takes 4 h in a room, 6 h where that is stated for the room; plaster dries 72 h elapsed after
// 3 h of work, so that what follows it begins no earlier. Nothing of it is shared out among two persons.
func TestStatedTimesOfTrades(t *testing.T) {
	n := stating(t, 2, job.TradeTime{Activity: "insulate", Rooms: []job.RoomID{"R2"}, Low: 300, Likely: 360, High: 420, By: "trade"},
		job.TradeTime{Activity: "insulate", Low: 180, Likely: 240, High: 300, By: "trade"},
		job.TradeTime{Activity: "strip-out", Low: 60, Likely: 60, High: 60, Wait: 72 * 60, By: "strippers"})
	for id, want := range map[string]Range{"insulate@R1": {180, 240, 300}, "insulate@R2": {300, 360, 420}, "strip-out@R1": {60, 60, 60}} {
		s := n.byID[id]
		s.Minutes = Range{} // of the example; in a job a trade's own part has none
		if !s.Known || n.duration(s) != want {
			t.Errorf("%s takes %v, want %v", id, n.duration(s), want)
		}
	}
	if wait := linked(t, n, "strip-out@R1", "condition-check@R1"); wait != 72*60 {
		t.Errorf("after stripping out %v min, want 72 h", wait)
	}
	plain := example(t, 2)
	first, err := plain.schedule(programme.Weekdays, Range.likely, true)
	if err != nil {
		t.Fatal(err)
	}
	later, err := n.schedule(programme.Weekdays, Range.likely, true)
	if err != nil || later.Finish < first.Finish+programme.Instant(72*60) {
		t.Errorf("it ends at %d, without these times at %d: %v", later.Finish, first.Finish, err)
	}
}

// What the fitters add to a trade's step is shared out as ever: 60 person-minutes of two make 30 more.
func TestTradeBesideFitters(t *testing.T) {
	n := stating(t, 1, job.TradeTime{Activity: "loose-fill", Low: 120, Likely: 120, High: 120, By: "trade"})
	s := n.byID["loose-fill@R1"]
	if s == nil {
		t.Skip("the example has no loose-fill")
	}
	s.Concerns, s.Minutes = true, Range{60, 60, 60}
	if got := n.duration(s).Likely; got != q.Minutes(150) {
		t.Errorf("it takes %v", got)
	}
}

// A time for what no other trade does is a fault at its place.
func TestTimeOfNoTrade(t *testing.T) {
	n := example(t, 1)
	var found diag.List
	r := Results{Context: Context{Job: &job.Job{TradeTimes: []job.TradeTime{{Activity: "laps"}, {Activity: "insulate"}}}, Library: n.lib}}
	r.checkTrades(&found)
	if err := found.Err(); err == nil || !strings.Contains(err.Error(), `"laps" is no activity of another trade`) || len(found.Sorted()) != 1 {
		t.Error(err)
	}
}
