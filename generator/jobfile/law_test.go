package jobfile

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Wanted: exact definitions of the international yard and pound agreement (1959), 1 ft = 0.3048 m and 1 in = 25.4 mm;
// the rest is decimal. Rounded to the nearest millimetre, halves away from zero.
func TestLengths(t *testing.T) {
	for text, want := range map[string]q.MM{
		"2.4 m": 2400, "60 mm": 60, "24.5cm": 245, "0": 0, "-3 m": -3000, "1 in": 25, "1 ft": 305, "8 ft 2 in": 2489, // 2489.2
		"6 ft 0 1/2 in": 1842, // 72.5 × 25.4 = 1841.5
		"3 ft 4.25 in":  1022, // 40.25 × 25.4 = 1022.35
		"10 ft 3/4 in":  3067, // 3048 + 19.05
		"12.5 mm":       13, "0.0004 m": 0, "999.999999 m": 1000000,
	} {
		if got, wrong, _ := parseLength(text, 0); wrong != "" || got != want {
			t.Errorf("%s: %d mm, %s; want %d", text, got, wrong, want)
		}
	}
	for _, text := range []string{"", "m", "2,4 m", "2.4", "two m", "1e3 mm", "4 km", "8 ft 13 in", "1 ft 4/3 in", "1 ft 1/0 in", "9999999999 m", "2.4 m 3", "٣ m", "0x10 mm"} {
		if got, wrong, hint := parseLength(text, 0); wrong == "" || hint == "" {
			t.Errorf("%q is read as %d mm", text, got)
		}
	}
}

// Law: writing a whole number of millimetres in any decimal unit and reading it gives it back; a bare number is in the
// unit of the header.
func TestLengthsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := q.MM(rapid.IntRange(-1_000_000, 1_000_000).Draw(t, "mm"))
		for name, decimals := range map[string]int{"mm": 0, "cm": 1, "m": 3} {
			bare := decimal(int(mm), decimals)
			for _, text := range []string{bare + " " + name, bare + name, bare} {
				if got, wrong, _ := parseLength(text, units[name]); wrong != "" || got != mm {
					t.Fatalf("%s in %s: %d, %s", text, name, got, wrong)
				}
			}
		}
		if got, wrong, _ := parseLength(mmText(mm), 0); wrong != "" || got != mm {
			t.Fatalf("%s: %d, %s", mmText(mm), got, wrong)
		}
	})
}

// decimal writes an integer with so many decimals.
func decimal(n, decimals int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	text := fmt.Sprintf("%0*d", decimals+1, n)
	if decimals > 0 {
		text = text[:len(text)-decimals] + "." + text[len(text)-decimals:]
	}
	return sign + text
}

// house is a job drawn at random, written by writeHouse.
type house struct{ rooms []house1 }

type house1 struct{ w, d, h, x, y, ow, oh int }

func drawHouse(t *rapid.T) house {
	var out house
	for i := range rapid.IntRange(1, 5).Draw(t, "rooms") {
		n := func(name string, low, high int) int { return rapid.IntRange(low, high).Draw(t, fmt.Sprint(name, i)) }
		out.rooms = append(out.rooms, house1{n("w", 100, 9000), n("d", 100, 9000), n("h", 300, 4000), n("x", -9000, 9000),
			n("y", -9000, 9000), n("ow", 100, 3000), n("oh", 100, 3000)})
	}
	return out
}

const houseHead = `reference: 26-1
name: House
target: {kind: n50, value: 1.5}
storeys: [{id: E, name: Ground, level: 0}]
faces: {outer: {behind: outside, layer: sheet, substrate: osb, framing: {spacing: 600 mm}}}
usual: {walls: outer, ceiling: outer, floor: {behind: ground, layer: none}}
`

// roomsText writes the rooms with lengths written by l; turned lists the keys of a room from the last.
func (h house) roomsText(l func(int) string, turned bool) string {
	var b strings.Builder
	b.WriteString("rooms:\n")
	for i, r := range h.rooms {
		keys := []string{
			fmt.Sprintf("id: R%d", i), fmt.Sprintf("name: Room %d", i), "storey: E", "height: " + l(r.h),
			fmt.Sprintf("plan: {from: [%s, %s], size: [%s, %s]}", l(r.x), l(r.y), l(r.w), l(r.d)),
			fmt.Sprintf("openings: [{id: O1, kind: window, in: wall 2, at: [%s, %s], size: [%s, %s]}]", l(r.x), l(r.y), l(r.ow), l(r.oh)),
		}
		if turned {
			for a, z := 0, len(keys)-1; a < z; a, z = a+1, z-1 {
				keys[a], keys[z] = keys[z], keys[a]
			}
		}
		b.WriteString("  - " + strings.Join(keys, "\n    ") + "\n")
	}
	return b.String()
}

