package jobfile

import (
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

const oneRoom = `
reference: 26-014
name: One room
lengths: mm
target: {kind: n50, value: 1.5}
storeys: [{id: E, name: Extension, level: 0}]
rooms:
  - id: E1
    name: Study
    storey: E
    plan: {from: [0, 0], size: [4.2 m, 3000]}
    height: 8 ft 2 in
    walls:
      usual: {behind: outside, layer: sheet, substrate: timber-planed, framing: {spacing: 600}}
      4: {behind: heated, layer: none, substrate: plaster-gypsum}
    ceiling: {behind: unheated, layer: sheet, substrate: timber-planed}
    floor: {behind: ground, layer: none, substrate: screed}
    openings:
      - {id: O1, kind: window, in: wall 1, at: [1500, 900], size: [1200, 1300], reveal: 120}
`

// read reads one text as job.yaml, knowing no tables.
func read(text string) (*job.Job, *diag.List) {
	var found diag.List
	return Read(fstest.MapFS{"job.yaml": {Data: []byte(text)}}, ".", Known{}, &found), &found
}

func TestOneRoom(t *testing.T) {
	j, found := read(oneRoom)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	room := j.Rooms[0]
	// 8 ft 2 in = 98 in = 98 × 25.4 mm (international inch, 1959) = 2489.2 mm.
	if room.Ceiling.Height != 2489 || len(room.Walls) != 4 || room.Storey != j.Storeys[0] {
		t.Errorf("room %+v", room)
	}
	if w := room.Walls[3]; w.Behind != job.Heated || w.Framing.Pitch != 600 || w.Edge != 4 {
		t.Errorf("wall 4 %+v: what it does not say follows from the usual wall", w)
	}
	o := room.Openings[0]
	if o.ID != "E1-O1" || o.X != 1500 || o.Height != 1300 || o.Room != room || o.Pos.Line != 19 || o.Pos.Col != 9 {
		t.Errorf("opening %+v", o)
	}
	if j.Language != "en" || found.Count(diag.Open) != 2 {
		t.Errorf("language %q, %d open points; want en, 2 (issue and safety data)", j.Language, found.Count(diag.Open))
	}
}

// What a survey assumed is an open point at its own line until the line is gone; the list may be emptied line by line.
func TestAssumptions(t *testing.T) {
	line := strings.Count(oneRoom, "\n") + 1
	for text, want := range map[string]int{"assumed:\n  - outside lies behind the gable\n  - \"a 2: b\"\n": 2, "assumed:\n": 0, "assumed: []\n": 0, "assumed: # none left\n": 0} {
		j, found := read(oneRoom + text)
		n := 0
		for _, f := range found.Sorted() {
			if f.Level == diag.Fault {
				t.Errorf("%q: %v", text, f)
			}
			if said, ok := strings.CutPrefix(f.Msg, "assumed by the survey: "); ok {
				n++
				if f.Level != diag.Open || f.Pos.Line != line+n || f.Pos.Col != 5 || said != j.Assumed[n-1].Text || f.Hint == "" {
					t.Errorf("%q: %+v", text, f)
				}
			}
		}
		if n != want || len(j.Assumed) != want {
			t.Errorf("%q: %d open points and %v, want %d", text, n, j.Assumed, want)
		}
	}
	for text, want := range map[string]string{"assumed: word\n": "does not fit", "assumed: [[a]]\n": "does not fit", "assumed: [" + strings.Repeat("x, ", 201) + "]\n": "assumptions",
		"assumed: [" + strings.Repeat("x", 401) + "]\n": "longer than 400"} {
		if _, found := read(oneRoom + text); found.Err() == nil || !strings.Contains(found.Err().Error(), want) {
			t.Errorf("%.30q: %v, want %q", text, found.Err(), want)
		}
	}
}
