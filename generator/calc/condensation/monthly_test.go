package condensation_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/thermal"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

// layerCase is a layer of a case; the sd of a variable film is text.
type layerCase struct {
	Name string
	R    float64 `json:"R_m2K_W"`
	Sd   any     `json:"sd_m"`
}

// monthCase is a month of a case, planes by name.
type monthCase struct {
	Year, Month, Days int
	Te                float64            `json:"te_C"`
	Pe                float64            `json:"pe_Pa"`
	Ti                float64            `json:"ti_C"`
	Pi                float64            `json:"pi_Pa"`
	Theta             map[string]float64 `json:"theta_C"`
	Psat              map[string]float64 `json:"psat_Pa"`
	P                 map[string]float64 `json:"p_start_of_month_Pa"`
	Rate              map[string]float64 `json:"rate_kg_m2s"`
	ChangeClip        map[string]float64 `json:"dM_endclip_g_m2"`
	StockClip         map[string]float64 `json:"Ma_endclip_g_m2"`
	ChangeSplit       map[string]float64 `json:"dM_substep_g_m2"`
	StockSplit        map[string]float64 `json:"Ma_substep_g_m2"`
	Sd                float64            `json:"sd_film_m"`
	Inner             float64            `json:"rh_inner_face"`
	Outer             float64            `json:"rh_outer_face"`
	Stock             map[string]float64 `json:"Ma_g_m2"`
	Total             float64            `json:"total_g_m2"`
}

func (m monthCase) boundary() condensation.Boundary {
	return condensation.Boundary{Month: m.Month, Te: q.Temperature(m.Te), Ti: q.Temperature(m.Ti), Pe: q.Pressure(m.Pe), Pi: q.Pressure(m.Pi)}
}

// monthlyCase is a case of files 10, 10b and 12b.
type monthlyCase struct {
	ID       string `json:"check_id"`
	Status   string
	Rsi      float64            `json:"Rsi_m2K_W"`
	Rse      float64            `json:"Rse_m2K_W"`
	Layers   []layerCase        `json:"layers_inside_to_outside"`
	U        float64            `json:"U_W_m2K"`
	Start    *int               `json:"start_month"`
	Predicts bool               `json:"condensation_predicted"`
	Peak     float64            `json:"first_year_peak_total_g_m2"`
	PeakAt   *int               `json:"peak_month"`
	EndClip  float64            `json:"end_of_year_total_endclip_g_m2"`
	EndSplit float64            `json:"end_of_year_total_substep_g_m2"`
	Highest  map[string]float64 `json:"highest_rh_at_interfaces_percent"`
	TolTheta float64            `json:"tol_theta_C"`
	TolP     float64            `json:"tol_p_Pa"`
	TolMass  float64            `json:"tol_mass_percent"`
	TolGrams float64            `json:"tol_mass_g_m2"`
	TolSd    float64            `json:"tol_sd_m"`
	Months   []monthCase
	Wrong    map[string]float64 `json:"wrong_values_peak_g_m2"`
	// of 10b
	Boundary []monthCase
	Monthly  []struct {
		N, Month int
		Planes   map[string]float64 `json:"planes_g_m2"`
		Total    float64            `json:"total_g_m2"`
	}
	UntilDry int `json:"months_until_dry"`
	// of 12b
	PeakVar float64 `json:"peak_g_m2"`
	EndVar  float64 `json:"end_g_m2"`
}

func cases(t *testing.T, name string, check func(t *testing.T, folder string, c monthlyCase)) {
	for i, folder := range values.Folders() {
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		var file struct{ Cases []monthlyCase }
		if err := json.Unmarshal(text, &file); err != nil {
			t.Fatal(err)
		}
		if len(file.Cases) == 0 {
			t.Fatal("no cases")
		}
		for _, c := range file.Cases {
			t.Run(fmt.Sprintf("%d/%s (%s)", i, c.ID, c.Status), func(t *testing.T) { check(t, folder, c) })
		}
	}
}

