package assess

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"lapwork/generator/calc/bill"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
)

// Worked by hand with the weights of the table (common practice): mortar is 1 kg a kg. Rooms of 60, 30, 30 and 150 kg
// under a limit of 100 kg make three loads, the heavy room one of its own. Battens come 4.8 m long; 2.4 m get upstairs.
func TestLoadsAndStairs(t *testing.T) {
	rooms, st := exampleRooms(4)
	st.Load, st.Longest, st.Name = 100, 2400, "Attic"
	d := &Delivery{ID: "attic", Rooms: rooms}
	mortar := bill.Item{Component: "mortar-level", Unit: "kg", Packs: 11, PackSize: 25}
	for i, kg := range []float64{60, 30, 30, 150} {
		mortar.Lines = append(mortar.Lines, bill.Line{Component: "mortar-level", Room: string(rooms[i].ID), Amount: kg})
	}
	d.Items = []bill.Item{mortar, {Component: "batten-service", Unit: "m", Packs: 2, PackSize: 4.8}, {Component: "batten-clamp", Unit: "m", Packs: 2, PackSize: 2.4}}
	var faults diag.List
	lib := library.Load(os.DirFS("../../content"), nil, nil, &faults)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	r := Results{Context: Context{Job: &job.Job{Rooms: rooms}, Library: lib}, Deliveries: []*Delivery{d}}
	if got := loadsText(r.Loads(d, 100)); got != fmt.Sprintf("[%s, %s] [%s] [%s]", rooms[0].ID, rooms[1].ID, rooms[2].ID, rooms[3].ID) {
		t.Error(got)
	}
	var found diag.List
	r.access(&found)
	text := fmt.Sprint(found.Sorted())
	if len(found.Sorted()) != 2 || !strings.Contains(text, "batten-service is 4800 mm long, only 2400 mm get up to Attic") || !strings.Contains(text, "the storey takes 100 kg at once") {
		t.Error(text)
	}
	st.Load, st.Longest = 0, 0
	var quiet diag.List
	if r.access(&quiet); len(quiet.Sorted()) != 0 {
		t.Error(quiet.Sorted())
	}
}
