package airtight_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

// checks is where the check values stand; SOURCE.md there says where they come from.
const checks = "../../../testdata/airtest"

func folders() []string { return values.In("airtest", "airtest") }

var modes = map[string]airtight.Direction{"depress": airtight.Depressurise, "press": airtight.Pressurise}

// cubicMetres turns a flow into m³/s; the foot is 0.3048 m by definition.
var cubicMetres = map[string]float64{"m3/h": 1.0 / 3600, "L/s": 1e-3, "m3/s": 1, "cfm": math.Pow(0.3048, 3) / 60}

// loadTests reads every series of a folder, in the order of conditions.csv.
func loadTests(t *testing.T, folder string) (ids []string, tests map[string]airtight.Input) {
	t.Helper()
	points, samples := values.Rows(t, folder, "points.csv"), values.Rows(t, folder, "baseline_samples.csv")
	tests = map[string]airtight.Input{}
	for _, c := range values.Rows(t, folder, "conditions.csv") {
		id := c["dataset_id"]
		in, known := tests[id]
		if !known {
			ids = append(ids, id)
			in.Building = airtight.Building{Volume: q.Volume(c.Number(t, "V_m3")), Envelope: q.Area(c.Number(t, "AE_m2")),
				Floor: q.Area(c.Number(t, "AF_m2")), Height: q.Length(c.Number(t, "height_m"))}
			in.Weather = airtight.Weather{Wind: airtight.Speed(c.Number(t, "wind_m_per_s"))}
		}
		s := airtight.Series{Direction: modes[c["mode"]],
			Inside:    airtight.Air{Temperature: q.Temperature(c.Number(t, "T_int_C")), Humidity: q.Ratio(c.Number(t, "RH_int_pct") / 100)},
			Outside:   airtight.Air{Temperature: q.Temperature(c.Number(t, "T_ext_C")), Humidity: q.Ratio(c.Number(t, "RH_ext_pct") / 100)},
			Barometer: q.Pressure(c.Number(t, "p_baro_Pa")),
			Before:    zero(t, samples, c, "start"), After: zero(t, samples, c, "end")}
		for _, p := range points {
			if p["dataset_id"] == id && p["mode"] == c["mode"] {
				s.Readings = append(s.Readings, airtight.Reading{Pressure: q.Pressure(p.Number(t, "dp_measured_Pa")),
					Flow: q.AirFlow(p.Number(t, "fan_flow") * cubicMetres[p["fan_flow_unit"]]), Weight: p.Optional(t, "weight")})
			}
		}
		in.Series = append(in.Series, s)
		tests[id] = in
	}
	return ids, tests
}

// zero forms the averages from the samples where there are some, else takes them from the conditions.
func zero(t *testing.T, samples []values.Record, c values.Record, when string) airtight.Averages {
	var list []q.Pressure
	for _, s := range samples {
		if s["dataset_id"] == c["dataset_id"] && s["mode"] == c["mode"] && s["when"] == when {
			list = append(list, q.Pressure(s.Number(t, "dp_Pa")))
		}
	}
	if len(list) > 0 {
		return airtight.AveragesOf(list)
	}
	return airtight.Averages{All: q.Pressure(c.Number(t, "p0_"+when+"_mean_Pa")),
		Positive: q.Pressure(c.Optional(t, "p0_"+when+"_pos_avg_Pa")), Negative: q.Pressure(c.Optional(t, "p0_"+when+"_neg_avg_Pa"))}
}

// answers collects every figure of a series under the names of expected.csv.
func answers(t *testing.T, in airtight.Input) map[string]float64 {
	t.Helper()
	out := map[string]float64{}
	test := analyse(t, in, airtight.ISO9972())
	for i, l := range test.Lines {
		s := in.Series[i]
		put := func(name string, x float64) { out[mode(l.Direction)+" "+name] = x }
		for when, a := range map[string]airtight.Averages{"start": s.Before, "end": s.After} {
			put("p0_"+when+"_mean", float64(a.All))
			put("p0_"+when+"_pos_avg", float64(a.Positive))
			put("p0_"+when+"_neg_avg", float64(a.Negative))
		}
		put("p0_mean_of_start_and_end", float64(l.Zero))
		put("p0_worst_average", float64(l.WorstZero))
		put("rho_int", float64(l.Inside))
		put("rho_ext", float64(l.Outside))
		if !l.Fitted {
			put("fit_possible", 0)
			continue
		}
		one := in
		one.Series = in.Series[i : i+1]
		lineAnswers(t, l, put)
		testAnswers(t, analyse(t, one, airtight.ISO9972()), put)
		variants(t, one, put)
	}
	if len(test.Lines) == 2 && test.Lines[0].Fitted && test.Lines[1].Fitted {
		put := func(name string, x float64) { out["mean "+name] = x }
		testAnswers(t, test, put)
		f := flow(t, test, 50)
		put("q50_halfwidth95_quadrature", float64(f.High-f.Low)/2*3600)
		d, _ := test.Difference(50)
		put("q50_difference_pct_of_mean", float64(d)*100)
		m, err := test.Measure(airtight.N50())
		if err != nil {
			t.Fatal(err)
		}
		put("n50_hi95_quadrature", float64(m.High))
	}
	return out
}

