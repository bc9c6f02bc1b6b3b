package bill_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/bill"
)

// Derived by geometry; the published form is R-BEAD-5 of the trade specification, rounded to 0.1 m: hence ± 0.05 m.
func TestBeadYield(t *testing.T) {
	for _, c := range []struct{ ml, d, factor, want float64 }{
		{310, 5, 1, 15.8}, {310, 6, 1, 11.0}, {310, 8, 1, 6.2}, {310, 10, 2, 2.0},
		{600, 5, 1.5, 20.4}, {600, 6, 1.3, 16.3}, {600, 8, 2, 6.0}, {600, 10, 1.5, 5.1},
	} {
		if got, err := bill.BeadYield(c.ml, c.d, c.factor); err != nil || math.Abs(got-c.want) > 0.05 {
			t.Errorf("%v ml at %v mm, factor %v: %v m, %v; want %v", c.ml, c.d, c.factor, got, err, c.want)
		}
	}
}

// Common practice, no source (R-QTY-1): two junctions of 13 m share one roll of 25 m and a bit, not two rolls each.
func TestRoundsOncePerDelivery(t *testing.T) {
	lines := []bill.Line{{Component: "tape", Place: "b", Amount: 13, Unit: "m"}, {Component: "tape", Place: "a", Amount: 13, Unit: "m"}}
	items, err := bill.Sum(lines, map[string]bill.Pack{"tape": {Size: 25, Unit: "m"}}, nil)
	if err != nil || len(items) != 1 || items[0].Packs != 2 || items[0].Over != 24 {
		t.Errorf("got %+v, %v; want 2 packs, 24 m over", items, err)
	}
	items, err = bill.Sum(lines, map[string]bill.Pack{"tape": {Size: 25}}, map[string]float64{"tape": 1})
	if err != nil || items[0].Packs != 1 || items[0].Over != 0 {
		t.Errorf("with 1 m in stock: got %+v, %v; want 1 pack, nothing over", items, err)
	}
}

// Ten lines of a tenth are one, not 0.9999…: 1 m of a 1 m pack is one pack.
func TestExactFit(t *testing.T) {
	var lines []bill.Line
	for range 10 {
		lines = append(lines, bill.Line{Component: "x", Amount: 0.1, Unit: "m"})
	}
	items, err := bill.Sum(lines, map[string]bill.Pack{"x": {Size: 0.2}}, nil)
	if err != nil || items[0].Packs != 5 {
		t.Errorf("got %+v, %v; want 5 packs", items, err)
	}
}

func TestRefusals(t *testing.T) {
	for _, lines := range [][]bill.Line{
		{{Component: "x", Amount: -1}}, {{Component: "x", Amount: math.NaN()}}, {{Component: "x", Amount: math.Inf(1)}},
		{{Component: "x", Amount: 1, Unit: "m"}, {Component: "x", Amount: 1, Unit: "m2"}},
	} {
		if _, err := bill.Sum(lines, nil, nil); err == nil {
			t.Errorf("%+v was summed", lines)
		}
	}
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		amounts := rapid.SliceOfN(rapid.IntRange(0, 5000), 1, 40).Draw(t, "mm")
		size := rapid.IntRange(1, 3000).Draw(t, "pack")
		var lines []bill.Line
		sum := 0
		for _, a := range amounts {
			lines = append(lines, bill.Line{Component: "x", Amount: float64(a) / 1000, Unit: "m"})
			sum += a
		}
		items, err := bill.Sum(lines, map[string]bill.Pack{"x": {Size: float64(size) / 1000}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if want := (sum + size - 1) / size; items[0].Packs != want { // integers decide
			t.Fatalf("%d packs for %d mm of %d mm, want %d", items[0].Packs, sum, size, want)
		}
	})
}
