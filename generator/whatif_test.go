package generator_test

import (
	"context"
	"fmt"
	"io/fs"
	"math"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/templates"
	"lapwork/themes"
)

// The table of roll widths says what the job itself would buy: its first row is the order, and each further row what a job
// takes whose rolls are fixed to that width, surfaces, seams, rolls and money alike. Strips over an edge are turned off: a
// width that is only tried keeps what runs over an edge as it is.
func TestWidthsAreWhatTheJobWouldBuy(t *testing.T) {
	for name, folder := range map[string]fs.FS{"the demo": mirroredDemo(t), "leftovers and prices": twoDeliveries()} {
		o := generator.Options{Sources: generator.Sources{Job: folder, Content: content.FS, Templates: templates.FS, Theme: themes.FS, JobName: "job"}}
		r, _, err := generator.Compute(context.Background(), o)
		if err != nil {
			t.Fatal(err)
		}
		rows := r.Widths()
		if len(rows) != 3 || rows[0].Width != 0 || rows[1].Width != 1500 || rows[2].Width != 3000 {
			t.Fatalf("%s: %+v", name, rows)
		}
		compareWidth(t, name+" as laid", rows[0], generator.TallyOf(r), r)
		for _, row := range rows[1:] {
			v, err := generator.ParseVariant(fmt.Sprintf("roll=%gm", float64(row.Width)/1000))
			if err != nil {
				t.Fatal(err)
			}
			fixed, _, err := generator.ComputeVariant(context.Background(), o, v)
			if err != nil {
				t.Fatal(err)
			}
			compareWidth(t, fmt.Sprintf("%s in %v", name, row.Width), row, generator.TallyOf(fixed), fixed)
			if row.Known && row.Cost < rows[0].Cost {
				t.Errorf("%s in %v costs %d, as laid %d: the job should have taken it", name, row.Width, row.Cost, rows[0].Cost)
			}
		}
	}
}

func compareWidth(t *testing.T, name string, row assess.WidthTally, job generator.Tally, r *assess.Results) {
	t.Helper()
	if row.Kept > 0 || row.Rolls != job.Rolls || row.Pieces != job.Strips || math.Abs(float64(row.Bought-job.Bought)) > 1e-6 || math.Abs(float64(row.Tape-job.Seams)) > 1e-6 {
		t.Errorf("%s: %+v, the job %d rolls of %v, %d pieces, %v of seams", name, row, job.Rolls, job.Bought, job.Strips, job.Seams)
	}
	if !row.Proven || row.Known != (job.Cost.Currency == "EUR" && r.Job.Rates.Hour != nil) {
		t.Errorf("%s: proven %v, cost known %v", name, row.Proven, row.Known)
	}
	cost := int64(0)
	for _, d := range r.Deliveries {
		for _, s := range d.Sheets {
			cost += s.Plan.Cost
		}
	}
	for _, l := range r.Layouts {
		cost += l.Cost.Seams + l.Cost.Cuts
	}
	if row.Known && row.Cost != cost {
		t.Errorf("%s: costs %d, the job's rolls, seams and cuts %d", name, row.Cost, cost)
	}
}

// twoDeliveries is a job of two rooms in two deliveries with a leftover, two widths and all prices.
func twoDeliveries() fs.FS {
	return fstest.MapFS{"job.yaml": {Data: []byte(twoDeliveriesText)}}
}

const twoDeliveriesText = `reference: W-1
name: Two rooms
lengths: mm
issue: {number: 1, date: 2026-01-05, by: Somebody, reason: worked by hand}
target: {kind: n50, value: 1.5, source: s}
building: {work: new, built: 2026}
choices: {sheet-main: sheet-variable}
rates: {hour: 50.00 EUR, packs: {tape-single-60: 20.00 EUR, tape-split: 25.00 EUR}}
stock:
  - {component: sheet-variable, width: 1.5 m, length: 25 m, price: 80.00 EUR}
  - {component: sheet-variable, width: 3 m, length: 25 m, price: 165.00 EUR}
  - {component: sheet-variable, width: 3 m, length: 6 m, leftover: a rest}
storeys: [{id: "0", name: Ground floor, level: 0, height: 2400, usual: {floor: slab, ceiling: loft, walls: outer}}]
faces:
  outer: {behind: outside, layer: sheet, substrate: timber-planed, framing: {spacing: 600}}
  loft: {behind: unheated, layer: sheet, substrate: timber-planed, framing: {spacing: 600, along: y}}
  slab: {behind: ground, layer: none, substrate: screed}
rooms:
  - {id: A1, name: One, storey: "0", plan: {from: [0, 0], size: [4100, 3300]}}
  - {id: A2, name: Two, storey: "0", plan: {from: [5000, 0], size: [2700, 5200]}}
deliveries: [{id: d1, name: First, rooms: [A1]}, {id: d2, name: Second, rooms: [A2]}]
settings: [{values: {over_edge: 0}}]
`
