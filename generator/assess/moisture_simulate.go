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
	Wall     transient.Wall
	Outdoors Outdoors
	Result   transient.Result
	Judged   transient.Judgement
	Limit    q.Ratio  // humidity whose hours are counted
	Hourly   bool     // through the job's own weather file; else through smoothed monthly means
	Weak     []string // layers whose storage is not measured: the run is a screening
	Failed   string   // why it came to no end; empty: it did
}

// Proves says that the run is one that may answer for what the monthly method leaves out: measured storage, the weather
// of every hour, and nothing against it.
func (s *Simulation) Proves() bool {
	return s != nil && s.Failed == "" && s.Hourly && len(s.Weak) == 0 && s.Judged.Verdict == transient.Proven
}

// Word says what a run that came to an end amounts to: a run that is no proof never says so.
func (s *Simulation) Word() string {
	against := slices.ContainsFunc(s.Judged.Reasons, func(r transient.Reason) bool { return r.Cause != transient.NoSun })
	if !against && !s.Proves() {
		return nothingAgainst
	}
	return s.Judged.Verdict.String()
}

// nothingAgainst is the word for a run that found nothing and proves nothing.
const nothingAgainst = "nothing against it"

// humidPlane is the humidity whose hours are counted: 80 %, common practice for timber, no source.
const humidPlane q.Ratio = 0.80

// longestSmooth is the longest step through smoothed monthly means, in which nothing happens within a day.
const longestSmooth transient.Hours = 24

// simulate runs the build-up with the sheet as it varies, where every material's storage is known, through every weather that
// it has to stand. No run knows rain.
func (r *Results) simulate(ctx context.Context, c *MoistureCheck, m *Moisture) error {
	wall, known := r.wallOf(c)
	if !known {
		return nil
	}
	for _, o := range c.outdoors(m) {
		run, err := r.simulation(ctx, c, m, wall, o)
		if err != nil {
			return err
		}
		c.Runs = append(c.Runs, run)
		if c.Run == nil || run.worse(c.Run) {
			c.Run = run
		}
	}
	r.settle(c)
	return nil
}

// simulation is one run.
func (r *Results) simulation(ctx context.Context, c *MoistureCheck, m *Moisture, wall transient.Wall, o Outdoors) (*Simulation, error) {
	hours, err := m.hourly(c, o)
	if err != nil {
		return nil, fmt.Errorf("build-up %s, simulation: %w", c.BuildUp.ID, err)
	}
	run := &Simulation{Wall: wall, Outdoors: o, Limit: humidPlane, Hourly: m.Hours != nil, Weak: r.weakStorage(c)}
	if c.BuildUp.CountAbove > 0 {
		run.Limit = c.BuildUp.CountAbove
	}
	options := transient.Options{Limits: []q.Ratio{run.Limit}}
	if !run.Hourly {
		options.Longest = longestSmooth
	}
	run.Result, err = transient.Simulate(ctx, wall, hours, options)
	switch {
	case errors.Is(err, transient.ErrSteps), errors.Is(err, transient.ErrDiverged), errors.Is(err, transient.ErrInput):
		run.Failed = err.Error()
		return run, nil
	case err != nil:
		return nil, err
	}
	criteria := transient.Criteria{Free: transient.FreeOnSmooth, Timber: r.TimberPlanes(c), Reserve: c.reserveOf()}
	facts := r.simulationFacts(c)
	facts.SunUnknown = o.Sun == Unlit
	facts.FrostWet = run.freezesWet()
	criteria.Beyond = transient.BeyondOneDimension(facts)
	run.Judged = transient.Judge(run.Result, wall, criteria)
	return run, nil
}

// worse says that a run weighs more than another: without a result, by its verdict, by the water still gathering, by the hours at
// its most humid plane.
func (s *Simulation) worse(than *Simulation) bool {
	switch {
	case (s.Failed != "") != (than.Failed != ""):
		return s.Failed != ""
	case s.Failed != "":
		return false
	case s.Judged.Verdict != than.Judged.Verdict:
		return s.Judged.Verdict > than.Judged.Verdict
	case s.Result.Steady != than.Result.Steady:
		return !s.Result.Steady
	}
	return s.Wettest().Above[0] > than.Wettest().Above[0]
}

