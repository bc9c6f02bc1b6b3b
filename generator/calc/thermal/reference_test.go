package thermal_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator/calc/thermal"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

var directions = map[string]thermal.Direction{"horizontal": thermal.Horizontal, "upward": thermal.Upward, "downward": thermal.Downward}

func TestFilms(t *testing.T) {
	values.Walk(t, "04_iso6946_surface_resistance.csv", func(t *testing.T, r values.Record) {
		var f thermal.Films
		switch d, plain := directions[r["heat_flow_direction"]]; {
		case plain:
			f = thermal.FilmsFor(d, thermal.OutsideAir)
		case r["check_id"] == "RS-4": // the outside value is that of the inside
			for _, d := range directions {
				if f := thermal.FilmsFor(d, thermal.VentilatedAir); f.Outside != f.Inside {
					t.Errorf("%v: outside %v behind a ventilated layer, inside %v", d, f.Outside, f.Inside)
				}
			}
			return
		case r["check_id"] == "RS-5":
			f = thermal.SurfaceFilms()
			values.Within(t, "glazing", float64(thermal.GlazingSurfaceFilms().Inside), 0.13, 0)
		case r["check_id"] == "RS-6":
			values.Within(t, "Rse", float64(thermal.BlockFilms().Outside), r.Number(t, "Rse_m2K_W"), 0)
			return
		default:
			t.Fatalf("no film for %v", r)
		}
		values.Within(t, "Rsi", float64(f.Inside), r.Number(t, "Rsi_m2K_W"), 0)
		values.Within(t, "Rse", float64(f.Outside), r.Number(t, "Rse_m2K_W"), 0)
	})
}

// The formula's column is printed to 1e-4.
func TestAirLayers(t *testing.T) {
	values.Walk(t, "05_iso6946_airspace.csv", func(t *testing.T, r values.Record) {
		a := thermal.AirLayer{Thickness: q.MM(r.Number(t, "thickness_mm")), Direction: directions[r["heat_flow_direction"]],
			Emissivity: [2]q.Ratio{q.Ratio(r.Number(t, "e1")), q.Ratio(r.Number(t, "e2"))}, Mean: q.Temperature(r.Number(t, "mean_temp_C"))}
		if r["deltaT_K"] != "<=5" {
			a.Difference = r.Number(t, "deltaT_K")
		}
		values.Within(t, "annex D.2", float64(values.Must[thermal.Resistance](t)(a.Resistance())), r.Number(t, "R_annexD_m2K_W"), 0.00005001)
		if r["R_table_m2K_W"] != "" {
			got := values.Must[thermal.Resistance](t)(thermal.TableAirLayer(a.Thickness, a.Direction))
			values.Within(t, "table", float64(got), r.Number(t, "R_table_m2K_W"), 1e-9)
		}
	})
}

// combinedCase is a case of file 06.
type combinedCase struct {
	ID     string  `json:"check_id"`
	Rsi    float64 `json:"Rsi_m2K_W"`
	Rse    float64 `json:"Rse_m2K_W"`
	Layers []struct {
		Name  string
		Parts []struct {
			Fraction float64
			R        float64 `json:"R_m2K_W"`
		}
	} `json:"layers_inside_to_outside"`
	Paths []struct {
		Fraction float64
		R        float64 `json:"R_total_m2K_W"`
	}
	Equivalent []float64          `json:"equivalent_layer_R_lower_m2K_W"`
	Upper      float64            `json:"R_upper_m2K_W"`
	Lower      float64            `json:"R_lower_m2K_W"`
	Total      float64            `json:"R_total_m2K_W"`
	U          float64            `json:"U_W_m2K"`
	Error      float64            `json:"max_relative_error_percent"`
	Ratio      float64            `json:"ratio_upper_lower"`
	TolU       float64            `json:"tol_U"`
	Wrong      map[string]float64 `json:"wrong_values"`
	Expect     string
	Status     string
}

func (c combinedCase) element() thermal.Element {
	e := thermal.Element{Films: thermal.Films{Inside: thermal.Resistance(c.Rsi), Outside: thermal.Resistance(c.Rse)}}
	for _, l := range c.Layers {
		layer := thermal.Layer{Name: l.Name}
		for _, p := range l.Parts {
			layer.Parts = append(layer.Parts, thermal.Part{Fraction: q.Ratio(p.Fraction), R: thermal.Resistance(p.R)})
		}
		e.Layers = append(e.Layers, layer)
	}
	return e
}

func TestCombinedMethod(t *testing.T) {
	for i, folder := range values.Folders() {
		text, err := os.ReadFile(filepath.Join(folder, "06_iso6946_u_value_cases.json"))
		if err != nil {
			t.Fatal(err)
		}
		var file struct{ Cases []combinedCase }
		if err := json.Unmarshal(text, &file); err != nil {
			t.Fatal(err)
		}
		for _, c := range file.Cases {
			t.Run(fmt.Sprintf("%d/%s (%s)", i, c.ID, c.Status), func(t *testing.T) { checkCombined(t, c) })
		}
	}
}