func (c monthlyCase) element(curve *condensation.Curve) condensation.Element {
	e := condensation.Element{Rsi: thermal.Resistance(c.Rsi), Rse: thermal.Resistance(c.Rse)}
	for _, l := range c.Layers {
		layer := condensation.Layer{Name: l.Name, R: thermal.Resistance(l.R)}
		if sd, fixed := l.Sd.(float64); fixed {
			layer.Sd = q.SdValue(sd)
		} else {
			layer.Curve = curve
		}
		e.Layers = append(e.Layers, layer)
	}
	return e
}

func yearOf(t *testing.T, months []monthCase) condensation.Year {
	t.Helper()
	var y condensation.Year
	if len(months) < 12 {
		t.Fatalf("%d months", len(months))
	}
	for i := range y {
		y[i] = months[i].boundary()
	}
	return y
}

// key is the name the cases give a plane.
func key(e condensation.Element, r condensation.Result, i int) string {
	switch i {
	case 0:
		return "int-surface"
	case len(r.Planes) - 1:
		return e.Layers[len(e.Layers)-1].Name + "|ext-surface"
	}
	return r.Names[i]
}

// Every month of every case, both ways to end a month, with layers split and whole: the cases say it makes no difference.
func TestMonthlyCases(t *testing.T) {
	cases(t, "10_iso13788_monthly_cases.json", func(t *testing.T, _ string, c monthlyCase) {
		e, y := c.element(nil), yearOf(t, c.Months)
		var total float64
		for _, l := range e.Layers {
			total += float64(l.R)
		}
		values.Within(t, "U", 1/(total+c.Rsi+c.Rse), c.U, 1e-6)
		for _, whole := range []bool{false, true} {
			for _, end := range []condensation.MonthEnd{condensation.ClipStock, condensation.SplitMonth} {
				o := condensation.Options{MonthEnd: end, Whole: whole, Years: (len(c.Months) + 11) / 12}
				r := values.Must[condensation.Result](t)(condensation.Run(e, y, o))
				checkRun(t, c, e, r, end)
			}
		}
	})
}

func checkRun(t *testing.T, c monthlyCase, e condensation.Element, r condensation.Result, end condensation.MonthEnd) {
	t.Helper()
	if r.Condenses != c.Predicts {
		t.Fatalf("condenses: %v", r.Condenses)
	}
	if c.Start != nil && r.Start != *c.Start {
		t.Errorf("starts in month %d, want %d", r.Start, *c.Start)
	}
	if c.PeakAt != nil && r.Peak.Month != *c.PeakAt {
		t.Errorf("peak in month %d, want %d", r.Peak.Month, *c.PeakAt)
	}
	mass := func(what string, got condensation.Water, want float64) {
		t.Helper()
		values.Within(t, what, 1000*float64(got), want, max(c.TolMass/100*want, 0.002))
	}
	mass("peak", r.Peak.Total, c.Peak)
	wantEnd := map[condensation.MonthEnd]float64{condensation.ClipStock: c.EndClip, condensation.SplitMonth: c.EndSplit}[end]
	mass("end of the first year", r.Years[0].End, wantEnd)
	want := condensation.NoCondensation
	if c.Predicts {
		want = condensation.DriesOut
	}
	if wantEnd > 0 {
		want = condensation.DoesNotDry
	}
	if r.Verdict != want || r.Growing() != (wantEnd > 0 && len(r.Years) > 1) || r.Scope != condensation.Proof {
		t.Errorf("%v, growing %v, a %v; want %v", r.Verdict, r.Growing(), r.Scope, want)
	}
	highest := r.HighestHumidity()
	for i := range r.Planes {
		if want, named := c.Highest[r.Names[i]]; named {
			values.Within(t, "highest humidity at "+r.Names[i], 100*float64(highest[i]), want, 0.02)
		}
	}
	for n, m := range c.Months {
		checkMonth(t, c, e, r, month(r, m, n), m, end)
	}
}

// month finds the month of a case in a run; a case without condensation lists them from January.
func month(r condensation.Result, m monthCase, n int) condensation.Month {
	for _, have := range r.Months {
		if have.Boundary.Month == m.Month && (have.Year == m.Year || m.Year == 0) {
			return have
		}
	}
	return r.Months[n]
}

