package generator_test

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator"
	"lapwork/generator/pack"
)

const steelJob = `reference: "26-104"
name: Hut with steel studs
lengths: mm
imperial: yes
target: {kind: n50, value: 1.5, source: specification}
building: {work: new}
choices: {sheet-main: sheet-variable}
stock: [{component: sheet-variable, width: 1.5 m, length: 50 m}]
storeys: [{id: "0", name: Ground floor, level: 0, height: 2500, usual: {floor: slab, ceiling: flat, walls: outer}}]
faces:
  outer: {behind: outside, layer: sheet, substrate: steel-galv, framing: {spacing: 400}}
  flat: {behind: unheated, layer: sheet, substrate: steel-galv, framing: {spacing: 625, along: y}}
  slab: {behind: ground, layer: none, substrate: screed}
rooms:
  - id: A1
    name: Room
    storey: "0"
    plan: {from: [0, 0], size: [4000, 3000]}
`

// Sheet on steel studs is held by double-sided tape at the spacing of each surface, and by no staple. By hand: walls of 14 m ×
// 2.5 m at 400 mm and a ceiling of 12 m² at 625 mm, (35/0.4 + 12/0.625) × 1.08 = 115.236 m. In a job in feet the sheet has
// its square feet beside it, as everything else.
func TestSheetOnSteel(t *testing.T) {
	r, _ := computed(t, fstest.MapFS{"job.yaml": {Data: []byte(steelJob)}})
	tape := 0.0
	for _, l := range generator.OrderOf(r).Lines {
		switch l.Component {
		case "staple":
			t.Errorf("%g staples for steel", l.Need)
		case "tape-double-20":
			tape += l.Need
		}
	}
	if math.Abs(tape-115.236) > 1e-6 {
		t.Errorf("%g m of double-sided tape, by hand 115.236", tape)
	}
	pk, err := pack.Assemble(r, pack.Build{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pk.Pages {
		if p.Materials == nil {
			continue
		}
		for _, row := range p.Materials.Deliveries[0].Rows {
			if strings.HasPrefix(row.ID, "sheet-variable") && (!strings.Contains(row.Unit, "sq ft") || !strings.Contains(row.Packs, " ft)")) {
				t.Errorf("sheet of a job in feet: %s %s, %s", row.Net, row.Unit, row.Packs)
			}
		}
	}
}
