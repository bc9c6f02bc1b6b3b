package transient_test

import (
	"math"
	"testing"

	"lapwork/generator/calc/transient"
	q "lapwork/generator/quantity"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

// TestStepInAHalfSpace: a half space whose surface jumps follows erfc(x / (2 sqrt(a t))), a = lambda/(rho c) (Carslaw and
// Jaeger, conduction of heat in solids, 2.4; formula from memory). The same for moisture with a straight isotherm at one temperature,
// where a = delta psat / (dw/drh). Tolerance: 0.05 of 10 K and 0.004 of 0.4, that is
// one percent of the jump or less, what backward Euler leaves at the error allowed here.
func TestStepInAHalfSpace(t *testing.T) {
	const days = 10
	heat := &transient.Material{Heat: 1.8e6, Lambda: 0.9, Storage: transient.NoUptake{}, Vapour: transient.FixedMu(10)}
	r := simulate(t, transient.Wall{Start: 0.5, Temperature: 10, Layers: []transient.Layer{{Name: "stone", Thickness: 10, Material: heat}}},
		constant(days, 20, 0.5, 10, 0.5), transient.Options{Years: 1, Profiles: []int{days}, TError: 0.02, Cells: transient.Mesh{First: 0.005, Growth: 1.1, Largest: 0.1}, DryHeat: true})
	for _, x := range []float64{0.1, 0.3, 0.6, 1, 1.5} {
		want := 10 + 10*math.Erfc(x/(2*math.Sqrt(0.9/1.8e6*days*86400)))
		near(t, "temperature", readProfile(r.Profiles[0], x, celsius), want, 0.05)
	}

	straight := must(transient.NewIsotherm([]transient.Point{{0, 0}, {1, 50}}))
	damp := &transient.Material{Heat: 1e6, Lambda: 1, Storage: straight, Vapour: transient.FixedMu(20)}
	r = simulate(t, transient.Wall{Start: 0.4, Temperature: 20, Layers: []transient.Layer{{Name: "board", Thickness: 0.6, Material: damp}}},
		constant(days, 20, 0.8, 20, 0.4), transient.Options{Years: 1, Profiles: []int{days}, RHError: 0.0004, Cells: transient.Mesh{First: 0.002, Growth: 1.1, Largest: 0.02}, DryHeat: true})
	a := 2e-10 / 20 * psat(20) / 50
	for _, x := range []float64{0.01, 0.02, 0.05, 0.1} {
		want := 0.4 + 0.4*math.Erfc(x/(2*math.Sqrt(a*days*86400)))
		near(t, "humidity", readProfile(r.Profiles[0], x, func(p transient.Plane) float64 { return float64(p.Humidity) }), want, 0.004)
	}
}

// glaser gives temperature and vapour pressure at every interface of a wall of constant properties: resistances in
// series, EN ISO 13788 clause 6 without condensation.
func glaser(w transient.Wall, rs, sds []float64, h transient.Hour) (t, p []float64) {
	sum, sdSum := float64(w.Inside.R), math.Max(float64(w.Inside.Sd), 1e-6)
	total, sdTotal := sum+float64(w.Outside.R), sdSum+math.Max(float64(w.Outside.Sd), 1e-6)
	for i := range rs {
		total += rs[i]
		sdTotal += sds[i]
	}
	for i := 0; i <= len(rs); i++ {
		f, g := sum/total, sdSum/sdTotal
		t = append(t, float64(h.Inside.T)+f*float64(h.Outside.T-h.Inside.T))
		p = append(p, float64(h.Inside.P)+g*float64(h.Outside.P-h.Inside.P))
		if i < len(rs) {
			sum += rs[i]
			sdSum += sds[i]
		}
	}
	return t, p
}

// constantWall has storage everywhere but constant lambda and mu, so that its steady state is that of the monthly method.
func constantWall(storage bool) (w transient.Wall, rs, sds []float64) {
	film := transient.FixedFilm(5)
	w = transient.Wall{Start: 0.5, Temperature: 12, Inside: transient.Surface{R: 0.13}, Outside: transient.Surface{R: 0.04}}
	add := func(name string, d, lambda, mu, density float64) {
		var s transient.Storage = transient.NoUptake{}
		if storage {
			s = woodIsotherm(density)
		}
		w.Layers = append(w.Layers, transient.Layer{Name: name, Thickness: q.Length(d), Material: &transient.Material{
			Heat: transient.HeatCapacity(density * 1200), Lambda: transient.Conductivity(lambda), Storage: s, Vapour: transient.FixedMu(mu)}})
		rs, sds = append(rs, d/lambda), append(sds, d*mu)
	}
	add("board", 0.0125, 0.25, 10, 900)
	w.Layers = append(w.Layers, transient.Layer{Name: "sheet", Film: &film})
	rs, sds = append(rs, 1e-5), append(sds, 5)
	add("insulation", 0.16, 0.04, 2, 50)
	add("sheathing", 0.018, 0.13, 30, 100)
	return w, rs, sds
}

// TestSteadyStateIsGlasers: held long enough in one climate, temperatures and vapour pressures are those of resistances in
// series: vapour passes without a change of phase, so its latent heat goes in and out again. Tolerance: what twelve years
// of approach and the sensible heat of the vapour leave.
func TestSteadyStateIsGlasers(t *testing.T) {
	w, rs, sds := constantWall(true)
	c := constant(365, 20, 0.5, -5, 0.8)
	r := simulate(t, w, c, transient.Options{Years: 12, AllYears: true, Longest: 24})
	ts, ps := glaser(w, rs, sds, c[0])
	for i, p := range r.Interfaces {
		last := len(p.Temperature) - 1
		near(t, "temperature", float64(p.Temperature[last]), ts[i], 0.01)
		near(t, "pressure", float64(p.Humidity[last])*psat(float64(p.Temperature[last])), ps[i], 0.5)
	}
}

// TestSunAtTheSurface: absorbed heat counts like warmer air outside, by what it would take to pass the outer film: the temperature
// of air and sun together, Te + Rse·A, of every handbook. The vapour follows resistances alone. Below zero it is what the sky takes.
func TestSunAtTheSurface(t *testing.T) {
	for _, absorbed := range []q.Irradiance{200, -60} {
		w, rs, sds := constantWall(true)
		c := constant(365, 20, 0.5, 5, 0.5)
		for i := range c {
			c[i].Absorbed = absorbed
		}
		r := simulate(t, w, c, transient.Options{Years: 12, AllYears: true, Longest: 24})
		warm := c[0]
		warm.Outside.T += q.Temperature(float64(w.Outside.R) * float64(absorbed))
		ts, ps := glaser(w, rs, sds, warm)
		for i, p := range r.Interfaces {
			last := len(p.Temperature) - 1
			near(t, "temperature", float64(p.Temperature[last]), ts[i], 0.01)
			near(t, "pressure", float64(p.Humidity[last])*psat(float64(p.Temperature[last])), ps[i], 0.5)
		}
	}
}

// TestDryYearAgreesWithTheMonthlyMethod: without storage, with months as steps, every interface stands at the end of each
// month where the monthly method puts it, and no water appears. Tolerance 0.02 K and 1 Pa: the daily mean still holds the
// slow end of the warming from the month before.
func TestDryYearAgreesWithTheMonthlyMethod(t *testing.T) {
	w, rs, sds := constantWall(false)
	months := mannheimMonths()
	c, err := transient.Stepwise(months)
	if err != nil {
		t.Fatal(err)
	}
	r := simulate(t, w, c, transient.Options{})
	day := 0
	for _, m := range months {
		day += [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[m.Month-1]
		ts, ps := glaser(w, rs, sds, c[24*day-1])
		for i, p := range r.Interfaces {
			near(t, p.Inner+"|"+p.Outer+" temperature", float64(p.Temperature[day-1]), ts[i], 0.02)
			near(t, p.Inner+"|"+p.Outer+" pressure", float64(p.Humidity[day-1])*psat(float64(p.Temperature[day-1])), ps[i], 1)
			if p.MostFree > 0 {
				t.Errorf("%s|%s: %v kg/m² of free water", p.Inner, p.Outer, p.MostFree)
			}
		}
	}
	if !r.Steady || r.Years > 2 {
		t.Errorf("steady %v after %d years, want the second", r.Steady, r.Years)
	}
}

// TestWetSurfaceCoolsToTheWetBulb: a wet plane behind a thick, nearly heat-tight layer loses heat only to the air and by
// evaporation: h (Ta - T) = g (L0 + cv (T+Ta)/2) with g = delta0/sd (psat(T) - pa), less what the water itself carries,
// solved here by bisection. Without latent heat it would stay at the temperature of the air, at least 5 K warmer.
func TestWetSurfaceCoolsToTheWetBulb(t *testing.T) {
	tight := transient.FixedFilm(1e5)
	tight.R = 10
	w := transient.Wall{Start: 0.5, Temperature: 20, Inside: transient.Surface{R: 10}, Outside: transient.Surface{R: 0.1, Sd: 0.004},
		Layers: []transient.Layer{{Name: "tight", Film: &tight}}, Wet: []transient.Wetting{{Interface: 1, Water: 5}}}
	c := constant(1, 20, 0.5, 20, 0.4)
	r := simulate(t, w, c, transient.Options{Years: 1, Profiles: []int{1}})
	low, high := 0.0, 20.0
	for range 60 {
		mid := (low + high) / 2
		g := 2e-10 / 0.004 * (psat(mid) - 0.4*psat(20))
		// The water was stored with cw·T and leaves with the vapour's heat.
		if 10*(20-mid)+(20-mid)/20 > g*(2.5e6+1860*(mid+20)/2-4180*mid) {
			low = mid
		} else {
			high = mid
		}
	}
	last := r.Profiles[0].At[1]
	near(t, "wet surface", float64(last.Temperature), low, 0.02)
	if low > 15 {
		t.Errorf("the case tells nothing: wet surface at %v °C", low)
	}
}

// TestNothingMovesInEquilibrium: a wall at the temperature and humidity of the air on both sides stays so.
func TestNothingMovesInEquilibrium(t *testing.T) {
	w := timberWall()
	w.Start, w.Temperature = 0.55, 18
	r := simulate(t, w, constant(30, 18, 0.55, 18, 0.55), transient.Options{Years: 1})
	if r.Balance.WaterMoved > 1e-9 || r.Balance.HeatMoved > 1e-3 {
		t.Errorf("moved %v kg/m², %v J/m²", r.Balance.WaterMoved, r.Balance.HeatMoved)
	}
	if !r.Steady || r.Years != 1 || r.Drying.Days != 0 {
		t.Errorf("steady %v, years %d, drying %d days", r.Steady, r.Years, r.Drying.Days)
	}
}