func mode(d airtight.Direction) string { return [...]string{"depress", "press"}[d] }

func analyse(t *testing.T, in airtight.Input, r airtight.Rules) airtight.Test {
	t.Helper()
	test, err := airtight.Analyse(in, r, q.English)
	if err != nil {
		t.Fatal(err)
	}
	return test
}

func flow(t *testing.T, test airtight.Test, p q.Pressure) airtight.Flow {
	t.Helper()
	f, err := test.At(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func lineAnswers(t *testing.T, l airtight.Line, put func(string, float64)) {
	f := l.Fit
	put("N", float64(f.Points))
	put("dp_induced_min", float64(l.Lowest))
	put("dp_induced_max", float64(l.Highest))
	put("dp_largest_gap", float64(l.Step))
	put("n", f.Exponent)
	put("C_env", f.Envelope.PerHour())
	put("C_L", f.Coefficient.PerHour())
	put("r2", f.R2)
	put("r2_plain_axes", plainR2(l.Points))
	put("s_n", f.SlopeError)
	put("s_lnC", f.LogError)
	put("t_95_two_sided", f.T)
	put("n_lo95", f.ExponentLow)
	put("n_hi95", f.ExponentHigh)
	put("C_L_lo95", f.CoefficientLow.PerHour())
	put("C_L_hi95", f.CoefficientHigh.PerHour())
	x, err := l.At(50)
	if err != nil {
		t.Fatal(err)
	}
	put("q50_lo95", float64(x.Low)*3600)
	put("q50_hi95", float64(x.High)*3600)
}

// plainR2 is the correlation of flow and pressure on plain axes: it proves the points, and must not be what is judged.
func plainR2(points []airtight.Point) float64 {
	var sx, sy, sxx, syy, sxy float64
	n := float64(len(points))
	for _, p := range points {
		x, y := float64(p.Induced), float64(p.Envelope)
		sx, sy, sxx, syy, sxy = sx+x, sy+y, sxx+x*x, syy+y*y, sxy+x*y
	}
	r := (n*sxy - sx*sy) / math.Sqrt((n*sxx-sx*sx)*(n*syy-sy*sy))
	return r * r
}

func testAnswers(t *testing.T, test airtight.Test, put func(string, float64)) {
	for _, p := range []q.Pressure{4, 10, 50} {
		put(fmt.Sprintf("q%g", float64(p)), float64(flow(t, test, p).Value)*3600)
	}
	put("q50_cfm", float64(flow(t, test, 50).Value)/cubicMetres["cfm"])
	for _, m := range []airtight.Metric{airtight.N50(), airtight.QE50(), airtight.QF50()} {
		x, err := test.Measure(m)
		if err != nil {
			t.Fatal(err)
		}
		put(m.String(), float64(x.Value))
	}
	areas, err := test.Areas()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range areas {
		put(fmt.Sprintf("%s_Cd%g", a.Name, a.Cd), float64(a.Value)*1e4)
		put(fmt.Sprintf("%s_Cd%g_in2", a.Name, a.Cd), float64(a.Value)/(0.0254*0.0254))
	}
}

// variants are the other fits and the coefficient with viscosity.
func variants(t *testing.T, in airtight.Input, put func(string, float64)) {
	e779 := analyse(t, in, airtight.E779())
	put("C0_with_viscosity", e779.Lines[0].Fit.Coefficient.PerHour())
	put("q50_with_viscosity", float64(flow(t, e779, 50).Value)*3600)
	in.Method = airtight.Organic
	put("n_line_of_organic_correlation", analyse(t, in, airtight.ISO9972()).Lines[0].Fit.Exponent)
	in.Method, in.LogFlow, in.Gauge = airtight.Iterated, 0.03, 1
	effective := analyse(t, in, airtight.ISO9972())
	put("n_effvar", effective.Lines[0].Fit.Exponent)
	put("q50_effvar", float64(flow(t, effective, 50).Value)*3600)
	in.Method = airtight.Weighted
	for _, r := range in.Series[0].Readings {
		if r.Weight == 0 {
			return
		}
	}
	weighted := analyse(t, in, airtight.ISO9972())
	fit, f := weighted.Lines[0].Fit, flow(t, weighted, 50)
	put("n_weighted", fit.Exponent)
	put("C_L_weighted", fit.Coefficient.PerHour())
	put("q50_weighted", float64(f.Value)*3600)
	put("s_n_weighted", fit.SlopeError)
	put("r2_weighted", fit.R2)
	put("q50_lo95_weighted", float64(f.Low)*3600)
	put("q50_hi95_weighted", float64(f.High)*3600)
}

// near holds a row's own relative tolerance; the answers are printed with seven digits, and a zero is met to 1e-9.
func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*math.Abs(want)+1e-9
}

// Every answer of expected.csv, computed by another program (SOURCE.md), each with its own tolerance. The difference of
// exactly equal directions is zero up to the rounding of the readings, hence the absolute part for percentages.
func TestReferenceAnswers(t *testing.T) {
	for _, folder := range folders() {
		ids, tests := loadTests(t, folder)
		wrong := values.Rows(t, folder, "wrong_answers.csv")
		got := map[string]map[string]float64{}
		for _, id := range ids {
			got[id] = answers(t, tests[id])
		}
		rows := values.Rows(t, folder, "expected.csv")
		for _, r := range rows {
			name := r["mode"] + " " + r["quantity"]
			x, ok := got[r["dataset_id"]][name]
			want := r.Number(t, "value")
			slack := 0.0
			if r["unit"] == "%" {
				slack = 1e-4
			}
			if !ok {
				t.Errorf("%s %s: no such figure", r["dataset_id"], name)
			} else if !near(x, want, r.Number(t, "rel_tol")) && math.Abs(x-want) > slack {
				t.Errorf("%s %s = %.8g, want %v %s (%s, %s)%s", r["dataset_id"], name, x, want, r["unit"], r["source"], r["status"], mistake(t, wrong, r, x))
			}
		}
		if len(rows) < 800 && folder == checks {
			t.Errorf("only %d answers were compared", len(rows))
		}
	}
}

// mistake names the mistake that gives this figure, if it is a known one.
func mistake(t *testing.T, wrong []values.Record, r values.Record, x float64) string {
	for _, w := range wrong {
		if w["dataset_id"] == r["dataset_id"] && w["mode"] == r["mode"] && strings.HasPrefix(w["mistake"], r["quantity"]+"_") &&
			near(x, w.Number(t, "value"), 1e-4) {
			return ": this is the answer of the mistake " + w["mistake"]
		}
	}
	return ""
}

// None of the usual mistakes: q50 without baseline, without or with swapped densities, one line through both directions,
// mean C and mean n. Where a mistake happens to give the right answer, the row proves nothing and is counted.
func TestNotTheWrongAnswers(t *testing.T) {
	for _, folder := range folders() {
		ids, tests := loadTests(t, folder)
		got := map[string]map[string]float64{}
		for _, id := range ids {
			got[id] = answers(t, tests[id])
		}
		right := map[string]float64{}
		for _, r := range values.Rows(t, folder, "expected.csv") {
			if r["quantity"] == "q50" {
				right[r["dataset_id"]+" "+r["mode"]] = r.Number(t, "value")
			}
		}
		told := 0
		for _, w := range values.Rows(t, folder, "wrong_answers.csv") {
			want, ok := right[w["dataset_id"]+" "+w["mode"]]
			if !ok {
				t.Errorf("%v: no right answer to compare with", w)
			}
			x, mistaken := got[w["dataset_id"]][w["mode"]+" q50"], w.Number(t, "value")
			// The right answer is known to 1e-4, the wrong one to five digits or better: apart by three times that, they can be told.
			if math.Abs(want-mistaken) < 3e-4*want {
				continue
			}
			told++
			if math.Abs(x-mistaken) < 1e-4*want {
				t.Errorf("%s %s: q50 %v is the answer of %s", w["dataset_id"], w["mode"], x, w["mistake"])
			}
		}
		if told < 60 {
			t.Errorf("%s: only %d mistakes can be told from the right answer", folder, told)
		}
	}
}

// Verdict, broken rules, warnings and stack product of every series against verdicts.csv (rules applied by another
// program). Consequences of ISO 9972:2015; the data have no wind near the ground, so that rule is silent here.
func TestReferenceVerdicts(t *testing.T) {
	for _, folder := range folders() {
		_, tests := loadTests(t, folder)
		for _, r := range values.Rows(t, folder, "verdicts.csv") {
			for _, l := range analyse(t, tests[r["dataset_id"]], airtight.ISO9972()).Lines {
				if mode(l.Direction) != r["mode"] {
					continue
				}
				var broken, warned []string
				for _, b := range l.Breaches {
					if b.Consequence >= airtight.Reject {
						broken = append(broken, string(b.Rule))
					} else {
						warned = append(warned, string(b.Rule))
					}
					if b.Rule == airtight.RuleStack && math.Abs(b.Measured-r.Number(t, "dT_x_height_mK")) > 0.001 {
						t.Errorf("%s: stack product %v, want %s", r["dataset_id"], b.Measured, r["dT_x_height_mK"])
					}
					if b.Text == "" || b.Clause.Text == "" {
						t.Errorf("%s: %v has no words or no clause", r["dataset_id"], b.Rule)
					}
				}
				verdict := strings.ReplaceAll(r["verdict"], "_", " ")
				if l.Verdict.String() != verdict || strings.Join(broken, ";") != r["broken_rules"] || strings.Join(warned, ";") != r["warnings"] {
					t.Errorf("%s %s: %v, broken %v, warned %v; want %s, %s, %s", r["dataset_id"], r["mode"], l.Verdict, broken, warned,
						verdict, r["broken_rules"], r["warnings"])
				}
			}
		}
	}
}