func checkMonth(t *testing.T, c monthlyCase, e condensation.Element, r condensation.Result, got condensation.Month, want monthCase, end condensation.MonthEnd) {
	t.Helper()
	change, stock := want.ChangeSplit, want.StockSplit
	if end == condensation.ClipStock {
		change, stock = want.ChangeClip, want.StockClip
	}
	if condensation.Days(want.Month) != want.Days {
		t.Errorf("month %d has %d days, want %d", want.Month, condensation.Days(want.Month), want.Days)
	}
	seen := 0
	for i := range r.Planes {
		name := key(e, r, i)
		at := fmt.Sprintf("year %d month %d %s: ", want.Year, want.Month, name)
		tol := func(x float64) float64 { return max(c.TolMass/100*math.Abs(x), 0.002) } // masses are printed to 0.001 g
		if _, listed := want.Theta[name]; listed {
			seen++
			values.Within(t, at+"temperature", float64(got.Temperature[i]), want.Theta[name], c.TolTheta)
			values.Within(t, at+"saturation", float64(got.Saturation[i]), want.Psat[name], c.TolP)
			values.Within(t, at+"pressure", float64(got.Pressure[i]), want.P[name], c.TolP)
		}
		values.Within(t, at+"change", 1000*float64(got.Change[i]), change[name], tol(change[name]))
		values.Within(t, at+"stock", 1000*float64(got.Stock[i]), stock[name], tol(stock[name]))
		values.Within(t, at+"rate", float64(got.Rate[i]), want.Rate[name], max(c.TolMass/100*math.Abs(want.Rate[name]), 1e-13))
	}
	if seen != len(want.Theta) {
		t.Errorf("month %d: %d of %d planes found", want.Month, seen, len(want.Theta))
	}
}

// The answers that usual mistakes give for case GL-01 are not ours, and their size is met where the mistake can be made on
// purpose: other films, another permeability.
func TestUsualMistakesAreNotMade(t *testing.T) {
	cases(t, "10_iso13788_monthly_cases.json", func(t *testing.T, _ string, c monthlyCase) {
		if len(c.Wrong) == 0 {
			t.Skip("no wrong answers given")
		}
		e, y := c.element(nil), yearOf(t, c.Months)
		peak := func(e condensation.Element, o condensation.Options) float64 {
			return 1000 * float64(values.Must[condensation.Result](t)(condensation.Run(e, y, o)).Peak.Total)
		}
		right := peak(e, condensation.Options{})
		for _, name := range slices.Sorted(maps.Keys(c.Wrong)) {
			wrong := c.Wrong[name]
			if math.Abs(right-wrong) < c.TolMass/100*right {
				t.Errorf("our peak %v is the wrong answer %q", right, name)
			}
			film, other := e, condensation.Options{}
			switch name {
			case "Rsi 0.25 instead of 0.13":
				film.Rsi = 0.25
			case "Rse 0.04 behind ventilated cladding":
				film.Rse = 0.04
			case "delta0 1.95e-10":
				other.Delta0 = 1.95e-10
			default:
				continue
			}
			values.Within(t, name, peak(film, other), wrong, c.TolMass/100*wrong)
		}
	})
}

// 1 kg/m² in the middle of the insulation between two tight layers: month by month until it is gone, water conserved.
func TestDryingCase(t *testing.T) {
	cases(t, "10b_drying_case.json", func(t *testing.T, _ string, c monthlyCase) {
		e, y := c.element(nil), yearOf(t, c.Boundary)
		for _, whole := range []bool{false, true} {
			o := condensation.Options{Start: *c.Start, Whole: whole, Wetted: []condensation.Wetted{{At: e.Interface(2, whole), Water: 1}}}
			r := values.Must[condensation.Result](t)(condensation.Run(e, y, o))
			if r.DryAfter != c.UntilDry {
				t.Errorf("dry after %d months, want %d", r.DryAfter, c.UntilDry)
			}
			if len(r.Months) < len(c.Monthly) {
				t.Fatalf("only %d months", len(r.Months))
			}
			for n, want := range c.Monthly {
				got := r.Months[n]
				values.Within(t, "month "+strconv.Itoa(want.N)+" total", 1000*float64(got.Total()), want.Total, c.TolGrams)
				for i, name := range r.Names {
					values.Within(t, "month "+strconv.Itoa(want.N)+" "+name, 1000*float64(got.Stock[i]), want.Planes[name], c.TolGrams)
				}
			}
		}
	})
}

