package condensation_test

import (
	"os"
	"strings"
	"testing"

	"lapwork/generator/calc/condensation"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/values"
)

// The table's sheet is the values.Record of the check values, point by point.
func TestCurveTable(t *testing.T) {
	text, err := os.ReadFile("../../../content/tables/sd-curves.csv")
	if err != nil {
		t.Fatal(err)
	}
	var found diag.List
	curves := condensation.ParseCurves("sd-curves.csv", text, &found)
	if len(found.Sorted()) > 0 {
		t.Fatal(found.Sorted())
	}
	got, want := curves["sheet-variable"], film(t, values.Folders()[0])
	if len(got.Points) != len(want.Points) {
		t.Fatalf("%d points, want %d", len(got.Points), len(want.Points))
	}
	for i, p := range want.Points {
		values.Within(t, "humidity", float64(got.Points[i].Humidity), float64(p.Humidity), 1e-12)
		values.Within(t, "sd", float64(got.Points[i].Sd), float64(p.Sd), 0)
	}
}

func TestCurveFindings(t *testing.T) {
	const head = "id,humidity,sd,source,status\na,10,5,s,computed\na,90,1,s,computed\n"
	for text, want := range map[string]string{
		"b,50,1,s,computed\n":                     `t.csv:4:1: the curve of "b" has one point`,
		"b,50,1,s,computed\nb,40,2,s,computed\n":  `t.csv:5:3: column "humidity": not above the row before`,
		"b,50,0,s,computed\nb,60,2,s,computed\n":  `t.csv:4:6: column "sd"`,
		"b,500,1,s,computed\nb,60,2,s,computed\n": `column "humidity": not a number from 0 to 100`,
		"b,50,1,,computed\nb,60,2,s,computed\n":   `column "source": empty`,
	} {
		var found diag.List
		out := condensation.ParseCurves("t.csv", []byte(head+text), &found)
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
		if _, kept := out["b"]; kept || len(out) != 1 {
			t.Errorf("%q: kept %v", text, out)
		}
	}
}

// Beyond its ends a curve keeps their values; it is never extended.
func TestCurveIsClamped(t *testing.T) {
	c := condensation.Curve{Points: []condensation.CurvePoint{{Humidity: 0.25, Sd: 4}, {Humidity: 0.715, Sd: 0.5}}}
	values.Within(t, "dry", float64(c.At(0)), 4, 0)
	values.Within(t, "wet", float64(c.At(1)), 0.5, 0)
	values.Within(t, "middle", float64(c.At(0.4825)), 2.25, 1e-12)
}
