package transient_test

import (
	"context"
	"math"
	"testing"

	"lapwork/generator/calc/transient"
	q "lapwork/generator/quantity"
)

// must is for fixtures: a fault in one is a fault of the test.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// The isotherms of the fixtures are invented, of the shape and size common for such boards. The wood one has the
// equilibrium moisture of the Wood Handbook's equation at 20 °C up to 90 % (0.5 … 20.8 % by mass), then free saturation.
func woodIsotherm(density float64) transient.Isotherm {
	return must(transient.IsothermByMass([]transient.Point{{0, 0}, {0.2, 0.045}, {0.4, 0.077}, {0.6, 0.11}, {0.8, 0.16}, {0.9, 0.206}, {0.97, 0.28}, {1, 0.6}}, density))
}

func osb() *transient.Material {
	return &transient.Material{Heat: 650 * 1700, Lambda: 0.13, PerWater: 0.0002, Storage: woodIsotherm(650),
		Vapour: must(transient.NewMu([]transient.Point{{0, 200}, {0.5, 150}, {0.8, 90}, {1, 60}}))}
}

func woodFibre() *transient.Material {
	return &transient.Material{Heat: 180 * 1700, Lambda: 0.043, PerWater: 0.0002, Storage: woodIsotherm(180), Vapour: transient.FixedMu(4)}
}

func gypsum() *transient.Material {
	return &transient.Material{Heat: 900 * 1000, Lambda: 0.25, PerWater: 0.001, Vapour: transient.FixedMu(8),
		Storage: must(transient.NewIsotherm([]transient.Point{{0, 0}, {0.5, 4}, {0.8, 8}, {0.95, 20}, {1, 350}}))}
}

func wool() *transient.Material {
	return &transient.Material{Heat: 30 * 1030, Lambda: 0.035, Storage: transient.NoUptake{}, Vapour: transient.FixedMu(1)}
}

// variableFilm is the film of file 12.
func variableFilm() *transient.Film {
	f := must(transient.NewFilm([]transient.Point{{0, 4.38}, {0.265, 4.35}, {0.415, 3.7}, {0.625, 1.0005}, {0.715, 0.44}, {0.9, 0.09}, {1, 0.08}}))
	return &f
}

// timberWall is a wall of five layers: board, sheet, insulation, OSB, wood fibre.
func timberWall() transient.Wall {
	return transient.Wall{Start: 0.8, Temperature: 15, Inside: transient.Surface{R: 0.13, Sd: 0.008}, Outside: transient.Surface{R: 0.04, Sd: 0.003},
		Layers: []transient.Layer{
			{Name: "gypsum board", Thickness: 0.0125, Material: gypsum()},
			{Name: "sheet", Film: variableFilm()},
			{Name: "mineral wool", Thickness: 0.2, Material: wool()},
			{Name: "OSB", Thickness: 0.018, Material: osb(), Limit: 117},
			{Name: "wood fibre board", Thickness: 0.06, Material: woodFibre()},
		}}
}

// mannheim is the rounded monthly climate of Mannheim (te, rhe), indoors after the ramp of EN 15026 annex C: 20 °C below te 10,
// 25 °C above 20; 30 % at -10 to 60 % at 20. From October.
func mannheim(t testing.TB, swing float64) transient.Climate {
	months := mannheimMonths()
	c, err := transient.Smooth(months, q.Temperature(swing))
	if err != nil {
		t.Fatal(err)
	}
	// Weather that lasts some days, and sun on the wall, so that the climate is no smooth curve: ±4 K in 5 days.
	if swing > 0 {
		for i := range c {
			h := &c[i]
			t := float64(h.Outside.T) + 4*math.Sin(2*math.Pi*float64(i)/124)
			p := min(float64(h.Outside.P)*(1+0.15*math.Sin(2*math.Pi*float64(i)/87)), psat(t))
			h.Outside = transient.Air{T: q.Temperature(t), P: q.Pressure(p)}
			h.Absorbed = q.Irradiance(math.Max(-20, 150*math.Sin(2*math.Pi*(float64(i%24)-6)/24)))
		}
	}
	return c
}

func simulate(t testing.TB, w transient.Wall, c transient.Climate, o transient.Options) transient.Result {
	t.Helper()
	r, err := transient.Simulate(context.Background(), w, c, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func mannheimMonths() []transient.Month {
	te := [12]float64{12.5, 6.8, 4.4, 3.7, 5.3, 8, 11.2, 16.4, 19.3, 21.7, 21.8, 17}
	rh := [12]float64{.78, .85, .82, .80, .79, .79, .61, .63, .65, .61, .56, .64}
	var months []transient.Month
	for i := range te {
		ti := 20 + 5*max(0, min(1, (te[i]-10)/10))
		rhi := 0.3 + 0.3*max(0, min(1, (te[i]+10)/30))
		months = append(months, transient.Month{Month: (i+9)%12 + 1, Inside: moist(ti, rhi), Outside: moist(te[i], rh[i])})
	}
	return months
}

// brick is invented, of the size common for fired clay.
func brick() *transient.Material {
	return &transient.Material{Heat: 1700 * 900, Lambda: 0.7, PerWater: 0.003, Vapour: transient.FixedMu(12),
		Storage: must(transient.NewIsotherm([]transient.Point{{0, 0}, {0.5, 4}, {0.8, 8}, {0.95, 25}, {1, 220}})),
		Liquid:  must(transient.NewDiffusivity([]transient.TransportPoint{{10, 1e-10}, {220, 1e-7}}))}
}

// masonryWall is brick insulated inside: board, sheet, wood fibre, brick, render.
func masonryWall() transient.Wall {
	w := timberWall()
	render := brick()
	render.Vapour = transient.FixedMu(20)
	w.Layers = []transient.Layer{w.Layers[0], w.Layers[1], w.Layers[4],
		{Name: "brick", Thickness: 0.24, Material: brick()}, {Name: "render", Thickness: 0.015, Material: render}}
	return w
}

// BenchmarkTimberWall and BenchmarkMasonryWall report simulated years a second on one core for five layers, weather of every
// hour, default accuracy: without and with liquid transport.
func BenchmarkTimberWall(b *testing.B) { speed(b, timberWall()) }

func BenchmarkMasonryWall(b *testing.B) { speed(b, masonryWall()) }

func speed(b *testing.B, w transient.Wall) {
	c := mannheim(b, 4)
	years := 0
	for b.Loop() {
		r := simulate(b, w, c, transient.Options{Years: 5, AllYears: true})
		years += r.Years
		b.ReportMetric(float64(r.Effort.Steps)/float64(r.Years), "steps/year")
		b.ReportMetric(float64(r.Effort.Iterations)/float64(r.Effort.Steps), "iterations/step")
		b.ReportMetric(float64(r.Effort.Nodes), "nodes")
	}
	b.ReportMetric(float64(years)/b.Elapsed().Seconds(), "years/s")
}
