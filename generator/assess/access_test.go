package assess

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/bill"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	_ "lapwork/generator/lawtest"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// Worked by hand with the weights of the table (common practice): mortar is 1 kg a kg, a bag 25 kg. Rooms of 60, 30, 30 and
// 150 kg open bags 1 to 3, 4, 5 and 6 to 11; under a limit of 100 kg four bags go up at once: 4, 4 and 3, the first for
// the first two rooms. Battens come 4.8 m long; 2.4 m get upstairs.
func TestLoadsAndStairs(t *testing.T) {
	rooms, st := exampleRooms(4)
	st.Load, st.Longest, st.Name = 100, 2400, "Attic"
	d := &Delivery{ID: "attic", Rooms: rooms}
	mortar := bill.Item{Component: "mortar-level", Unit: "kg", Packs: 11, PackSize: 25}
	for i, kg := range []float64{60, 30, 30, 150} {
		mortar.Lines = append(mortar.Lines, bill.Line{Component: "mortar-level", Room: string(rooms[i].ID), Amount: kg})
	}
	d.Items = []bill.Item{mortar}
	r := Results{Context: Context{Job: &job.Job{Rooms: rooms}, Library: contentLibrary(t)}, Deliveries: []*Delivery{d}}
	got := ""
	for _, trip := range r.Trips(d) {
		got += fmt.Sprintf("%d bags, %.0f kg:", trip.Packs[0].Packs, float64(trip.Mass))
		for _, room := range trip.Rooms {
			got += " " + string(room.ID)
		}
		got += "; "
	}
	if want := fmt.Sprintf("4 bags, 100 kg: %s %s; 4 bags, 100 kg: %s %s; 3 bags, 75 kg: %s; ", rooms[0].ID, rooms[1].ID, rooms[2].ID, rooms[3].ID, rooms[3].ID); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	d.Items = append(d.Items, bill.Item{Component: "batten-service", Unit: "m", Packs: 2, PackSize: 4.8}, bill.Item{Component: "batten-clamp", Unit: "m", Packs: 2, PackSize: 2.4})
	var found diag.List
	r.access(&found)
	text := fmt.Sprint(found.Sorted())
	if len(found.Sorted()) != 2 || !strings.Contains(text, "batten-service is 4800 mm long, only 2400 mm get up to Attic") || !strings.Contains(text, "100 kg go up at once: it makes 3 loads") {
		t.Error(text)
	}
	d.Load = 20 // its hoist takes less than a bag
	var heavy diag.List
	if r.access(&heavy); !strings.Contains(fmt.Sprint(heavy.Sorted()), "one pack of mortar-level weighs about 25 kg, and only 20 kg go up at once") {
		t.Error(heavy.Sorted())
	}
	st.Load, st.Longest, d.Load = 0, 0, 0
	var quiet diag.List
	if r.access(&quiet); len(quiet.Sorted()) != 0 {
		t.Error(quiet.Sorted())
	}
}

func contentLibrary(t *testing.T) *library.Library {
	t.Helper()
	var faults diag.List
	lib := library.Load(os.DirFS("../../content"), nil, nil, &faults)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return lib
}

// Whatever a delivery holds, its loads carry every pack once, none is over the limit but a single pack that is so by itself, no
// pack would have found room in an earlier load, and the first room's packs begin the first load.
func TestLawOfLoads(t *testing.T) {
	lib := contentLibrary(t)
	rapid.Check(t, func(t *rapid.T) {
		rooms, st := exampleRooms(rapid.IntRange(1, 6).Draw(t, "rooms"))
		d := &Delivery{ID: "d", Rooms: rooms}
		for _, c := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"mortar-level", "batten-service", "tape-single-60", "adhesive-sausage"}), 1, 4, rapid.ID).Draw(t, "components") {
			it := bill.Item{Component: c, Unit: lib.Components.Find(c).Unit, PackSize: lib.Components.Find(c).Pack.Likely}
			sum := 0.0
			for _, room := range rooms {
				x := float64(rapid.IntRange(0, 40).Draw(t, "packs")) * it.PackSize / 4
				it.Lines = append(it.Lines, bill.Line{Component: c, Room: string(room.ID), Amount: x})
				sum += x
			}
			it.Packs = int(bill.Ceil(sum / it.PackSize))
			d.Items = append(d.Items, it)
		}
		st.Load = q.Mass(rapid.IntRange(1, 200).Draw(t, "limit"))
		r := Results{Context: Context{Job: &job.Job{Rooms: rooms}, Library: lib}, Deliveries: []*Delivery{d}}
		trips := r.Trips(d)
		all, _ := r.MassOf(d)
		if (len(trips) == 0) != (all <= st.Load) {
			t.Fatalf("%v kg under %v kg make %d loads", all, st.Load, len(trips))
		}
		carried := map[job.ComponentID]int{}
		for i, trip := range trips {
			packs := 0
			for _, p := range trip.Packs {
				carried[p.Component] += p.Packs
				packs += p.Packs
			}
			if trip.Mass > st.Load && packs > 1 {
				t.Errorf("load %d of %d packs weighs %v, over %v", i+1, packs, trip.Mass, st.Load)
			}
			for _, p := range trip.Packs {
				for k, earlier := range trips[:i] {
					if earlier.Mass+p.PackMass <= st.Load {
						t.Errorf("%s of load %d finds room in load %d", p.Component, i+1, k+1)
					}
				}
			}
		}
		if len(trips) > 0 && trips[0].Rooms[0] != rooms[r.parcels(d)[0].room] {
			t.Errorf("load 1 begins with room %s", trips[0].Rooms[0].ID)
		}
		for _, it := range d.Items {
			if len(trips) > 0 && carried[job.ComponentID(it.Component)] != it.Packs {
				t.Errorf("%d of %d packs of %s are carried", carried[job.ComponentID(it.Component)], it.Packs, it.Component)
			}
		}
	})
}
