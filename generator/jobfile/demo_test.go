package jobfile

import (
	"bytes"
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// columns reads one column of a built-in table, and another beside it.
func columns(t *testing.T, table, name, beside string) map[string]string {
	t.Helper()
	text, err := os.ReadFile("../../content/tables/" + table + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	in := csv.NewReader(bytes.NewReader(text))
	in.Comment = '#'
	rows, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	a, b := slices.Index(rows[0], name), slices.Index(rows[0], beside)
	if a < 0 || b < 0 {
		t.Fatalf("%s.csv has no column %s or %s", table, name, beside)
	}
	out := map[string]string{}
	for _, row := range rows[1:] {
		out[row[a]] = row[b]
	}
	return out
}

func setOf(m map[string]string) Set {
	out := Set{}
	for id := range m {
		out[id] = true
	}
	return out
}

// The demo names only rows that the built-in tables have, and leaves three questions to the site lead open, as it says.
func TestDemoFitsTheTables(t *testing.T) {
	known := Known{
		Substrates: setOf(columns(t, "substrates", "id", "name")), Components: setOf(columns(t, "components", "id", "name")),
		Flags: map[string][]string{}, Settings: map[string]Range{},
	}
	for name, values := range columns(t, "flags", "id", "values") {
		known.Flags[name] = strings.FieldsFunc(values, func(c rune) bool { return c == ' ' || c == ',' || c == '|' })
	}
	for name := range columns(t, "variables", "name", "scope") {
		known.Settings[name] = Range{"mm", 0, 4000}
	}
	var found diag.List
	j := Read(os.DirFS("../../content"), "demo", known, &found)
	ReadFirm(os.DirFS("../../content/demo"), "demo", known, &found)
	if len(found.Sorted()) > 0 {
		t.Fatal(found.Sorted())
	}
	for _, a := range j.Flags {
		if a.Scope == "" {
			delete(known.Flags, string(a.Flag))
		}
	}
	for _, flag := range []string{"flue_fill_named", "luminaire_rated_and_stays", "pocket_gap"} {
		if _, open := known.Flags[flag]; !open {
			t.Errorf("%s is answered", flag)
		}
	}
	if len(known.Flags) != 3 {
		t.Errorf("open questions: %v", known.flagNames())
	}
}

// The study is the room to reckon by hand: 3.0 m x 3.6 m, 2.5 m high, one window of 1.2 m x 1.5 m.
func TestDemoStudyIsPlain(t *testing.T) {
	var found diag.List
	j := Read(os.DirFS("../../content"), "demo", Known{}, &found)
	i := slices.IndexFunc(j.Rooms, func(r *job.Room) bool { return r.ID == "A6" })
	if i < 0 {
		t.Fatal("no study")
	}
	r := j.Rooms[i]
	w, d := r.Footprint[2].X-r.Footprint[0].X, r.Footprint[2].Y-r.Footprint[0].Y
	if len(r.Footprint) != 4 || w != 3000 || d != 3600 || r.Ceiling.Height != 2500 || len(r.Ceiling.Slopes) != 0 ||
		len(r.Openings) != 1 || r.Openings[0].Width != 1200 || r.Openings[0].Height != 1500 {
		t.Errorf("%d x %d, %+v", w, d, r)
	}
}

// Rooms of one storey do not overlap, and stand apart by a wall: no inside face of one lies within 90 mm (half a brick
// less its plaster, common practice, no source) of another's. All plans of the demo lie in their box.
func TestDemoPlansFitTogether(t *testing.T) {
	var found diag.List
	j := Read(os.DirFS("../../content"), "demo", Known{}, &found)
	const wall = 90
	for i, a := range j.Rooms {
		for _, b := range j.Rooms[i+1:] {
			ax0, ay0, ax1, ay1 := box(a)
			bx0, by0, bx1, by1 := box(b)
			if a.Storey == b.Storey && ax0-wall < bx1 && bx0-wall < ax1 && ay0-wall < by1 && by0-wall < ay1 {
				t.Errorf("%s and %s overlap or have no wall between them", a.ID, b.ID)
			}
		}
	}
}

func box(r *job.Room) (x0, y0, x1, y1 int) {
	x0, y0, x1, y1 = 1<<30, 1<<30, -1<<30, -1<<30
	for _, c := range r.Footprint {
		x0, y0, x1, y1 = min(x0, int(c.X)), min(y0, int(c.Y)), max(x1, int(c.X)), max(y1, int(c.Y))
	}
	return x0, y0, x1, y1
}
