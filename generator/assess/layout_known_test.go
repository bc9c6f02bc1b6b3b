package assess

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Whatever differs between two problems, they are not taken for the same: every field of the problem counts, at each place
// of a list, and so do the rates.
func TestProblemsAreToldApart(t *testing.T) {
	seen := map[problemKey]string{}
	add := func(what string, p strips.Problem, o strips.Objective) {
		key := keyOf(p, o)
		if other, twice := seen[key]; twice {
			t.Errorf("%s is taken for %s", what, other)
		}
		seen[key] = what
	}
	base := func() strips.Problem {
		return strips.Problem{Outline: geometry.Polygon{{X: 1, Y: 2}, {X: 12, Y: 3}}, Turns: []q.MM{1, 23}, JointAt: []q.MM{4}, SeamAt: []q.MM{5},
			KeepClear: []q.MM{6}, Holes: []strips.Hole{{Outline: geometry.Polygon{{X: 7, Y: 8}}, TurnIn: 9}}}
	}
	add("the problem", base(), strips.LeastLength())
	add("another objective", base(), strips.LeastCost(strips.Rates{}))
	add("a price of sheet", base(), strips.LeastCost(strips.Rates{SheetPerMM: 1}))
	add("a price of a piece", base(), strips.LeastCost(strips.Rates{PerPiece: 1}))
	add("a price of tape", base(), strips.LeastCost(strips.Rates{TapePerMM: 1}))
	var change func(what string, v reflect.Value, whole *strips.Problem)
	change = func(what string, v reflect.Value, whole *strips.Problem) {
		old := reflect.ValueOf(v.Interface())
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				change(what+"."+v.Type().Field(i).Name, v.Field(i), whole)
			}
			return
		case reflect.Slice:
			for i := range v.Len() {
				change(what+"[]", v.Index(i), whole)
			}
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
		case reflect.Bool:
			v.SetBool(!v.Bool())
		default:
			if v.CanInt() {
				v.SetInt(v.Int() + 100)
			} else {
				v.SetUint(v.Uint() + 1)
			}
		}
		add("another "+what, *whole, strips.LeastLength())
		v.Set(old)
	}
	p := base()
	change("problem", reflect.ValueOf(&p).Elem(), &p)
	if len(seen) < 30 {
		t.Errorf("only %d problems were compared", len(seen))
	}
}

// A problem that was solved before gets the solution that it would get by itself.
func TestKnownLayoutsAreTheirOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var known knownLayouts
		size := func(name string) q.MM { return q.MM(rapid.SampledFrom([]int{1200, 2400, 3999, 4000}).Draw(t, name)) }
		for range 6 {
			w, h := size("width"), size("height")
			p := strips.Problem{Outline: geometry.Polygon{{}, {X: w}, {X: w, Y: h}, {Y: h}}, RollWidth: 1500, Lap: 100, EndAllowance: 50,
				Direction: rapid.SampledFrom([]strips.Direction{strips.Level, strips.Upright}).Draw(t, "direction"), SeamAnywhere: rapid.Bool().Draw(t, "backed"),
				SeamAt: []q.MM{600, 1200, 1800}}
			got, backing, err := known.lay(p, strips.LeastLength())
			want := solve(p, strips.LeastLength())
			if !reflect.DeepEqual(got, want.layout) || !reflect.DeepEqual(backing, want.backing) || (err == nil) != (want.err == nil) {
				t.Fatalf("%+v: %+v %v %v, want %+v", p, got, backing, err, want)
			}
		}
	})
}