// Wettest is the plane between two layers with the most hours above the limit, then the highest humidity.
func (s *Simulation) Wettest() transient.InterfaceYear {
	planes := s.Result.Interfaces
	best := planes[1%len(planes)]
	for _, p := range planes[1 : len(planes)-1] {
		if p.Above[0] > best.Above[0] || p.Above[0] == best.Above[0] && p.Highest > best.Highest {
			best = p
		}
	}
	return best
}

// settle draws the consequence of the runs. One that fails makes the build-up fail; with storage data that nobody measured, or
// where it rests on what nobody answered, it only stops a proof. Runs that prove answer what the monthly method leaves out,
// where nothing else stands against the build-up; a fail by the monthly method stays one.
func (r *Results) settle(c *MoistureCheck) {
	for _, run := range c.Runs {
		if run.Failed == "" && run.Judged.Verdict == transient.Fails {
			r.failed(c, run)
		}
	}
	other := slices.ContainsFunc(c.Reasons, func(r Reason) bool { return !r.Simulated })
	if c.Outcome == Unproven && !other && c.Simulated() {
		c.Outcome = Proven
	}
}

// failed takes over the reasons of a run that fails.
func (r *Results) failed(c *MoistureCheck, run *Simulation) {
	guessed := run.Outdoors.Guessed
	for _, x := range run.Judged.Reasons {
		text := r.say("simulated: %s", r.Against(x))
		switch {
		case len(run.Weak) > 0:
			text = r.say("simulated with storage data from memory: %s", r.Against(x))
		case guessed:
			text = r.say("simulated in the shade: %s", r.Against(x))
		}
		c.add(Reason{Text: text, Source: x.Source, Unanswered: guessed})
	}
	if c.Outcome = max(c.Outcome, Unproven); len(run.Weak) == 0 && !guessed {
		c.Outcome = Fails
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

// Stored is where a layer's moisture storage comes from.
type Stored struct {
	Layer, Material string
	None            bool // it takes up no water
	Source          q.Source
}

// Stored lists the moisture storage that a build-up's layers have, each material once.
func (r *Results) Stored(c *MoistureCheck) (out []Stored) {
	for _, l := range c.Layers {
		s, known := r.Library.Moisture.Storage[l.Stated.Material]
		if !known || !l.Counted || slices.ContainsFunc(out, func(o Stored) bool { return o.Material == l.Stated.Material }) {
			continue
		}
		_, none := s.Curve.(transient.NoUptake)
		out = append(out, Stored{l.Name, l.Stated.Material, none, s.Source})
	}
	return out
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
	if cold > 0 {
		wall.Source = transient.Reserve{Interface: cold, PerYear: c.reserveOf()}
	}
	return wall, len(c.Storage) == 0
}

// leastFreezing is free water, kg/m², from which ice at a plane counts.
const leastFreezing transient.MassPerArea = 0.01

// freezesWet says that free water stood between two layers on a day of frost there: the run knows no ice.
func (s *Simulation) freezesWet() bool {
	for _, p := range s.Result.Interfaces[1 : len(s.Result.Interfaces)-1] {
		for day, free := range p.Free {
			if free > leastFreezing && p.Temperature[day] < 0 {
				return true
			}
		}
	}
	return false
}

// TimberPlanes are the planes of a run, counted from the inner surface, between two layers of which one is of timber or wood panel
// or crossed by timber framing.
func (r *Results) TimberPlanes(c *MoistureCheck) (planes []int) {
	var timber []bool
	for _, l := range c.Layers {
		if l.Counted {
			k := r.kindOf(l).Kind
			timber = append(timber, k == library.Timber || k == library.Panel || l.Stated.Bridged && c.Framing.Share > 0 && !c.Framing.Metal)
		}
	}
	for i := 1; i < len(timber); i++ {
		if timber[i-1] || timber[i] {
			planes = append(planes, i)
		}
	}
	return planes
}

// reserveOf is the drying reserve of a run. The rules ask it of timber; here every insulated build-up has to dry it, since no layer
// is perfect: own rule.
func (c *MoistureCheck) reserveOf() transient.MassPerArea {
	if c.Roof {
		return transient.RoofReserve
	}
	return transient.WallReserve
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
