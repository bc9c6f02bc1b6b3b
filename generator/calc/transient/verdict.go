package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Verdict is what a run says of a build-up.
type Verdict uint8

// The verdicts. Unproven is no pass: a person has to decide or more must be known.
const (
	Proven Verdict = iota
	Unproven
	Fails
)

// String gives the verdict's word.
func (v Verdict) String() string {
	if int(v) < 3 {
		return [...]string{"proven", "unproven", "fails"}[v]
	}
	return "unknown"
}

// Criteria are the limits a verdict holds a run to.
type Criteria struct {
	Free    MassPerArea // most free water at any plane: FreeOnSmooth where nothing takes it up
	Above   q.Ratio     // a humidity of Options.Limits …
	Hours   Hours       // … and the most hours in the settled year above it at any plane between layers
	Timber  []int       // interfaces beside timber or wood panels: 0 inner surface, 1 behind the first layer …
	Reserve MassPerArea // RoofReserve or WallReserve; asked of a Reserve, not of a Leak
	Beyond  []Reason    // of BeyondOneDimension
}

// FreeOnSmooth is the most free water at a plane that takes up none (DIN 4108-3, from a secondary text).
const FreeOnSmooth MassPerArea = 0.5

// leastClosed is the part of the moved water and heat that the balances may leave open.
const leastClosed = 0.001

// Cause is a ground for a verdict.
type Cause uint8

// The causes.
const (
	StillGaining Cause = iota
	NotSteady
	LayerTooWet
	FreeWater
	HumidTooLong
	NoMoistureSource
	ReserveTooSmall
	BalanceOpen
	JoistEnds
	MetalThrough
	DrivingRain
	ShadedFlatRoof
	CoveredFlatRoof
	NoStorageData
	AirFlowThrough
	GroundContact
	Frost
	LocalWetting
	NoSun
	TimberTooWet
)

// Reason is one cause with its place and a sentence. Figures are those of the sentence, in its order and units, so that it can
// be said in another language; Inner and Outer are the layers that a plane parts, "" the air.
type Reason struct {
	Cause        Cause
	Place        string // layer or plane; "" for the whole
	Text         string
	Source       q.Source
	Figures      [3]float64
	Inner, Outer string
}

// Judgement is a verdict with every reason against a proof.
type Judgement struct {
	Verdict Verdict
	Reasons []Reason
}

var ruled = q.Source{Text: "own rule: a balance that is open or a run without a leak or reserve proves nothing", Status: q.CommonPractice}

// Judge holds a run against its criteria. A run passes only with an assumed leak or a drying reserve in it (Wall.Source),
// in a steady year, with closed balances, below every limit and with nothing that one dimension cannot show.
func Judge(r Result, w Wall, c Criteria) Judgement {
	var j Judgement
	j.settling(r)
	j.moisture(r, c)
	j.humidity(r, c)
	j.timber(r, c)
	switch src := w.Source.(type) {
	case nil:
		j.add(Unproven, Reason{Cause: NoMoistureSource, Text: NoSource, Source: ruled})
	case Reserve:
		if src.PerYear < c.Reserve {
			j.add(Unproven, Reason{Cause: ReserveTooSmall, Source: q.Source{Text: "DIN 68800-2 / DIN 4108-3", Status: q.FromMemory}}.
				said("drying reserve %.0f of %.0f g/m²", 1000*float64(src.PerYear), 1000*float64(c.Reserve)))
		}
	}
	if r.Balance.Water > leastClosed*r.Balance.WaterMoved+1e-4 || r.Balance.Heat > leastClosed*r.Balance.HeatMoved+100 {
		j.add(Unproven, Reason{Cause: BalanceOpen, Source: ruled}.said("balances leave %.2g kg/m² and %.2g J/m² open", float64(r.Balance.Water), float64(r.Balance.Heat)))
	}
	for _, b := range c.Beyond {
		j.add(Unproven, b)
	}
	return j
}

func (j *Judgement) add(v Verdict, r Reason) {
	j.Verdict = max(j.Verdict, v)
	j.Reasons = append(j.Reasons, r)
}

// NoSource is the text of NoMoistureSource.
const NoSource = "no air leak and no drying reserve was assumed"

// said writes a reason's sentence with its figures, the place first where it has one.
func (r Reason) said(pattern string, figures ...float64) Reason {
	values := make([]any, len(figures))
	for i, f := range figures {
		values[i] = f
	}
	copy(r.Figures[:], figures)
	if r.Text = fmt.Sprintf(pattern, values...); r.Place != "" {
		r.Text = r.Place + ": " + r.Text
	}
	return r
}

func (j *Judgement) settling(r Result) {
	yearly := q.Source{Text: "EN ISO 13788:2012 6.5 / DA DB-HE/2: no water may be left from year to year", Status: q.Secondary}
	switch {
	case r.Steady:
	case r.Gain > 0:
		j.add(Fails, Reason{Cause: StillGaining, Source: yearly}.said("gains %.0f g/m² a year after %.0f years", 1000*float64(r.Gain), float64(r.Years)))
	default:
		j.add(Unproven, Reason{Cause: NotSteady, Source: yearly}.said("still drying by %.0f g/m² a year after %.0f years", -1000*float64(r.Gain), float64(r.Years)))
	}
}

func (j *Judgement) moisture(r Result, c Criteria) {
	for _, l := range r.Layers {
		if l.Limit > 0 && l.Most > l.Limit {
			j.add(Fails, Reason{Cause: LayerTooWet, Place: l.Name, Source: q.Source{Text: "limit stated with the layer", Status: q.Placeholder}}.
				said("it holds up to %.0f kg/m³, limit %.0f", float64(l.Most), float64(l.Limit)))
		}
	}
	for _, p := range r.Interfaces {
		if p.MostFree > c.Free {
			j.add(Fails, Reason{Cause: FreeWater, Place: p.place(), Inner: p.Inner, Outer: p.Outer, Source: q.Source{Text: "DIN 4108-3", Status: q.Secondary}}.
				said("%.0f g/m² of free water, limit %.0f", 1000*float64(p.MostFree), 1000*float64(c.Free)))
		}
	}
}

func (j *Judgement) humidity(r Result, c Criteria) {
	for i, p := range r.Interfaces {
		if i == 0 || i == len(r.Interfaces)-1 || c.Above == 0 {
			continue
		}
		if h := p.HoursAbove(c.Above); h > c.Hours {
			j.add(Fails, Reason{Cause: HumidTooLong, Place: p.place(), Inner: p.Inner, Outer: p.Outer, Source: q.Source{Text: "limit stated for this check", Status: q.Placeholder}}.
				said("%.0f h above %.0f %%, limit %.0f h", float64(h), 100*float64(c.Above), float64(c.Hours)))
		}
	}
}

// HoursAbove gives the hours of the last year above a humidity of Options.Limits; for any other, more hours than a year
// has, so that a limit nobody counted cannot be met.
func (p InterfaceYear) HoursAbove(rh q.Ratio) Hours {
	for k, l := range p.Limits {
		if l == rh {
			return p.Above[k]
		}
	}
	return 24 * 366
}

func (p InterfaceYear) place() string {
	switch {
	case p.Inner == "":
		return "at the inner face of " + p.Outer
	case p.Outer == "":
		return "at the outer face of " + p.Inner
	}
	return "between " + p.Inner + " and " + p.Outer
}
