package transient_test

import (
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"lapwork/generator/calc/transient"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/lawtest/values"
)

var update = flag.Bool("update", false, "write the figures of the benchmark anew")

// figure draws computed profiles and the limits of the benchmark.
func figure(t *testing.T, r transient.Result, quantity string, value func(transient.Plane) float64, depth float64) string {
	words := drawing.English()
	chart := drawing.Chart{Title: "EN 15026 benchmark: " + quantity, X: drawing.Axis{Label: "Depth, m", From: 0, To: depth}, Words: words}
	chart.Y.Label = map[string]string{"temperature": "Temperature, °C", "water content": "Water content, kg/m³"}[quantity]
	var limits [2]drawing.Series
	limits[0] = drawing.Series{Name: "lower limit", Mark: drawing.Cross, Ink: drawing.Accent}
	limits[1] = drawing.Series{Name: "upper limit", Mark: drawing.Ring, Ink: drawing.Accent}
	for _, row := range values.Rows(t, checks, "14_en15026_profile_limits.csv") {
		if row["quantity"] == quantity && row.Number(t, "x_m") <= depth {
			for k, column := range []string{"lower_limit", "upper_limit"} {
				limits[k].X = append(limits[k].X, row.Number(t, "x_m"))
				limits[k].Y = append(limits[k].Y, row.Number(t, column))
			}
		}
	}
	for i, p := range r.Profiles {
		s := drawing.Series{Name: "day " + strconv.Itoa(p.Day), Line: true, Mark: drawing.NoMark, Ink: []drawing.Ink{drawing.TapeInk, drawing.Black, drawing.SheetInk}[i%3], Dashed: i == 1}
		for k := range 101 {
			x := depth * float64(k) / 100
			s.X, s.Y = append(s.X, x), append(s.Y, readProfile(p, x, value))
		}
		chart.Series = append(chart.Series, s)
	}
	chart.Series = append(chart.Series, limits[:]...)
	return svg.Standalone(chart)
}

// TestFigures keeps the pictures of the profiles against their limits: made with -update from the run that
// TestBenchmarkStaysInsideTheLimits holds to the same rows. The look of charts is not this package's, so a kept picture
// must only have every series.
func TestFigures(t *testing.T) {
	r := benchmark(t, true)
	for name, text := range map[string]string{
		"profiles-temperature.svg":   figure(t, r, "temperature", celsius, 5),
		"profiles-water-content.svg": figure(t, r, "water content", content, 0.1),
	} {
		path := filepath.Join(checks, name)
		if *update {
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, series := range []string{"day 7", "day 30", "day 365", "lower limit", "upper limit"} {
			if !strings.Contains(string(kept), series) || !strings.Contains(text, series) {
				t.Errorf("%s: no %q", name, series)
			}
		}
	}
}