// film is the declared curve of file 12.
func film(t *testing.T, folder string) *condensation.Curve {
	t.Helper()
	var c condensation.Curve
	for _, r := range values.Rows(t, folder, "12_variable_sd_film.csv") {
		if r["status"] == "confirmed" {
			c.Points = append(c.Points, condensation.CurvePoint{Humidity: q.Ratio(r.Number(t, "mean_rh_fraction")), Sd: q.SdValue(r.Number(t, "sd_m"))})
		}
	}
	return &c
}

func TestVariableFilmCurve(t *testing.T) {
	values.Walk(t, "12_variable_sd_film.csv", func(t *testing.T, r values.Record) {
		c := film(t, values.Folders()[0])
		got := c.At(q.Ratio(r.Number(t, "mean_rh_fraction")))
		values.Within(t, "sd", float64(got), r.Number(t, "sd_m"), 1e-6)
		values.Within(t, "mu·d", float64(got), r.Number(t, "mu")*r.Number(t, "nominal_thickness_m"), 1e-6)
	})
}

func TestVariableCases(t *testing.T) {
	cases(t, "12b_variable_sd_cases.json", func(t *testing.T, folder string, c monthlyCase) {
		e, y := c.element(film(t, folder)), yearOf(t, c.Months)
		r := values.Must[condensation.Result](t)(condensation.Run(e, y, condensation.Options{MonthEnd: condensation.ClipStock, Start: *c.Start, Years: 1}))
		if r.Scope != condensation.Screening || r.Ambiguous {
			t.Errorf("scope %v, ambiguous %v", r.Scope, r.Ambiguous)
		}
		values.Within(t, "peak", 1000*float64(r.Peak.Total), c.PeakVar, c.TolGrams)
		values.Within(t, "end", 1000*float64(r.Years[0].End), c.EndVar, c.TolGrams)
		for n, want := range c.Months {
			got, at := r.Months[n], fmt.Sprintf("month %d ", want.Month)
			if len(got.Variable) != 1 {
				t.Fatalf("%s: %d variable layers", at, len(got.Variable))
			}
			values.Within(t, at+"sd", float64(got.Variable[0].Sd), want.Sd, c.TolSd)
			values.Within(t, at+"inner", float64(got.Variable[0].Inner), want.Inner, 0.001)
			values.Within(t, at+"outer", float64(got.Variable[0].Outer), want.Outer, 0.001)
			values.Within(t, at+"total", 1000*float64(got.Total()), want.Total, c.TolGrams)
			for i, name := range r.Names {
				values.Within(t, at+name, 1000*float64(got.Stock[i]), want.Stock[name], c.TolGrams)
			}
		}
	})
}

// A curve of mu by humidity is a curve of sd for a thickness; the records' points come back.
func TestRecordedCurves(t *testing.T) {
	for _, folder := range values.Folders() {
		byName := map[string][]condensation.CurvePoint{}
		for _, r := range values.Rows(t, folder, "16b_mu_of_rh.csv") {
			const d = 0.1 // m
			byName[r["material"]] = append(byName[r["material"]], condensation.CurvePoint{Humidity: q.Ratio(r.Number(t, "rh_fraction")), Sd: q.SdValue(d * r.Number(t, "mu"))})
		}
		for _, name := range slices.Sorted(maps.Keys(byName)) {
			c := condensation.Curve{Points: byName[name]}
			if err := c.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			for _, p := range c.Points {
				values.Within(t, name, float64(c.At(p.Humidity)), float64(p.Sd), 0)
			}
		}
	}
}
