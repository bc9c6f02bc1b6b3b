package main

import (
	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// moistureJSON is the checks as --json prints them: all that the pages show. Pressures are in Pa, water in kg/m², sd in m.
type moistureJSON struct {
	Climate  string          `json:"climate,omitempty"`
	Place    string          `json:"climate_place,omitempty"`
	From     *sourceJSON     `json:"climate_source,omitempty"`
	Hourly   bool            `json:"hourly_weather"`
	Sun      bool            `json:"hourly_radiation"`
	Filled   int             `json:"missing_hours_filled_in"`
	Severe   bool            `json:"severe_year"`
	Class    int             `json:"humidity_class,omitempty"`
	Assumed  bool            `json:"indoor_assumed"`
	Load     string          `json:"indoor_load,omitempty"`
	Own      *ownJSON        `json:"indoor_own,omitempty"`
	Indoor   sourceJSON      `json:"indoor_source"`
	BuildUps []moistureCheck `json:"build_ups"`
	Findings []findingJSON   `json:"findings"`
}

type sourceJSON struct {
	Text   string `json:"source"`
	Status string `json:"status"`
}

type ownJSON struct {
	Temperature float64 `json:"temperature_c"`
	Humidity    float64 `json:"humidity"`
}

type moistureCheck struct {
	ID        string           `json:"id"`
	Name      string           `json:"name"`
	Surfaces  []string         `json:"surfaces"`
	Outcome   string           `json:"outcome"`
	Verdict   string           `json:"verdict"`
	Method    string           `json:"method"`
	Scope     string           `json:"scope"`
	Open      bool             `json:"open"`
	Problem   string           `json:"not_computed,omitempty"`
	WayOut    string           `json:"way_out,omitempty"`
	Accepted  string           `json:"accepted_by,omitempty"`
	Because   string           `json:"accepted_because,omitempty"`
	Layers    []layerJSON      `json:"layers"`
	Thermal   *thermalJSON     `json:"thermal,omitempty"`
	U         float64          `json:"u_w_m2k,omitempty"`
	Factor    float64          `json:"frsi,omitempty"`
	Required  float64          `json:"frsi_required,omitempty"`
	ByMonth   []factorJSON     `json:"frsi_by_month,omitempty"`
	Limit     float64          `json:"water_limit_kg_m2,omitempty"`
	LimitWhy  string           `json:"water_limit_because,omitempty"`
	LimitFrom *sourceJSON      `json:"water_limit_source,omitempty"`
	Reserve   *reserveJSON     `json:"drying_reserve,omitempty"`
	Reasons   []moistureReason `json:"reasons"`
	Run       *simulationJSON  `json:"simulation,omitempty"` // the one that decides
	Runs      []weatherJSON    `json:"simulations"`
	Stores    []storageJSON    `json:"moisture_storage"`
	Storage   []string         `json:"no_storage_data_for,omitempty"`
	Cases     []moistureCase   `json:"cases"`
}

type layerJSON struct {
	Name      string     `json:"name"`
	Material  string     `json:"material,omitempty"`
	Component string     `json:"component,omitempty"`
	Counted   bool       `json:"counted"` // false: outside the ventilated air layer
	Bridged   bool       `json:"bridged"`
	Across    float64    `json:"members_across,omitempty"`
	Thickness float64    `json:"thickness_m,omitempty"`
	Lambda    float64    `json:"lambda_w_mk,omitempty"`
	R         float64    `json:"r_m2k_w,omitempty"`
	Low       float64    `json:"sd_low_m"`
	High      float64    `json:"sd_high_m"`
	Curve     []sdJSON   `json:"sd_by_humidity,omitempty"`
	Cup       string     `json:"cup,omitempty"`
	Source    sourceJSON `json:"from"`
}

type sdJSON struct {
	Humidity float64 `json:"humidity"`
	Sd       float64 `json:"sd_m"`
}

type thermalJSON struct {
	Total    float64    `json:"rt_m2k_w"`
	Upper    float64    `json:"rt_upper_m2k_w"`
	Lower    float64    `json:"rt_lower_m2k_w"`
	Rsi      float64    `json:"rsi_m2k_w"`
	Rse      float64    `json:"rse_m2k_w"`
	Flow     string     `json:"heat_flow"`
	Framing  string     `json:"framing,omitempty"`
	Share    float64    `json:"framing_share,omitempty"`
	Spaced   float64    `json:"framing_share_of_spacing,omitempty"`
	Error    float64    `json:"error_at_most,omitempty"`
	Vented   float64    `json:"rt_slightly_ventilated_m2k_w,omitempty"`
	Added    float64    `json:"added_by_fixings_and_gaps_w_m2k,omitempty"`
	Refusals []string   `json:"refused_because,omitempty"`
	Source   sourceJSON `json:"from"`
}

type factorJSON struct {
	Month    int     `json:"month"`
	Required float64 `json:"frsi_required"` // 0: none
}

type reserveJSON struct {
	Water   float64    `json:"water_kg_m2"`
	Months  int        `json:"dry_after_months"`
	At      string     `json:"put_at,omitempty"`
	Start   int        `json:"put_in_month,omitempty"`
	Skipped string     `json:"not_reckoned_because,omitempty"`
	Source  sourceJSON `json:"from"`
}

type storageJSON struct {
	Layer    string     `json:"layer"`
	Material string     `json:"material"`
	Source   sourceJSON `json:"from"`
}

type moistureReason struct {
	Text       string `json:"text"`
	Source     string `json:"source"`
	Status     string `json:"status"`
	Unanswered bool   `json:"unanswered"`
}

type moistureCase struct {
	Name     string          `json:"name"`
	Decides  bool            `json:"decides"`
	Verdict  string          `json:"verdict"`
	Peak     float64         `json:"peak_kg_m2"`
	PeakAt   string          `json:"peak_at,omitempty"`
	PeakIn   int             `json:"peak_month,omitempty"`
	DryAfter int             `json:"dry_after_months"`
	Planes   []string        `json:"planes"`
	Months   []moistureMonth `json:"months"`
}

type moistureMonth struct {
	Year        int       `json:"year"`
	Month       int       `json:"month"`
	Te          float64   `json:"te_c"`
	Pe          float64   `json:"pe_pa"`
	Ti          float64   `json:"ti_c"`
	Pi          float64   `json:"pi_pa"`
	Sd          []float64 `json:"sd_from_inside_m"`
	Temperature []float64 `json:"temperature_c"`
	Dew         []float64 `json:"dew_point_c"`
	Saturation  []float64 `json:"saturation_pa"`
	Pressure    []float64 `json:"pressure_pa"`
	Change      []float64 `json:"change_kg_m2"`
	Stock       []float64 `json:"stock_kg_m2"`
}

func fromSource(s q.Source) sourceJSON { return sourceJSON{s.Text, s.Status.String()} }

func moistureOf(r generator.MoistureReport) moistureJSON {
	m := r.Checks
	out := moistureJSON{Class: int(m.Indoor.Class), Assumed: m.Indoor.Assumed, Load: m.Indoor.Own.Load, Indoor: fromSource(m.Indoor.Source), BuildUps: []moistureCheck{}, Findings: findingsJSON(r.Findings)}
	if m.Indoor.Own.Own {
		out.Own = &ownJSON{float64(m.Indoor.Own.Temperature), float64(m.Indoor.Own.Humidity)}
	}
	if m.Known {
		from := fromSource(m.Climate.Source)
		out.Climate, out.Place, out.From = m.Climate.ID, m.Climate.Name, &from
		out.Hourly, out.Sun, out.Filled, out.Severe = m.Hours != nil, m.Sunny != nil, m.Filled, m.Severe
	}
	for i, c := range m.Checks {
		b := checkOf(c)
		v := r.Verdicts[i]
		b.Verdict, b.Method, b.Scope, b.Stores = v.Verdict, v.Method, v.Scope, storesOf(r.Stores[i])
		out.BuildUps = append(out.BuildUps, b)
	}
	return out
}

func checkOf(c *assess.MoistureCheck) moistureCheck {
	b := moistureCheck{ID: string(c.BuildUp.ID), Name: c.BuildUp.Name, Surfaces: []string{}, Outcome: c.Outcome.Word(), Open: c.Open(), Problem: c.Problem, Layers: []layerJSON{},
		U: float64(c.U), Factor: float64(c.Factor), Required: float64(c.Surface.Required), Reasons: []moistureReason{}, Runs: []weatherJSON{}, Storage: c.Storage, Cases: []moistureCase{}}
	for _, s := range c.Surfaces {
		b.Surfaces = append(b.Surfaces, string(s.ID))
	}
	for _, l := range c.Layers {
		b.Layers = append(b.Layers, layerOf(l))
	}
	if c.Open() {
		b.WayOut = c.WayOut()
	}
	if c.Accepted != nil {
		b.Accepted, b.Because = c.Accepted.By, c.Accepted.Reason
	}
	if c.Outcome == assess.Uncomputed {
		return b
	}
	b.Thermal, b.ByMonth = thermalOf(c), factorsOf(c.Surface)
	from := fromSource(c.Limit.Source)
	b.Limit, b.LimitWhy, b.LimitFrom = float64(c.Limit.Most), c.Limit.Why, &from
	if s := c.Reserve; s != nil {
		b.Reserve = &reserveJSON{float64(s.Water), s.Dry, s.At, s.Start, s.Skipped, fromSource(s.Source)}
	}
	for _, x := range c.Reasons {
		b.Reasons = append(b.Reasons, moistureReason{x.Text, x.Source.Text, x.Source.Status.String(), x.Unanswered})
	}
	b.Run = simulationOf(c.Run)
	for _, s := range c.Runs {
		b.Runs = append(b.Runs, weatherOf(s, s == c.Run))
	}
	for n, k := range c.Cases {
		b.Cases = append(b.Cases, caseOf(k, n == c.Shown))
	}
	return b
}

func layerOf(l assess.CheckedLayer) layerJSON {
	out := layerJSON{Name: l.Name, Material: l.Stated.Material, Component: string(l.Stated.Component), Counted: l.Counted, Bridged: l.Stated.Bridged, Thickness: float64(l.Stated.Thickness.Metres()),
		Lambda: float64(l.Lambda), R: float64(l.R), Low: float64(l.Low), High: float64(l.High), Cup: l.Cup, Source: fromSource(l.Source)}
	if a := l.Stated.Across; a != nil {
		out.Across = float64(a.Fraction)
	}
	if l.Curve != nil {
		for _, p := range l.Curve.Points {
			out.Curve = append(out.Curve, sdJSON{float64(p.Humidity), float64(p.Sd)})
		}
	}
	return out
}

func thermalOf(c *assess.MoistureCheck) *thermalJSON {
	t := c.Thermal
	out := &thermalJSON{Total: float64(t.Total), Upper: float64(t.Upper), Lower: float64(t.Lower), Rsi: float64(c.Films.Inside), Rse: float64(c.Films.Outside), Flow: c.Direction().String(),
		Share: float64(c.Framing.Share), Spaced: float64(c.Framing.Spaced), Error: float64(t.Error), Vented: float64(c.Vented), Added: float64(c.Added.Correction), Refusals: t.Refusals, Source: fromSource(t.Source)}
	if c.Framing.Share > 0 {
		out.Framing = c.Framing.Material.Name
	}
	return out
}

func factorsOf(s condensation.SurfaceCriterion) (out []factorJSON) {
	for _, m := range s.Months {
		f := factorJSON{Month: m.Boundary.Month}
		if m.Defined && m.Required > 0 {
			f.Required = float64(m.Required)
		}
		out = append(out, f)
	}
	return out
}

func storesOf(list []assess.Stored) []storageJSON {
	out := []storageJSON{}
	for _, s := range list {
		out = append(out, storageJSON{s.Layer, s.Material, fromSource(s.Source)})
	}
	return out
}

func caseOf(k assess.Case, decides bool) moistureCase {
	r := k.Result
	out := moistureCase{Name: k.Name, Decides: decides, Verdict: r.Verdict.String(), Peak: float64(r.Peak.Total), DryAfter: r.DryAfter, Planes: r.Names}
	if r.Condenses {
		out.PeakAt, out.PeakIn = r.Names[r.Peak.Plane], int(r.Peak.Month)
	}
	for _, m := range r.Months {
		b := m.Boundary
		sd, _ := k.Places(m)
		out.Months = append(out.Months, moistureMonth{Year: m.Year, Month: b.Month, Te: float64(b.Te), Pe: float64(b.Pe), Ti: float64(b.Ti), Pi: float64(b.Pi),
			Sd: sd, Temperature: bare(m.Temperature), Dew: dewPoints(m.Pressure), Saturation: bare(m.Saturation), Pressure: bare(m.Pressure), Change: bare(m.Change), Stock: bare(m.Stock)})
	}
	return out
}

// dewPoints gives the dew point of each pressure; below the range of the formulas absolute zero.
func dewPoints(pressures []q.Pressure) []float64 {
	out := make([]float64, len(pressures))
	for i, p := range pressures {
		dew, err := vapour.ISO13788.DewPoint(p)
		if err != nil {
			dew = -273.15
		}
		out[i] = float64(dew)
	}
	return out
}

// bare takes the unit off a list of quantities.
func bare[T ~float64](list []T) []float64 {
	out := make([]float64, len(list))
	for i, x := range list {
		out[i] = float64(x)
	}
	return out
}
