package assess

import (
	"context"
	"slices"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/thermal"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Moisture is the moisture check of a job: each build-up by the monthly method, with what the answer is worth.
type Moisture struct {
	Climate climate.Climate
	Known   bool          // the job names its outdoor climate; without it nothing is computed
	Hours   []climate.Air // the job's own weather file by the hour; nil: monthly means only
	Filled  int           // of Hours, those that were missing
	Sunny   *Sunshine     // sun and sky by the hour; nil: not in the file, or no file
	Severe  bool          // Hours are a year as severe as comes once in ten; else they are moved by AverageYear
	Indoor  Indoor
	Year    condensation.Year
	Checks  []*MoistureCheck // in the order of the job's build-ups; those that bound the heated volume
}

// Indoor is the indoor climate as reckoned with.
type Indoor struct {
	Class   condensation.HumidityClass // 0: own values, or a load
	Ramp    *condensation.Ramp         // of the load; nil: none is stated
	Own     job.Indoor
	Assumed bool // nobody stated a class
	Source  q.Source
}

// Outcome is what a moisture check says of a build-up, best first.
type Outcome uint8

// The outcomes. Only Proven opens hold H1 by itself.
const (
	Proven     Outcome = iota
	Unproven           // passes, but the method or the data prove nothing here
	Fails              // water stays, or more gathers than the limit allows
	Uncomputed         // a value is missing
)

// Word gives the outcome for other programs.
func (o Outcome) Word() string {
	return [...]string{"proven", "not proven", "fails", "not computed"}[o]
}

// MoistureCheck is the check of one build-up.
type MoistureCheck struct {
	texts    *lang.Catalogue
	BuildUp  *job.BuildUp
	Surfaces []*surface.Surface // where it stands, those that lose heat
	Sheet    bool               // the sheet hangs on one of them
	Roof     bool               // a slope, or a flat ceiling under the open sky
	Layers   []CheckedLayer
	Framing  Framed
	Films    thermal.Films
	direct   thermal.Direction
	Thermal  thermal.Combined
	U        thermal.Transmittance // 0: refused, the reason stands in Reasons
	Added    thermal.Corrected     // by fixings and air gaps, part of U
	Vented   thermal.Resistance    // RT with the slightly ventilated air layer, which U comes from; 0: there is none
	Surface  condensation.SurfaceCriterion
	Factor   condensation.Factor // the part's own; 0: not known
	Year     condensation.Year   // as the part sees it: a roof radiates to the sky
	Cases    []Case
	Shown    int // the worst case: its diagram and months are shown
	Limit    WaterLimit
	Reserve  *Reserve      // nil: not asked of this build-up
	Storage  []string      // layers without moisture storage data: no simulation
	Runs     []*Simulation // none: no simulation was made
	Run      *Simulation   // of Runs the one that decides; nil: none
	Reasons  []Reason      // why it is no proof, or why it fails
	Outcome  Outcome
	Problem  string // why nothing was computed; empty: computed
	Hint     string // what to do about the problem
	Accepted *job.Acceptance
}

// Worst is the case that decides.
func (c *MoistureCheck) Worst() Case { return c.Cases[c.Shown] }

// Open says that the build-up keeps hanging locked: not proven, and nobody has accepted it.
func (c *MoistureCheck) Open() bool { return c.Outcome != Proven && c.Accepted == nil }

// Simulated says that simulations prove the build-up in every weather it has to stand.
func (c *MoistureCheck) Simulated() bool {
	return len(c.Runs) > 0 && !slices.ContainsFunc(c.Runs, func(s *Simulation) bool { return !s.Proves() })
}

// Reason is why a check is no proof.
type Reason struct {
	Text       string
	Source     q.Source
	Unanswered bool // nobody answered; the worse case counts
	Simulated  bool // a simulation answers it, where one proves the build-up
}

// Case is one run of a build-up: with one set of sd.
type Case struct {
	Name   string // what distinguishes it: "sd of the sheet 0.5 m"; empty: the only one
	Layers []condensation.Layer
	Result condensation.Result
}

// Places gives where the planes lie and where the layers end in a month, as sd from inside: a layer whose sd follows the humidity
// counts with the month's own.
func (k Case) Places(m condensation.Month) (planes, ends []float64) {
	sd := make([]float64, len(k.Layers))
	for i, l := range k.Layers {
		sd[i] = float64(l.Sd)
	}
	for _, s := range m.Variable {
		sd[s.Layer] = float64(s.Sd)
	}
	ends = make([]float64, len(sd)+1)
	for i := range sd {
		ends[i+1] = ends[i] + sd[i]
	}
	for _, p := range k.Result.Planes {
		x := 0.0
		if p.After >= 0 {
			x = ends[p.After] + sd[p.After]*float64(p.Part)/float64(p.Of)
		}
		planes = append(planes, x)
	}
	return planes, ends
}

// MoistureOf gives the check of a build-up; nil where none is made.
func (m *Moisture) MoistureOf(id job.BuildUpID) *MoistureCheck {
	i := slices.IndexFunc(m.Checks, func(c *MoistureCheck) bool { return c.BuildUp.ID == id })
	if i < 0 {
		return nil
	}
	return m.Checks[i]
}

// Moisture checks every build-up that stands between heated rooms and outside or unheated air, and lists what is open.
// Findings are made for build-ups that carry the layer.
func (r *Results) moisture(ctx context.Context, found *diag.List) (Moisture, error) {
	m := Moisture{Indoor: indoorOf(r.Job.Indoor)}
	m.outdoors(r.Job.Place, &r.Library.Moisture, found)
	if m.Known {
		var err error
		if m.Year, err = yearOf(m.Climate, m.Indoor); err != nil {
			return m, err
		}
	}
	for _, b := range r.Job.BuildUps {
		c := &MoistureCheck{texts: r.Lang, BuildUp: b, Sheet: r.usesSheet(b), Accepted: r.acceptance(b.ID, "moisture")}
		if c.Surfaces = r.standing(b); len(c.Surfaces) == 0 {
			continue
		}
		m.Checks = append(m.Checks, c)
	}
	if _, err := parallel.Try(len(m.Checks), func(i int) (struct{}, error) { return struct{}{}, r.checkMoisture(ctx, m.Checks[i], &m) }); err != nil {
		return m, err
	}
	r.moisturePointsOpen(&m, found)
	r.unnamed(found)
	return m, nil
}

// standing lists the surfaces of a build-up that part a heated room from outside or unheated air or from the ground.
func (r *Results) standing(b *job.BuildUp) []*surface.Surface {
	var out []*surface.Surface
	for _, shape := range r.Model.Rooms {
		for _, s := range shape.Surfaces {
			if s.Face.BuildUp == b && s.LosesHeat && s.AirBoundary {
				out = append(out, s)
			}
		}
	}
	return out
}

// acceptance gives who accepted a check of a build-up; nil: nobody.
func (r *Results) acceptance(b job.BuildUpID, check string) *job.Acceptance {
	for i, a := range r.Job.MoistureNotes {
		if a.BuildUp == b && a.Check == check {
			return &r.Job.MoistureNotes[i]
		}
	}
	return nil
}

// checkMoisture runs one build-up, beside others: of m it only reads. What is missing becomes its Problem; an error is a
// fault of the calculation.
func (r *Results) checkMoisture(ctx context.Context, c *MoistureCheck, m *Moisture) error {
	c.place()
	r.layers(c)
	switch {
	case c.Problem != "":
	case !m.Known:
		c.problem(r.say("the job names no climate, so nothing was computed"), r.say("add the climate under place: climate: …"))
	case slices.ContainsFunc(c.Surfaces, func(s *surface.Surface) bool { return s.Face.Behind == job.Ground }):
		c.problem(r.say("it touches the ground, whose moisture the method does not know"), r.say("have a specialist judge it"))
	}
	if c.Problem != "" {
		c.Outcome = Uncomputed
		return nil
	}
	c.Year = m.Year
	if c.Roof && !c.BuildUp.Ventilated {
		for i := range c.Year {
			c.Year[i] = c.Year[i].UnderSky()
		}
	}
	steps := []func(*MoistureCheck, *Moisture) error{r.transmittance, r.runCases, r.reserve, r.surfaceHumidity}
	for _, step := range steps {
		if err := step(c, m); err != nil {
			return err
		}
	}
	r.judgeMoisture(c, m)
	return r.simulate(ctx, c, m)
}

func (c *MoistureCheck) problem(text, hint string) {
	if c.Problem == "" {
		c.Problem, c.Hint = text, hint
	}
}

// kindOf gives the kind of a layer's material.
func (r *Results) kindOf(l CheckedLayer) library.MaterialKind {
	return r.Library.Moisture.Kind(l.Stated.Material)
}
