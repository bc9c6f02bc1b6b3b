package jobfile

import (
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