// Resistances are printed to 1e-5, paths of U-01 to 1e-3 as the source prints them.
func checkCombined(t *testing.T, c combinedCase) {
	got := values.Must[thermal.Combined](t)(c.element().Resistance())
	values.Within(t, "upper", float64(got.Upper), c.Upper, 1e-5)
	values.Within(t, "lower", float64(got.Lower), c.Lower, 1e-5)
	values.Within(t, "total", float64(got.Total), c.Total, 1e-5)
	values.Within(t, "error", 100*float64(got.Error), c.Error, 0.001)
	values.Within(t, "ratio", float64(got.Upper/got.Lower), c.Ratio, 1e-4)
	for i, want := range c.Equivalent {
		values.Within(t, c.Layers[i].Name, float64(got.Equivalent[i]), want, 1e-5)
	}
	if len(got.Paths) != len(c.Paths) {
		t.Fatalf("%d paths, want %d", len(got.Paths), len(c.Paths))
	}
	for i, want := range c.Paths {
		values.Within(t, "path share", float64(got.Paths[i].Fraction), want.Fraction, 1e-9)
		values.Within(t, "path", float64(got.Paths[i].R), want.R, 1e-5)
	}
	u, err := got.Transmittance()
	if strings.HasPrefix(c.Expect, "refuse") {
		if !errors.Is(err, thermal.ErrRefused) {
			t.Errorf("not refused: U = %v, %v", u, err)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	values.Within(t, "U", float64(u), c.U, c.TolU)
	for name, wrong := range c.Wrong {
		if len(c.Paths) > 1 && float64(u) > wrong-c.TolU && float64(u) < wrong+c.TolU {
			t.Errorf("U = %v is the wrong value %q", u, name)
		}
	}
}

func TestCorrections(t *testing.T) {
	values.Walk(t, "07_iso6946_corrections.csv", func(t *testing.T, r values.Record) {
		if r["kind"] == "slightly ventilated air layer" {
			var area, closed, open float64
			scan(t, r["inputs"], "openings %g mm2 per m, RT unventilated %g, RT well ventilated %g", &area, &closed, &open)
			rt := values.Must[thermal.Resistance](t)(thermal.Ventilated(thermal.Openings(area), thermal.Resistance(closed), thermal.Resistance(open)))
			values.Within(t, "U", float64(values.Must[thermal.Transmittance](t)(rt.Transmittance())), r.Number(t, "U_corrected_W_m2K"), 1e-6)
			return
		}
		u := thermal.Transmittance(r.Number(t, "U_uncorrected_W_m2K"))
		delta := correction(t, r)
		values.Within(t, "correction", float64(delta), r.Number(t, "deltaU_W_m2K"), 1e-6)
		c := u.Correct(delta)
		values.Within(t, "corrected", float64(c.U), r.Number(t, "U_corrected_W_m2K"), 1e-5) // one row prints five digits
		values.Within(t, "share", 100*float64(c.Share), r.Number(t, "share_percent"), 0.006)
		if want := r["apply_if_total_over_3_percent"] == "no"; c.MayDrop != want {
			t.Errorf("may be dropped: %v, want %v", c.MayDrop, want)
		}
	})
}

func correction(t *testing.T, r values.Record) thermal.Transmittance {
	t.Helper()
	ok := values.Must[thermal.Transmittance](t)
	var d, lambda, n, d0, r1, rt, alpha float64
	switch {
	case strings.Contains(r["kind"], "voids"):
		scan(t, r["inputs"], "deltaU''=%g, R1=%g, RT,h=%g", &d, &r1, &rt)
		level := map[float64]thermal.Gaps{0: thermal.NoGaps, 0.01: thermal.GapsThrough, 0.04: thermal.GapsCirculate}[d]
		return ok(level.Correction(thermal.Resistance(r1), thermal.Resistance(rt)))
	case strings.Contains(r["inputs"], "steel"):
		scan(t, r["inputs"], "d=%g mm steel %g W/mK, %g /m2, d0=%g m, R1=%g, RT,h=%g, alpha=%g", &d, &lambda, &n, &d0, &r1, &rt, &alpha)
	default:
		scan(t, r["inputs"], "d=%g mm %g W/mK, %g /m2, d0=%g m, R1=%g, RT,h=%g, alpha=%g", &d, &lambda, &n, &d0, &r1, &rt, &alpha)
	}
	if alpha > 0.8 {
		t.Fatalf("alpha %v", alpha)
	}
	f := thermal.Fixing{Layer: q.Length(d0), Depth: q.Length(d0 * alpha / 0.8), Lambda: thermal.Conductivity(lambda),
		Area: q.Area(3.141592653589793 / 4 * d * d * 1e-6), PerM2: n}
	return ok(f.Correction(thermal.Resistance(r1), thermal.Resistance(rt)))
}

func scan(t *testing.T, text, format string, into ...any) {
	t.Helper()
	if _, err := fmt.Sscanf(text, format, into...); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
}
