package leakage_test

import (
	"errors"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/leakage"
	"lapwork/generator/diag"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"
)

func drawItems(t *rapid.T) []leakage.Item {
	var out []leakage.Item
	for range rapid.IntRange(1, 12).Draw(t, "items") {
		e := leakage.Element{ID: rapid.StringMatching("[a-c]").Draw(t, "id"), Reference: q.Pressure(rapid.Float64Range(1, 100).Draw(t, "reference")),
			Exponent: rapid.Float64Range(0.5, 1).Draw(t, "n"), Source: q.Source{Status: q.Status(rapid.IntRange(0, 5).Draw(t, "status"))}}
		x := float64(rapid.IntRange(0, 10_000_000).Draw(t, "flow")) / 1e9 // nothing, or far above the least number there is, which has too few digits to halve
		e.Low, e.Expected, e.High = leakage.Leakage{Flow: q.AirFlow(x / 2)}, leakage.Leakage{Flow: q.AirFlow(x)}, leakage.Leakage{Flow: q.AirFlow(3 * x)}
		if rapid.Bool().Draw(t, "area") {
			e.Basis, e.Cd = leakage.ByArea, rapid.Float64Range(0.5, 1).Draw(t, "cd")
			e.Low, e.Expected, e.High = leakage.Leakage{Area: q.Area(x / 20)}, leakage.Leakage{Area: q.Area(x / 10)}, leakage.Leakage{Area: q.Area(x)}
		}
		out = append(out, leakage.Item{Element: e, Place: rapid.StringMatching("B[12]-W[12]").Draw(t, "place"), Quantity: float64(rapid.IntRange(0, 200_000).Draw(t, "quantity")) / 1000})
	}
	return out
}

func sum(t *rapid.T, items []leakage.Item) leakage.Budget {
	b, err := leakage.Sum(items, leakage.ReferenceDensity)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The order of the items does not count, not even in the last bit; shares add to one; the list falls; the exponent lies
// within those of the items, and it is the slope of ln Q over ln p.
func TestBudgetLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t)
		b := sum(t, items)
		other := sum(t, rapid.Permutation(items).Draw(t, "order"))
		if b.Sum != other.Sum || b.Placeholder != other.Placeholder || b.Status != other.Status {
			t.Fatalf("%+v and %+v", b, other)
		}
		if !(b.Sum.Low <= b.Sum.Expected && b.Sum.Expected <= b.Sum.High) {
			t.Fatalf("%+v", b.Sum)
		}
		shares, standIn, low, high := 0.0, 0.0, 1.0, 0.0
		for i, c := range b.Contributions {
			shares += float64(c.Share)
			if c.Element.Source.Status == q.Placeholder {
				standIn += float64(c.Share)
			}
			low, high = min(low, c.Element.Exponent), max(high, c.Element.Exponent)
			if i > 0 && c.Flows.Expected > b.Contributions[i-1].Flows.Expected {
				t.Fatal("the list does not fall")
			}
			if c.Placeholder != (c.Element.Source.Status == q.Placeholder) || c.Element.Source.Status > b.Status {
				t.Fatalf("status: %+v", c)
			}
		}
		if !(b.Sum.Expected > 0) {
			return
		}
		n, err := b.Exponent(50)
		apparent, err2 := b.Apparent(50*0.9999, 50*1.0001)
		if err = errors.Join(err, err2); err != nil || math.Abs(shares-1) > 1e-9 || math.Abs(standIn-float64(b.Placeholder)) > 1e-9 || n < low-1e-9 || n > high+1e-9 || math.Abs(n-apparent) > 1e-6 {
			t.Fatalf("shares %v, exponent %v (slope %v) of %v to %v, %v", shares, n, apparent, low, high, err)
		}
		at, err := b.At(leakage.TestPressure)
		if err != nil || math.Abs(float64(at.Expected/b.Sum.Expected)-1) > 1e-12 {
			t.Fatalf("%v, %v: two sums", at, b.Sum)
		}
	})
}

// Twice the quantities leak twice as much; halving every contribution halves the sum.
func TestBudgetScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t)
		b := sum(t, items)
		gains := b.Halve(len(items))
		if last := gains[len(gains)-1].After; math.Abs(float64(last-b.Sum.Expected/2)) > 1e-12*float64(b.Sum.Expected) {
			t.Fatalf("all halved leaves %v of %v", last, b.Sum.Expected)
		}
		for i := range items {
			items[i].Quantity *= 2
		}
		if twice := sum(t, items); math.Abs(float64(twice.Sum.Expected-2*b.Sum.Expected)) > 1e-12*float64(twice.Sum.Expected) {
			t.Fatalf("%v and %v", b.Sum, twice.Sum)
		}
	})
}

