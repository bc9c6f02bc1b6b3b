package airtight_test

import (
	"errors"
	"math"
	"testing"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

// density_checks.csv: the annex formula in another program, printed to 1e-6 kg/m³ and 0.01 Pa, hence half of these and a
// bit; an independent psychrometric library differs by up to 0.015 % because its saturation pressure is another formula.
func TestDensity(t *testing.T) {
	for _, r := range values.Rows(t, checks, "density_checks.csv") {
		air := airtight.Air{Temperature: q.Temperature(r.Number(t, "T_C")), Humidity: q.Ratio(r.Number(t, "RH_pct") / 100)}
		rho, err := air.Density(q.Pressure(r.Number(t, "p_baro_Pa")))
		if want := r.Number(t, "rho_kg_m3"); err != nil || math.Abs(float64(rho)-want) > 6e-7 {
			t.Errorf("%v: %v, %v; want %v", r, rho, err, want)
		}
		if second := r.Number(t, "rho_second_kg_m3"); math.Abs(float64(rho)/second-1) > 1.5e-4 {
			t.Errorf("%v: %v, the second source has %v", r, rho, second)
		}
		pv, err := air.VapourPressure()
		if want := r.Number(t, "pv_Pa"); err != nil || math.Abs(float64(pv)-want) > 0.006 {
			t.Errorf("%v: vapour pressure %v, %v; want %v", r, pv, err, want)
		}
		air.Humidity = 1
		saturated, err := air.VapourPressure()
		if want := r.Number(t, "pv_sat_Pa"); err != nil || math.Abs(float64(saturated)-want) > 0.006 {
			t.Errorf("%v: saturation %v, %v; want %v", r, saturated, err, want)
		}
	}
}

// Reference state of ISO 9972: 1.2041 kg/m³ is dry air at 20 °C and 101 325 Pa to its last digit.
func TestReferenceState(t *testing.T) {
	rho, err := airtight.Air{Temperature: airtight.ReferenceTemperature}.Density(airtight.ReferencePressure)
	if err != nil || math.Abs(float64(rho-airtight.ReferenceDensity)) > 5e-5 {
		t.Errorf("%v, %v", rho, err)
	}
}

// Sutherland viscosity of air at 20 °C: 1.81e-5 Pa·s in handbooks (1.813e-5 to 1.825e-5, from memory), hence 1 %.
func TestViscosity(t *testing.T) {
	if got := float64(airtight.Air{Temperature: 20}.Viscosity()); math.Abs(got/1.82e-5-1) > 0.01 {
		t.Errorf("%v Pa·s", got)
	}
}

// An orifice device calibrated at 1.20 reads 1 % low per 2 % less density: derived, q = q_read (rho_cal/rho)^0.5.
func TestFanFlow(t *testing.T) {
	got, err := airtight.FanFlow(1, 1.21, 1)
	if err != nil || math.Abs(float64(got)-1.1) > 1e-12 {
		t.Errorf("%v, %v", got, err)
	}
	if _, err := airtight.FanFlow(1, 1.2, 0); !errors.Is(err, airtight.ErrInput) {
		t.Errorf("a density of zero: %v", err)
	}
}

// Two-sided 95 % quantiles as tables of Student's t print them (three decimals), and 99 % for a few; from memory of such
// tables, 5 to 12 degrees also in the reference's note. Closed forms: one degree tan(πc/2), two degrees
// c (2/(1−c²))^0.5.
func TestStudentT(t *testing.T) {
	for _, c := range []struct {
		confidence float64
		degrees    int
		want       float64
	}{
		{0.95, 1, 12.706}, {0.95, 2, 4.303}, {0.95, 3, 3.182}, {0.95, 4, 2.776}, {0.95, 5, 2.571}, {0.95, 6, 2.447}, {0.95, 7, 2.365},
		{0.95, 8, 2.306}, {0.95, 10, 2.228}, {0.95, 18, 2.101}, {0.95, 30, 2.042}, {0.95, 60, 2.000}, {0.95, 120, 1.980},
		{0.99, 5, 4.032}, {0.99, 10, 3.169}, {0.90, 5, 2.015},
		{0.95, 1_000_000, 1.960},
	} {
		got, err := airtight.StudentT(c.confidence, c.degrees)
		if err != nil || math.Abs(got-c.want) > 5.1e-4 {
			t.Errorf("%v, %d: %v, %v; want %v", c.confidence, c.degrees, got, err, c.want)
		}
	}
	for _, c := range []float64{1e-6, 0.1, 0.5, 0.95, 0.999999} {
		one, err1 := airtight.StudentT(c, 1)
		two, err2 := airtight.StudentT(c, 2)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if want := math.Tan(math.Pi * c / 2); math.Abs(one/want-1) > 1e-9 {
			t.Errorf("one degree, %v: %v, want %v", c, one, want)
		}
		if want := c * math.Sqrt(2/(1-c*c)); math.Abs(two/want-1) > 1e-9 {
			t.Errorf("two degrees, %v: %v, want %v", c, two, want)
		}
	}
	for _, c := range []float64{0, 1, -1, 2, math.NaN()} {
		if _, err := airtight.StudentT(c, 5); !errors.Is(err, airtight.ErrInput) {
			t.Errorf("confidence %v: %v", c, err)
		}
	}
	if _, err := airtight.StudentT(0.95, 0); !errors.Is(err, airtight.ErrInput) {
		t.Errorf("no degrees of freedom: %v", err)
	}
}

// conversion_checks.csv, each with its own tolerance and source.
func TestConversions(t *testing.T) {
	to := func(value airtight.Figure, from, at q.Pressure, n float64) float64 {
		x, err := airtight.ToPressure(value, from, at, n)
		if err != nil {
			t.Fatal(err)
		}
		return float64(x)
	}
	area := func(flow, p, cd float64) float64 {
		a, err := airtight.AreaOf(airtight.Flow{At: q.Pressure(p), Value: q.AirFlow(flow)}, cd)
		if err != nil {
			t.Fatal(err)
		}
		return float64(a.Value)
	}
	house := airtight.Building{Volume: 420, Envelope: 460}
	qe50, err := house.Over(3, airtight.PerVolume, airtight.PerEnvelope)
	if err != nil {
		t.Fatal(err)
	}
	oneCm2 := 1e-4 / area(1, 4, airtight.Nozzle) // the flow at 4 Pa that makes an ELA4 of 1 cm²
	const footPerMinute = 0.3048 * 60            // m/h
	c55 := func(p float64) float64 { return 55 * math.Pow(p, 0.61) / 3600 }
	got := map[string]float64{
		"K01": to(1, 4, 50, 0.65),
		"K02": to(1, 100, 50, 0.67),
		"K03": to(1, 100, 50, 2.0/3),
		"K04": to(airtight.Figure(oneCm2*3600), 4, 50, 0.65),
		// the constant holds for rho 1.2, ours is 1.2041: area goes with the root of the density
		"K05": area(math.Pow(0.3048, 3)/60, 4, airtight.Nozzle) / (0.0254 * 0.0254) * math.Sqrt(1.2/float64(airtight.ReferenceDensity)),
		"K06": 0.30 * footPerMinute,
		"K07": to(0.25*footPerMinute, 75, 50, 0.65),
		"K08": 3.6,
		"K09": math.Log(8.0/1.57) / math.Log(50.0/4),
		"K10": float64(qe50),
		"K11": area(c55(10), 10, airtight.Nozzle) * 1e4,
		"K12": area(c55(10), 10, airtight.SharpEdge) * 1e4,
	}
	rows := values.Rows(t, checks, "conversion_checks.csv")
	for _, r := range rows {
		x, ok := got[r["id"]]
		if !ok || !near(x, r.Number(t, "value"), r.Number(t, "rel_tol")) {
			t.Errorf("%s %s: %v, want %s %s (%s)", r["id"], r["description"], x, r["value"], r["unit"], r["source"])
		}
	}
	if len(rows) != len(got) {
		t.Errorf("%d rows for %d conversions", len(rows), len(got))
	}
	// CAN/CGSB-149.10 prints 0.001157 rho^0.5 C 10^(n-0.5) with C in L/(s·Paⁿ); the rounded constant is within 0.03 %.
	printed := 0.001157 * math.Sqrt(1.2041) * 55 / 3.6 * math.Pow(10, 0.61-0.5) * 1e4
	if !near(got["K12"], printed, 3e-4) {
		t.Errorf("EqLA10 %v cm², the printed constant gives %v", got["K12"], printed)
	}
	// A limit of 0.30 cfm/ft² and one of 1.0 L/(s·m²) as the table of limits turns them: K06 and K08.
	if l := limits(t); !near(float64(l["us-enclosure"].Value), 5.4864, 1e-5) || !near(float64(l["dk18-normal"].Value), 3.6, 1e-6) {
		t.Errorf("%v, %v", l["us-enclosure"].Value, l["dk18-normal"].Value)
	}
}

// uncertainty_checks.csv: root of the sum of squares (JCGM 100); verdict and band as the row words them.
func TestUncertainty(t *testing.T) {
	for _, r := range values.Rows(t, checks, "uncertainty_checks.csv") {
		parts := airtight.Parts{Device: q.Ratio(r.Number(t, "U_flow_device_pct") / 100), Gauge: q.Pressure(r.Number(t, "U_pressure_Pa")),
			Denominator: q.Ratio(r.Number(t, "U_volume_pct") / 100)}
		total, err := parts.Combine(q.Ratio(r.Number(t, "U_regression_pct")/100), r.Number(t, "n"), 50)
		if err != nil || !near(float64(total)*100, r.Number(t, "U_n50_pct"), r.Number(t, "rel_tol")) {
			t.Errorf("%s: %v, %v; want %s %%", r["id"], total, err, r["U_n50_pct"])
		}
		value := airtight.Figure(r.Number(t, "q50_m3_h") / r.Number(t, "V_m3"))
		m := airtight.Measured{Metric: airtight.N50(), Value: value, Low: value * airtight.Figure(1-total), High: value * airtight.Figure(1+total), Banded: true}
		if !near(float64(m.High), r.Number(t, "n50_upper_1_h"), r.Number(t, "rel_tol")) {
			t.Errorf("%s: upper bound %v, want %s", r["id"], m.High, r["n50_upper_1_h"])
		}
		limit := airtight.Limit{Metric: airtight.N50(), Comparison: airtight.AtMost, Value: airtight.Figure(r.Number(t, "limit_1_h")), Digits: -1}
		o, err := limit.Judge(m)
		band := map[bool]string{true: "inside the uncertainty band", false: "clear of the uncertainty band"}[o.Straddles]
		if err != nil || o.Decision < airtight.PassClose || r["verdict"] != "pass on value" || band != r["band"] {
			t.Errorf("%s: %v, %s, %v; want %s, %s", r["id"], o.Decision, band, err, r["verdict"], r["band"])
		}
	}
}

// rules.csv: the limits that ISO 9972 and the others are held with here, except wind near the ground and Beaufort, where
// trade practice warns from the limit on and not only above it.
func TestRuleLimits(t *testing.T) {
	iso, en, e779, cgsb := airtight.ISO9972(), airtight.EN13829(), airtight.E779(), airtight.CGSB149()
	got := map[string]float64{
		"MIN_POINTS": float64(iso.MinPoints), "SPACING": float64(iso.MaxStep), "MAX_PRESSURE": float64(iso.Highest),
		"MAX_PRESSURE_ABS": float64(iso.Floor), "BASELINE_MAX": float64(iso.MaxBaseline), "R2_MIN": iso.MinR2, "DT_HEIGHT": iso.Stack,
		"DT_HEIGHT_2000": en.Stack, "DT_HEIGHT_E779": e779.Stack, "WIND": float64(iso.Wind), "WIND_GROUND": float64(iso.Ground),
		"BEAUFORT": float64(iso.Beaufort), "UNC_CALM": float64(iso.Calm) * 100, "UNC_WINDY": float64(iso.Windy) * 100,
		"INSTR_P": float64(iso.GaugeLimit), "CGSB_RANGE": float64(cgsb.RangeHigh),
	}
	found := 0
	for _, r := range values.Rows(t, checks, "rules.csv") {
		if x, ok := got[r["rule_id"]]; ok {
			found++
			if x != r.Number(t, "limit") {
				t.Errorf("%s: %v, want %s %s (%s)", r["rule_id"], x, r["limit"], r["limit_unit"], r["standard_and_clause"])
			}
		}
	}
	if found != len(got) {
		t.Errorf("%d of %d rules found", found, len(got))
	}
	if en.MinR2 != 0 || en.Calm != 0.15 || en.Windy != 0.40 || math.Abs(cgsb.MinR2-0.9801) > 1e-12 || e779.StackConsequence != airtight.Reject {
		t.Error("what sets the other standards apart is lost")
	}
}
