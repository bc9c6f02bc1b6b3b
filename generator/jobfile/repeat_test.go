package jobfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func terrace(t *testing.T) *job.Job {
	t.Helper()
	var found diag.List
	j := Read(os.DirFS(filepath.Join(jobs, "terrace")), ".", Known{}, &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	return j
}

// Three houses of two rooms and a bike room, the middle one left for right: its first corner stands where the second would.
// Every mention of a room of the unit is one of each house: worked by hand.
func TestTerrace(t *testing.T) {
	j := terrace(t)
	var rooms, zones, first []string
	for _, r := range j.Rooms {
		rooms = append(rooms, fmt.Sprintf("%s %d", r.ID, r.Footprint[0].X))
	}
	for _, z := range j.Zones {
		zones = append(zones, fmt.Sprint(z.ID, z.Rooms))
	}
	for _, r := range j.Deliveries[0].Rooms {
		first = append(first, string(r))
	}
	// The houses stand beside each other, 4 m wide with 1 m between; the third where it is put.
	for got, want := range map[string]string{
		strings.Join(rooms, ", "): "R1 -5000, h1.A1 0, h1.B1 0, h2.A1 9000, h2.B1 9000, h3.A1 9500, h3.B1 9500",
		strings.Join(zones, " "):  "h1[h1.A1 h1.B1] h2[h2.A1 h2.B1] h3[h3.A1 h3.B1]",
		strings.Join(first, " "):  "h1.A1 h1.B1 R1",
	} {
		if got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
	// The window of 1200 begins 1200 from the left of a wall of 4000, mirrored 4000 - 1200 - 1200 = 1600; the pipe at 1700 lies
	// at 4000 - 1700 = 2300; studs are counted back from 4000.
	for i, want := range []string{"1200 1700 0", "1600 2300 4000"} {
		r := j.Rooms[1+2*i]
		if got := fmt.Sprint(r.Openings[0].X, r.Penetrations[0].X, r.Walls[0].Framing.BackFrom); got != want || r.Mirrored != (i == 1) {
			t.Errorf("%s: %s, want %s", r.ID, got, want)
		}
	}
	if o := j.Rooms[3].Openings[0]; o.ID != "h2.A1-O1" || j.Rooms[3].Name != "Kitchen" || j.Rooms[4].Storey.ID != "1" {
		t.Errorf("%s, %s on %s", o.ID, j.Rooms[3].Name, j.Rooms[4].Storey.ID)
	}
	var scopes []string
	for _, s := range j.Settings {
		scopes = append(scopes, s.Scope)
	}
	for _, a := range j.Flags[1:] {
		scopes = append(scopes, a.Scope)
	}
	if got := strings.Join(scopes, " "); got != "h1.A1-W1 h2.A1-W1 h3.A1-W1 h1.A1-O1 h2.A1-O1 h3.A1-O1" {
		t.Errorf("settings and answers for %s", got)
	}
	if u := j.Units[0]; len(u.Instances) != 3 || u.Instances[2].Name != "House 3" || fmt.Sprint(u.Rooms, u.Instances[2].Rooms) != "[A1 B1] [h3.A1 h3.B1]" {
		t.Errorf("%+v", u)
	}
}

// The ids of junctions keep their instance on both sides of a joint.
func TestMentionsOfJunctions(t *testing.T) {
	p := repeater{copies: map[string][]string{"B2": {"a.B2", "b.B2"}}, within: map[string][]string{"a": {"a.B2"}}}
	for in, want := range map[string]string{
		"B2-W3+C1": "a.B2-W3+C1 b.B2-W3+C1", "B2-W3+B2-C1": "a.B2-W3+a.B2-C1 b.B2-W3+b.B2-C1", "B2-O1/sill": "a.B2-O1/sill b.B2-O1/sill",
		"B21-W1": "B21-W1", "a": "a.B2", "B2": "a.B2 b.B2", "": "",
	} {
		var got []string
		for _, id := range p.spread([]at[string]{{v: in}}) {
			got = append(got, id.v)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// Left and right cheeks change places in the ids of a mirrored instance, and twice gives the id again.
func TestCheeksOfMirroredRooms(t *testing.T) {
	p := repeater{copies: map[string][]string{"C1": {"a.C1", "m.C1"}}, turned: map[string]bool{"m.C1": true}}
	for in, want := range map[string]string{
		"C1-D1-W2": "a.C1-D1-W2 m.C1-D1-W3", "C1-D1-W3+C1-S1": "a.C1-D1-W3+a.C1-S1 m.C1-D1-W2+m.C1-S1", "C1-W2": "a.C1-W2 m.C1-W2",
		"C1-D12-W1": "a.C1-D12-W1 m.C1-D12-W1", "C1-D1-W3/2": "a.C1-D1-W3/2 m.C1-D1-W2/2",
	} {
		var got []string
		for _, id := range p.spread([]at[string]{{v: in}}) {
			got = append(got, id.v)
			if otherCheek(otherCheek(id.v)) != id.v {
				t.Errorf("%s is not its own twin's twin", id.v)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// However many instances, a job has each room once for every instance, all ids differ, and every room of an instance is
// the stated one moved, or mirrored and moved.
func TestRepeatLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 4).Draw(t, "rooms"), rapid.IntRange(1, 6).Draw(t, "instances")
		var b strings.Builder
		b.WriteString(houseHead + "rooms:\n")
		for i := range n {
			fmt.Fprintf(&b, "- {id: R%d, name: R, storey: E, height: 2 m, plan: {from: [%d m, 0], size: [2 m, %d m]}}\n", i, 3*i, 2+i)
		}
		b.WriteString("units:\n- id: u\n  name: U\n  rooms: [")
		for i := range n {
			fmt.Fprintf(&b, "R%d,", i)
		}
		b.WriteString("]\n  instances:\n")
		turned := map[int]bool{}
		for k := range m {
			turned[k] = k > 0 && rapid.Bool().Draw(t, "mirrored")
			fmt.Fprintf(&b, "  - {id: i%d, mirrored: %s, shift: [%d m, %d m]}\n", k, map[bool]string{true: "yes", false: "no"}[turned[k]], rapid.IntRange(-90, 90).Draw(t, "x"), rapid.IntRange(-90, 90).Draw(t, "y"))
		}
		j, found := read(b.String())
		if err := found.Err(); err != nil || len(j.Rooms) != n*m {
			t.Fatalf("%d rooms of %d in %d instances: %v", len(j.Rooms), n, m, err)
		}
		seen := map[job.RoomID]bool{}
		for i, r := range j.Rooms {
			first := j.Rooms[i%n]
			side := q.MM(1)
			if turned[i/n] {
				side = -1
			}
			dx, dy := r.Footprint[0].X-side*first.Footprint[0].X, r.Footprint[0].Y-first.Footprint[0].Y
			for c := range r.Footprint {
				if r.Footprint[c].X-side*first.Footprint[c].X != dx || r.Footprint[c].Y-first.Footprint[c].Y != dy {
					t.Fatalf("%s is not %s moved", r.ID, first.ID)
				}
			}
			if seen[r.ID] {
				t.Fatalf("%s twice", r.ID)
			}
			seen[r.ID] = true
		}
	})
}