// Law: how a job is written does not change it: units, order of keys, corners or rectangle, one file or several.
func TestWritingDoesNotChangeTheJob(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := drawHouse(t)
		inMM := func(n int) string { return fmt.Sprint(n, " mm") }
		inM := func(n int) string { return decimal(n, 3) + " m" }
		want := readAll(t, map[string]string{"job.yaml": houseHead + h.roomsText(inMM, false)})
		if r := want.Rooms[0]; int(r.Ceiling.Height) != h.rooms[0].h || int(r.Footprint[2].X) != h.rooms[0].x+h.rooms[0].w || int(r.Openings[0].Height) != h.rooms[0].oh {
			t.Fatalf("not as written: %+v", r)
		}
		for name, files := range map[string]map[string]string{
			"metres":   {"job.yaml": houseHead + h.roomsText(inM, false)},
			"bare cm":  {"job.yaml": "lengths: cm\n" + houseHead + h.roomsText(func(n int) string { return decimal(n, 1) }, false)},
			"turned":   {"job.yaml": h.roomsText(inMM, true) + houseHead},
			"two":      {"job.yaml": "files: [rooms.yaml]\n" + houseHead, "rooms.yaml": h.roomsText(inM, false)},
			"patterns": {"job.yaml": "files: [\"p/*.yaml\"]\n" + houseHead, "p/rooms.yaml": h.roomsText(inM, true)},
		} {
			got := readAll(t, files)
			if d := cmp.Diff(want, got, cmpopts.IgnoreTypes(diag.Pos{})); d != "" {
				t.Fatalf("%s: %s", name, d)
			}
		}
	})
}

func readAll(t *rapid.T, files map[string]string) *job.Job {
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	var found diag.List
	j := Read(fsys, ".", Known{}, &found)
	if found.Err() != nil {
		t.Fatal(found.Err())
	}
	return j
}

// Faces: the room's own word goes before the storey's and the job's; "like" cuts off what is more general; framing is
// combined key by key.
func TestFacesSettle(t *testing.T) {
	j, found := read(`
reference: 26-1
name: Faces
lengths: mm
target: {kind: n50, value: 1.5}
faces:
  a: {behind: outside, layer: sheet, substrate: osb, framing: {spacing: 600, offset: 40}, cavity: 50}
  b: {like: a, cavity: 0}
usual: {walls: {behind: unheated, layer: board, substrate: plywood, lining: 15}, floor: {behind: ground, layer: none}, ceiling: a}
storeys: [{id: E, name: Ground, level: 0, height: 2500, usual: {walls: {layer: sheet}}}]
rooms:
  - id: R
    name: Room
    storey: E
    plan: [[0, 0], [1000, 0], [1000, 1000], [500, 1500], [0, 1000]]
    walls:
      usual: {substrate: clt-glulam}
      2: a
      3: {like: b, framing: {offset: 10}}
      4: {like: a, framing: {lines: [100, 900]}}
      5: {behind: heated, layer: none}
`)
	if found.Err() != nil {
		t.Fatal(found.Err())
	}
	type row struct {
		behind    job.Behind
		layer     job.LayerKind
		substrate job.SubstrateID
		pitch     q.MM
		offset    q.MM
		cavity    q.MM
		lining    q.MM
		lines     int
	}
	want := []row{
		{"unheated", "sheet", "clt-glulam", 0, 0, 0, 15, 0}, // job < storey < room's usual
		{"outside", "sheet", "osb", 600, 40, 50, 0, 0},      // a name cuts off the usual lining
		{"outside", "sheet", "osb", 600, 10, 0, 0, 0},       // b's cavity of 0 is a statement
		{"outside", "sheet", "osb", 0, 0, 50, 0, 2},         // lines replace spacing and offset
		{"heated", "none", "clt-glulam", 0, 0, 0, 15, 0},
	}
	for i, w := range j.Rooms[0].Walls {
		got := row{w.Behind, w.Layer, w.Substrate, w.Framing.Pitch, w.Framing.Offset, w.Cavity, w.Lining, len(w.Framing.Lines)}
		if got != want[i] {
			t.Errorf("wall %d: %+v, want %+v", i+1, got, want[i])
		}
	}
}

var positionText = regexp.MustCompile(`^([^:]+):(\d+):(\d+): `)

// Every line of a finding begins with its place, in the form editors jump to.
func TestFindingsCarryTheirPlace(t *testing.T) {
	_, found := read("name: x\nrooms: [{id: A b}, 3]\n")
	for _, f := range found.Sorted() {
		m := positionText.FindStringSubmatch(f.String())
		if m == nil || m[1] != "job.yaml" || m[2] != strconv.Itoa(f.Pos.Line) || f.Hint == "" {
			t.Errorf("%q", f.String())
		}
	}
}
