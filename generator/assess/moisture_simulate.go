package assess

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lapwork/generator/calc/transient"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// Simulation is a run through the year hour by hour, with the drying reserve as water that comes in every year.
type Simulation struct {
	Wall   transient.Wall
	Result transient.Result
	Judged transient.Judgement
	Limit  q.Ratio  // humidity whose hours are counted
	Hourly bool     // through the job's own weather file; else through smoothed monthly means
	Weak   []string // layers whose storage is not measured: the run is a screening
	Failed string   // why it came to no end; empty: it did
}

// Proves says that the run is one that may answer for what the monthly method leaves out: measured storage, the weather
// of every hour, and nothing against it.
func (s *Simulation) Proves() bool {
	return s != nil && s.Failed == "" && s.Hourly && len(s.Weak) == 0 && s.Judged.Verdict == transient.Proven
}

// Word says what a run that came to an end amounts to: a run that is no proof never says so.
func (s *Simulation) Word() string {
	if s.Judged.Verdict == transient.Proven && !s.Proves() {
		return "nothing against it"
	}
	return s.Judged.Verdict.String()
}

// humidPlane is the humidity whose hours are counted: 80 %, common practice for timber, no source.
const humidPlane q.Ratio = 0.80

// longestSmooth is the longest step through smoothed monthly means, in which nothing happens within a day.
const longestSmooth transient.Hours = 24

// simulate runs the build-up with the sheet as it varies, where every material's storage is known. No run knows sun or
// rain.
func (r *Results) simulate(ctx context.Context, c *MoistureCheck, m *Moisture) error {
	wall, known := r.wallOf(c)
	if !known {
		return nil
	}
	hours, err := m.hourly(c.Year)
	if err != nil {
		return fmt.Errorf("build-up %s, simulation: %w", c.BuildUp.ID, err)
	}
	c.Run = &Simulation{Wall: wall, Limit: humidPlane, Hourly: m.Hours != nil, Weak: r.weakStorage(c)}
	o := transient.Options{Limits: []q.Ratio{humidPlane}}
	if !c.Run.Hourly {
		o.Longest = longestSmooth
	}
	c.Run.Result, err = transient.Simulate(ctx, wall, hours, o)
	switch {
	case errors.Is(err, transient.ErrSteps), errors.Is(err, transient.ErrDiverged), errors.Is(err, transient.ErrInput):
		c.Run.Failed = err.Error()
		return nil
	case err != nil:
		return err
	}
	criteria := transient.Criteria{Free: transient.FreeOnSmooth}
	if c.Reserve != nil {
		criteria.Reserve = transient.MassPerArea(c.Reserve.Water)
	}
	criteria.Beyond = transient.BeyondOneDimension(r.simulationFacts(c))
	c.Run.Judged = transient.Judge(c.Run.Result, wall, criteria)
	c.settle()
	return nil
}

// settle draws the run's consequence. A run that fails makes the build-up fail; with storage data that nobody measured it
// only stops a proof. A run that proves answers what the monthly method leaves out, where nothing else stands against the
// build-up; a fail by the monthly method stays one.
func (c *MoistureCheck) settle() {
	if c.Run.Judged.Verdict == transient.Fails {
		pattern := "simulated: %s"
		if len(c.Run.Weak) > 0 {
			pattern = "simulated with storage data from memory: %s"
		}
		for _, reason := range c.Run.Judged.Reasons {
			c.reason(fmt.Sprintf(pattern, reason.Text), reason.Source)
		}
		if c.Outcome = max(c.Outcome, Unproven); len(c.Run.Weak) == 0 {
			c.Outcome = Fails
		}
		return
	}
	other := slices.ContainsFunc(c.Reasons, func(r Reason) bool { return !r.Simulated })
	if c.Outcome == Unproven && !other && c.Run.Proves() {
		c.Outcome = Proven
	}
}

