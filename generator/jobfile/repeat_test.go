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

// Three houses of two rooms and a bike room. Every mention of a room of the unit is one of each house: worked by hand.
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
		strings.Join(rooms, ", "): "R1 -5000, h1.A1 0, h1.B1 0, h2.A1 5000, h2.B1 5000, h3.A1 9500, h3.B1 9500",
		strings.Join(zones, " "):  "h1[h1.A1 h1.B1] h2[h2.A1 h2.B1] h3[h3.A1 h3.B1]",
		strings.Join(first, " "):  "h1.A1 h1.B1 R1",
	} {
		if got != want {
			t.Errorf("got  %s\nwant %s", got, want)
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

// However many instances, a job has each room once for every instance, all ids differ, and every room of an instance is
// the stated one moved.
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
		for k := range m {
			fmt.Fprintf(&b, "  - {id: i%d, shift: [%d m, %d m]}\n", k, rapid.IntRange(-90, 90).Draw(t, "x"), rapid.IntRange(-90, 90).Draw(t, "y"))
		}
		j, found := read(b.String())
		if err := found.Err(); err != nil || len(j.Rooms) != n*m {
			t.Fatalf("%d rooms of %d in %d instances: %v", len(j.Rooms), n, m, err)
		}
		seen := map[job.RoomID]bool{}
		for i, r := range j.Rooms {
			first := j.Rooms[i%n]
			dx, dy := r.Footprint[0].X-first.Footprint[0].X, r.Footprint[0].Y-first.Footprint[0].Y
			for c := range r.Footprint {
				if r.Footprint[c].X-first.Footprint[c].X != dx || r.Footprint[c].Y-first.Footprint[c].Y != dy {
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
