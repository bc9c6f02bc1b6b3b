package assess

import (
	"math"
	"slices"
	"strings"

	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/thermal"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// PlaneWords writes the name of a plane: "between wool and board", "in wool, at 3/8", "at the outside surface".
func (c Context) PlaneWords(name string) string {
	if inner, outer, ok := strings.Cut(name, "|"); ok {
		return c.say("between %s and %s", inner, outer)
	}
	if i := strings.LastIndexByte(name, ' '); i > 0 && strings.Contains(name[i:], "/") {
		return c.say("in %s, at %s", name[:i], name[i+1:])
	}
	return c.say("at the %s", c.word(name))
}

// WaterLimit is the most condensed water a plane may hold.
type WaterLimit struct {
	Plane  string // where it was judged: the plane nearest to its limit
	Held   condensation.Water
	Most   condensation.Water
	Why    string
	Source q.Source
}

// The limits of DIN 4108-3: in all, and at a plane one side of which takes up no water (secondary); the share of its own
// mass that timber and wood panels may take up (from memory).
const (
	mostWater       condensation.Water = 1.0
	mostOnSmooth    condensation.Water = 0.5
	timberTakes                        = 0.05
	panelTakes                         = 0.03
	practicallyFlat q.Degrees          = 5
)

// judgeMoisture takes outcome and reasons from the runs and the facts of the build-up.
func (r *Results) judgeMoisture(c *MoistureCheck, m *Moisture) {
	verdict := condensation.NoCondensation
	for _, run := range c.Cases {
		verdict = verdict.Worse(run.Result.Verdict)
	}
	c.Limit = r.waterLimit(c)
	own := q.Source{Text: "own rule", Status: q.CommonPractice}
	if verdict == condensation.DoesNotDry {
		c.Outcome = Fails
		c.reason(r.say("water stays over the year"), q.Source{Text: "EN ISO 13788:2012 clause 6", Status: q.Secondary})
	}
	if c.Limit.Held > c.Limit.Most {
		c.Outcome = Fails
		c.reason(r.say("%.0f g/m² %s, more than the %.0f g/m² allowed (%s)", grams(c.Limit.Held, c.Limit.Most), r.PlaneWords(c.Limit.Plane), 1000*float64(c.Limit.Most), c.Limit.Why), c.Limit.Source)
	}
	for _, refused := range c.Thermal.Refusals {
		c.reason(r.say("the U-value needs a detailed calculation: %s", refused), c.Thermal.Source)
	}
	if c.U > 0 && c.Surface.Critical >= 0 && c.Factor < c.Surface.Required {
		c.reason(r.say("its inside surface may grow mould: fRsi %.2f, asked %.2f", float64(c.Factor), float64(c.Surface.Required)), c.Surface.Source)
	}
	if s := c.Reserve; s != nil && s.Dry == 0 {
		why := s.Skipped
		if why == "" {
			why = r.say("%.0f g/m² more %s do not dry within the year", 1000*float64(s.Water), r.PlaneWords(s.At))
		}
		c.reason(r.say("no drying reserve: %s", why), s.Source)
	}
	for _, l := range c.Layers {
		switch {
		case l.Class && l.Counted:
			c.reason(r.say("the product's sd is not declared: both ends of its class were reckoned"), own)
		case l.Stated.Component != "" && c.Sheet && r.component(l.Stated.Component) != r.component("sheet-main"):
			c.reason(r.say("checked with %s, but the job hangs %s", r.component(l.Stated.Component), r.component("sheet-main")), own)
		}
	}
	for _, run := range c.Cases {
		if run.Result.Ambiguous {
			c.reason(r.say("the sheet could settle at more than one sd"), own)
			break
		}
	}
	worst, answered := r.factsFor(c, m)
	r.noProof(c, worst, answered)
	if c.Outcome == Proven && len(c.Reasons) > 0 {
		c.Outcome = Unproven
	}
}

// grams gives water above a limit in g/m², rounded up where rounding would make it look like the limit.
func grams(held, most condensation.Water) float64 {
	g := 1000 * float64(held)
	if math.Round(g) <= math.Round(1000*float64(most)) {
		return math.Floor(g) + 1
	}
	return g
}

func (c *MoistureCheck) reason(text string, from q.Source) {
	c.add(Reason{Text: text, Source: from})
}

// add puts a reason to the others, once.
func (c *MoistureCheck) add(reason Reason) {
	if !slices.ContainsFunc(c.Reasons, func(r Reason) bool { return r.Text == reason.Text }) {
		c.Reasons = append(c.Reasons, reason)
	}
}

// noProof adds the cases in which the method is no proof. Those that only rest on what nobody answered are marked.
func (r *Results) noProof(c *MoistureCheck, worst, answered condensation.Facts) {
	certain := condensation.NoProof(answered)
	for _, reason := range condensation.NoProof(worst) {
		c.Reasons = append(c.Reasons, Reason{Text: r.word(reason.Text), Source: reason.Source, Unanswered: !slices.Contains(certain, reason), Simulated: reason.Simulated})
	}
}

// factsFor gives the facts of a build-up with what is not answered taken as the worse case, and taken as the better.
func (r *Results) factsFor(c *MoistureCheck, m *Moisture) (worst, answered condensation.Facts) {
	rain, inside, capillary := false, false, false
	for i, l := range c.Layers {
		k := r.kindOf(l).Kind
		capillary = capillary || k == library.CapillaryInsulation
		rain = i == len(c.Layers)-1 && l.Counted && (k == library.Masonry || k == library.Render)
		for _, before := range c.Layers[:i] {
			inside = inside || k == library.Masonry && l.Counted && insulates(r.kindOf(before).Kind)
		}
	}
	timber := r.hasTimber(c)
	e, cooled := c.BuildUp.Exposure, r.Job.Indoor.Cooled
	facts := func(unknown bool) condensation.Facts {
		is := func(answer *bool, possible bool) bool {
			if answer != nil {
				return *answer
			}
			return possible && unknown
		}
		return condensation.Facts{AbsorbentFacade: rain && is(e.DrivingRain, true), InsulatedInside: inside, CapillaryActive: is(e.Capillary, capillary),
			HumidityVariable: c.variable(), TimberRoof: c.Roof && timber && !c.BuildUp.Ventilated, FlatGreenOrShaded: c.flat() || is(e.Shaded, true),
			WaterBuiltIn: is(e.WetTrades, true), TimberNearItsLimit: is(e.WetTimber, timber), Cooled: is(cooled, true), HumidSummer: m.humidSummer(),
			AirLeak: is(e.AirPath, false), MoistureStored: is(e.Stored, false), MoreThanOneWay: is(e.Sideways, false) || e.Sideways == nil && c.crossed()}
	}
	return facts(true), facts(false)
}

func insulates(kind string) bool {
	return kind == library.Insulation || kind == library.CapillaryInsulation
}

func (c *MoistureCheck) variable() bool {
	return slices.ContainsFunc(c.Layers, func(l CheckedLayer) bool { return l.Counted && l.Curve != nil })
}

// flat says that one of its roofs lies flat.
func (c *MoistureCheck) flat() bool {
	return slices.ContainsFunc(c.Surfaces, func(s *surface.Surface) bool {
		return (s.Role == surface.Slope || s.Role == surface.Ceiling) && s.Face.Behind == job.Outside && s.Pitch < practicallyFlat
	})
}

// crossed says that joists or steel run into one of its surfaces.
func (c *MoistureCheck) crossed() bool {
	for _, s := range c.Surfaces {
		for _, m := range s.Members {
			if m.Item == "joist" || m.Item == "steel-member" {
				return true
			}
		}
	}
	return false
}

// hasTimber says that timber or wood panels stand in the build-up.
func (r *Results) hasTimber(c *MoistureCheck) bool {
	if c.Framing.Share > 0 && !c.Framing.Metal {
		return true
	}
	return slices.ContainsFunc(c.Layers, func(l CheckedLayer) bool {
		k := r.kindOf(l).Kind
		return l.Counted && (k == library.Timber || k == library.Panel)
	})
}

// coldPlane is where the reserve's water is put: the plane that holds most in the case that decides; if none gets wet, the
// outer face of the layer that insulates most, inside its last part where it is the last layer of all.
func (r *Results) coldPlane(c *MoistureCheck, e condensation.Element) (condensation.Plane, bool) {
	if w := c.Worst().Result; w.Peak.Month > 0 {
		return w.Planes[w.Peak.Plane], true
	}
	n, best := -1, -1
	for _, l := range c.Layers {
		if !l.Counted {
			continue
		}
		if n++; insulates(r.kindOf(l).Kind) && (best < 0 || l.R > e.Layers[best].R) {
			best = n
		}
	}
	if best < 0 {
		return condensation.Plane{}, false
	}
	at := e.Interface(best, false)
	if best < len(e.Layers)-1 {
		return at, true
	}
	if at.Part--; at.Part > 0 {
		return at, true
	}
	return e.Interface(best-1, false), best > 0
}

// waterLimit finds the plane nearest to its limit in the worst case, in any year of the run.
func (r *Results) waterLimit(c *MoistureCheck) WaterLimit {
	run := c.Worst()
	var counted []CheckedLayer
	for _, l := range c.Layers {
		if l.Counted {
			counted = append(counted, l)
		}
	}
	limit := WaterLimit{Most: mostWater, Why: r.say("in all"), Source: q.Source{Text: "DIN 4108-3", Status: q.Secondary}}
	for i, p := range run.Result.Planes {
		var held condensation.Water
		for _, month := range run.Result.Months {
			held = max(held, month.Stock[i])
		}
		if held <= 0 || p.After < 0 {
			continue
		}
		at := r.limitAt(counted, p)
		at.Plane, at.Held = run.Result.Names[i], held
		if held/at.Most > limit.Held/limit.Most {
			limit = at
		}
	}
	return limit
}

// limitAt is the limit of one plane by the layers it parts.
func (r *Results) limitAt(layers []CheckedLayer, p condensation.Plane) WaterLimit {
	w := WaterLimit{Most: mostWater, Why: r.say("both faces take up water"), Source: q.Source{Text: "DIN 4108-3", Status: q.Secondary}}
	beside := []CheckedLayer{layers[p.After]}
	if p.Part == p.Of && p.After+1 < len(layers) {
		beside = append(beside, layers[p.After+1])
	}
	for _, l := range beside {
		k := r.kindOf(l)
		if !k.TakesUp && w.Most > mostOnSmooth {
			w.Most, w.Why = mostOnSmooth, r.say("a face that takes up no water")
		}
		share := map[string]float64{library.Timber: timberTakes, library.Panel: panelTakes}[k.Kind]
		m, ok := r.Library.Moisture.Material(l.Stated.Material)
		if share == 0 || !ok || !m.Density.Known {
			continue
		}
		if most := condensation.Water(share * m.Density.Low * float64(l.Stated.Thickness.Metres())); most < w.Most {
			w.Most, w.Why = most, r.say("%.0f %% of the mass of %s", 100*share, l.Name)
			w.Source.Status = q.FromMemory
		}
	}
	return w
}

// Direction gives the way heat flows, as the films were chosen for it.
func (c *MoistureCheck) Direction() thermal.Direction { return c.direct }
