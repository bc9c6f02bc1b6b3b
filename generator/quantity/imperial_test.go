package quantity_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"
)

// The inch is 25.4 mm exactly (international yard and pound, 1959); a tape is read to 1/16 in. Worked by hand: 2500 mm =
// 98.425 in = 8 ft 2.425 in, nearest 7/16 (2.4375).
func TestImperial(t *testing.T) {
	f := q.Format{Decimal: ".", Imperial: true}
	for _, c := range []struct{ got, want string }{
		{f.MM(2500), "2500 mm (8 ft 2 7/16 in)"},
		{f.MM(254), "254 mm (10 in)"},
		{f.MM(60), "60 mm (2 3/8 in)"}, // 2.362: nearest 6/16
		{f.MM(10), "10 mm (3/8 in)"},
		{f.MM(0), "0 mm (0 in)"},
		{f.MM(3048), "3048 mm (10 ft 0 in)"},
		{f.Metres(12.4), "12.40 m (40.7 ft)"},
		{f.Area(13.5), "13.50 m² (145.3 sq ft)"},
		{f.Volume(245.3), "245.3 m³ (8663 cu ft)"},
		{f.Kilograms(8.1), "8.1 kg (17.9 lb)"},
		{f.Amount(12.4, "m"), "12.40 m (40.7 ft)"},
		{q.English.MM(2500), "2500 mm"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// What a tape in inches shows is at most 1/32 in off the millimetres, and never 12 inches where a foot is meant.
func TestInchesLaw(t *testing.T) {
	f := q.Format{Decimal: ".", Imperial: true}
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.IntRange(0, 20_000).Draw(t, "mm")
		text := f.MM(q.MM(mm))
		var value, a, b int
		var total float64
		rest := text[len(fmt.Sprint(mm)):]
		for i := 0; i < len(rest); i++ { // the bracket: "8 ft 2 7/16 in"
			if rest[i] == '(' {
				rest = rest[i+1:]
				break
			}
		}
		if n, _ := fmt.Sscanf(rest, "%d ft %d %d/%d in", &value, new(int), &a, &b); n > 0 {
			var in int
			switch n, _ := fmt.Sscanf(rest, "%d ft %d %d/%d in", &value, &in, &a, &b); {
			case n == 4:
				total = float64(value*12+in) + float64(a)/float64(b)
			default:
				return // other shapes are shown in the table above
			}
			if in >= 12 {
				t.Errorf("%s", text)
			}
			if math.Abs(total*25.4-float64(mm)) > 25.4/32+1e-6 {
				t.Errorf("%s is %.2f mm", text, total*25.4)
			}
		}
	})
}