// A hole for a flow passes that flow.
func TestHoleInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flow := q.AirFlow(rapid.Float64Range(0, 10).Draw(t, "flow"))
		p, cd := q.Pressure(rapid.Float64Range(1, 100).Draw(t, "p")), rapid.Float64Range(0.5, 1).Draw(t, "cd")
		h, err := leakage.HoleFor(flow, p, cd, leakage.ReferenceDensity)
		if err != nil {
			t.Fatal(err)
		}
		back, err := leakage.Orifice(h.Area, p, cd, leakage.ReferenceDensity)
		round, err2 := leakage.RoundHole(h.Diameter)
		if err = errors.Join(err, err2); err != nil || math.Abs(float64(back-flow)) > 1e-12*float64(flow) || math.Abs(float64(round.Area-h.Area)) > 1e-12*float64(h.Area) {
			t.Fatalf("%v gives %v, %v, %v", flow, back, round, err)
		}
	})
}

// No number that is none comes out, whatever goes in.
func TestNoNaNLeaves(t *testing.T) {
	hostile := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e308, 1e-320}))
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t)
		x, it := hostile.Draw(t, "x"), &items[0]
		rho := leakage.ReferenceDensity
		switch rapid.IntRange(0, 7).Draw(t, "where") {
		case 0:
			it.Quantity = x
		case 1:
			it.Element.Reference = q.Pressure(x)
		case 2:
			it.Element.Exponent = x
		case 3:
			it.Element.Expected = leakage.Leakage{Flow: q.AirFlow(x), Area: q.Area(x)}
		case 4:
			it.Element.High = leakage.Leakage{Flow: q.AirFlow(x), Area: q.Area(x)}
		case 5:
			it.Element.Cd = x
		case 6:
			rho = leakage.Density(x)
		case 7:
			it.Element.Low = leakage.Leakage{Flow: q.AirFlow(x), Area: q.Area(x)}
		}
		b, err := leakage.Sum(items, rho)
		allFinite(t, reflect.ValueOf(b))
		if err != nil {
			if !errors.Is(err, leakage.ErrInput) {
				t.Fatal(err)
			}
			return
		}
		p := q.Pressure(hostile.Draw(t, "p"))
		flows, _ := b.At(p)
		allFinite(t, reflect.ValueOf(flows))
		n, _ := b.Exponent(p)
		allFinite(t, reflect.ValueOf(n))
		apparent, _ := b.Apparent(p, 50)
		allFinite(t, reflect.ValueOf(apparent))
		rates, _ := b.N50(q.Volume(hostile.Draw(t, "V")))
		allFinite(t, reflect.ValueOf(rates))
		per, _ := b.Per(q.Area(hostile.Draw(t, "A")))
		allFinite(t, reflect.ValueOf(per))
		hole, _ := leakage.HoleFor(b.Sum.Expected, p, leakage.SharpEdge, rho)
		allFinite(t, reflect.ValueOf(hole))
		flow, _ := leakage.Orifice(q.Area(x), p, leakage.SharpEdge, rho)
		allFinite(t, reflect.ValueOf(flow))
	})
}

func allFinite(t *rapid.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("a number is %v", x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			allFinite(t, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			allFinite(t, v.Index(i))
		}
	}
}

// Laws of the table reader for any text: no panic, places inside the text, elements that compute.
func FuzzElements(f *testing.F) {
	text, err := os.ReadFile(elementsFile)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(text))
	f.Add(strings.Join(leakage.ElementColumns(), ",") + "\na,b,m,cm2,1,2,3,4,1,0.65,p,,s,confirmed\n")
	f.Fuzz(func(t *testing.T, text string) {
		var found diag.List
		for _, e := range leakage.ParseElements("t.csv", []byte(text), &found) {
			if _, err := e.At(1, 50, leakage.ReferenceDensity); err != nil {
				t.Fatalf("read without a fault, yet: %v", err)
			}
		}
		for _, f := range found.Sorted() {
			if f.Pos.Line > strings.Count(text, "\n")+1 {
				t.Fatalf("%+v lies outside the text", f)
			}
		}
	})
}
