package assess

import (
	"encoding/csv"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lapwork/generator/calc/bill"
	"lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

var examples = os.DirFS("../../testdata/programme")

// tablesOnly loads the library of the examples: activities and the components they place.
func tablesOnly(t *testing.T) *library.Library {
	t.Helper()
	root, err := fs.Sub(examples, ".")
	if err != nil {
		t.Fatal(err)
	}
	var found diag.List
	lib := library.LoadLayers([]library.Layer{{Name: "built-in", FS: root}}, &found)
	if len(lib.Activities.All()) < 30 || len(lib.Components.All()) < 10 {
		t.Fatalf("tables not read: %v", found.Sorted())
	}
	return lib
}

func readTable(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := examples.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// exampleRooms makes n equal rooms of one storey.
func exampleRooms(n int) ([]*job.Room, *job.Storey) {
	st := &job.Storey{ID: "1", Name: "Storey"}
	var rooms []*job.Room
	for i := range n {
		rooms = append(rooms, &job.Room{ID: job.RoomID(fmt.Sprintf("R%d", i+1)), Name: "Bedroom", Storey: st})
	}
	return rooms, st
}

// example is the network of the worked examples: the activity table, the work of each room as the trade specification
// states it, and the components placed.
func example(t *testing.T, n int) network {
	t.Helper()
	rooms, st := exampleRooms(n)
	minutes := map[string]float64{}
	for _, row := range readTable(t, "example-work.csv") {
		x, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		minutes[row[0]] = x
	}
	r := Results{Context: Context{Job: &job.Job{Rooms: rooms, Storeys: []*job.Storey{st}}}, byRoom: map[job.RoomID][]*Place{}}
	for _, room := range rooms {
		for _, row := range readTable(t, "example-places.csv") {
			p := &Place{Record: junction.Record{ID: strings.Replace(row[0], "R1", string(room.ID), 1), Room: room}}
			p.Chosen.Activity = row[1]
			for _, c := range strings.Fields(row[2]) {
				p.Lines = append(p.Lines, bill.Line{Component: c})
			}
			r.byRoom[room.ID] = append(r.byRoom[room.ID], p)
		}
	}
	net := network{lib: tablesOnly(t), crews: crewsOf(r.Job), scopes: r.scopes()}
	net.effort = func(a *library.Activity, s Scope) effort {
		e := effort{known: true, concerns: true}
		x := minutes[a.ID]
		if a.ID == "early-strips" || a.ID == "repair" {
			x *= float64(len(s.Rooms))
		}
		e.minutes = Range{q.Minutes(x), q.Minutes(x), q.Minutes(x)}
		for _, room := range s.Rooms {
			for _, p := range r.byRoom[room.ID] {
				if p.Chosen.Activity == a.ID {
					e.places = append(e.places, p)
				}
			}
		}
		return e
	}
	net.build()
	return net
}

// row of a worked example: step, start, finish, minutes of work, what set the start.
var row = regexp.MustCompile(`(?m)^\| (\S+) \| (day \d+ \d\d:\d\d) \| (day \d+ \d\d:\d\d) \| (\d+) \| (.+) \|$`)

// Both worked examples of the trade specification, done again with the amended activities and waits from the components.
// The tables in testdata were made by another program from the same rules: there every working minute is a cell of a
// list and a crew is a count for each minute. The arithmetic of what sets the end stands above each table.
func TestWorkedExamples(t *testing.T) {
	for n, name := range map[int]string{1: "one-room.md", 4: "four-rooms.md"} {
		text, err := fs.ReadFile(examples, name)
		if err != nil {
			t.Fatal(err)
		}
		net := example(t, n)
		p := Programme{Calendar: programme.Weekdays}
		if err := p.plan(&net, false); err != nil {
			t.Fatal(err)
		}
		want := row.FindAllStringSubmatch(string(text), -1)
		if len(want) != len(net.steps) {
			t.Fatalf("%s has %d rows for %d steps", name, len(want), len(net.steps))
		}
		for _, w := range want {
			s := net.byID[w[1]]
			if s == nil {
				t.Errorf("%s: no step %s", name, w[1])
				continue
			}
			by := s.Slot.SetBy
			if s.Slot.Lag > 0 {
				by += fmt.Sprintf(" + %.0f h", float64(s.Slot.Lag/60))
			}
			work := strconv.Itoa(worked(s.Slot.Start, s.Slot.Finish))
			if got := [4]string{moment(s.Slot.Start), moment(s.Slot.Finish), work, by}; got != [4]string(w[2:6]) {
				t.Errorf("%s: %s %v, want %v", name, w[1], got, w[2:6])
			}
		}
	}
}

// worked counts the working minutes between two instants one by one.
func worked(from, to programme.Instant) int {
	n := 0
	for m := from; m < to; m++ {
		if day, minute := m.Day(); (day-1)%7 < 5 && minute >= 480 && minute < 960 {
			n++
		}
	}
	return n
}

func moment(i programme.Instant) string {
	day, minute := i.Day()
	return fmt.Sprintf("day %d %02d:%02d", day, minute/60, minute%60)
}