// weakStorage names the layers whose sorption isotherm is worth less than a reading of a document or a formula.
func (r *Results) weakStorage(c *MoistureCheck) (names []string) {
	for _, l := range c.Layers {
		s, known := r.Library.Moisture.Storage[l.Stated.Material]
		if _, none := s.Curve.(transient.NoUptake); known && !none && l.Counted && s.Source.Status > q.Computed && !slices.Contains(names, l.Name) {
			names = append(names, l.Name)
		}
	}
	return names
}

// wallOf is the build-up as the simulation takes it. Layers without storage data are listed; known is false if any is.
func (r *Results) wallOf(c *MoistureCheck) (wall transient.Wall, known bool) {
	wall = transient.Wall{Inside: transient.Surface{R: transient.Resistance(c.Films.Inside)}, Outside: transient.Surface{R: transient.Resistance(c.Films.Outside)},
		Start: humidPlane, Temperature: 20}
	cold := -1
	for _, l := range c.Layers {
		if !l.Counted {
			continue
		}
		layer, ok := r.simulated(l)
		if !ok {
			c.Storage = append(c.Storage, l.Name)
			continue
		}
		wall.Layers = append(wall.Layers, layer)
		if insulates(r.kindOf(l).Kind) {
			cold = len(wall.Layers)
		}
	}
	if c.Reserve != nil && cold > 0 {
		wall.Source = transient.Reserve{Interface: cold, PerYear: transient.MassPerArea(c.Reserve.Water)}
	}
	return wall, len(c.Storage) == 0
}

// simulated is one layer: sheets, thin layers and air spaces as films, materials with their storage.
func (r *Results) simulated(l CheckedLayer) (transient.Layer, bool) {
	out := transient.Layer{Name: l.Name}
	m, stated := r.Library.Moisture.Material(l.Stated.Material)
	if l.Stated.Component != "" || l.Stated.Air || stated && m.Thin() {
		film := transient.FixedFilm(min(l.High, 1e5))
		if l.Curve != nil {
			var points []transient.Point
			for _, p := range l.Curve.Points {
				points = append(points, transient.Point{Humidity: p.Humidity, Value: float64(p.Sd)})
			}
			varying, err := transient.NewFilm(points)
			if err != nil {
				return out, false
			}
			film = varying
		}
		film.R = transient.Resistance(l.R)
		out.Film = &film
		return out, true
	}
	s, known := r.Library.Moisture.Storage[l.Stated.Material]
	d := float64(l.Stated.Thickness.Metres())
	if !known || !stated || !m.Density.Known || !m.HeatCapacity.Known || d <= 0 {
		return out, false
	}
	out.Thickness = l.Stated.Thickness.Metres()
	out.Material = &transient.Material{Heat: transient.HeatCapacity(m.Density.Low * m.HeatCapacity.X), Lambda: transient.Conductivity(l.Lambda),
		Storage: s.Curve, Vapour: transient.FixedMu(math.Min(math.Max(float64(l.Low)/d, 1), 1e6))}
	return out, true
}

// simulationFacts give what one dimension and the data here cannot show.
func (r *Results) simulationFacts(c *MoistureCheck) transient.Facts {
	e := c.BuildUp.Exposure
	f := transient.Facts{FlatRoof: c.flat() && !c.BuildUp.Ventilated, Shaded: c.flat() && (e.Shaded == nil || *e.Shaded), JoistEndsInWall: c.crossed() || e.Sideways != nil && *e.Sideways,
		MetalThrough: c.Framing.Metal, AirFlowInside: e.AirPath != nil && *e.AirPath}
	insulated := false
	for _, l := range c.Layers {
		if k := r.kindOf(l).Kind; l.Counted && (k == library.Masonry || k == library.Render) {
			f.SolidWallInRain = e.DrivingRain == nil || *e.DrivingRain
			f.InsulatedInside = f.InsulatedInside || insulated && k == library.Masonry
			f.LayersWithoutMemory = append(f.LayersWithoutMemory, r.say("%s (liquid transport)", l.Name))
		}
	}
	return f
}
