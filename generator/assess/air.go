package assess

import (
	"cmp"
	"errors"
	"fmt"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/calc/leakage"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// InterimShare is how much of the target an interim test may use: services, doors and drying cracks still come. Common
// practice, no source.
const InterimShare = 0.8

// topGains is how many of the largest contributions are named with what halving them buys.
const topGains = 10

// Air is what is known about a job's airtightness.
type Air struct {
	Sizes    surface.Totals // as ISO 9972 takes them, or as the job states them
	Target   AirTarget
	Limit    *airtight.Limit // of the table of limits, where the job names one
	Spots    []Spot          // every place that is counted, most expected leakage first
	Budget   leakage.Budget  // the spots summed by kind
	Zones    []ZoneBudget    // the same by the job's test zones; nil: one test covers everything
	Gains    []leakage.Gain
	Silent   []Silent // kinds of place that the budget does not count, and why
	Beyond   []Beyond // parts of the air boundary that no seam of this job closes
	Tests    []AirTest
	Openings []TestState // every opening of the air boundary and how it stands during a test
}

// AirTarget is the target in every figure that the sizes allow.
type AirTarget struct {
	Metric  airtight.Metric
	Value   airtight.Figure
	Allowed q.AirFlow // at 50 Pa; 0: not known
	Each    []AirFigure
}

// AirFigure is a figure with what it is.
type AirFigure struct {
	Metric airtight.Metric
	Value  airtight.Figure
}

// Beyond is a part of the air boundary that the budget says nothing about.
type Beyond struct {
	What string
	Area q.Area
}

// StatedSize begins the sentence on a size that the job states.
const StatedSize = "stated in the job, not taken from the rooms: "

// SizesOf gives the sizes of a job with a sentence on how each was taken: from the rooms, or stated with a reason.
func SizesOf(j *job.Job, t surface.Totals) surface.Totals {
	m := j.Measures
	if m == nil {
		return t
	}
	how := StatedSize + m.Reason
	if m.Volume > 0 {
		t.Volume, t.VolumeHow = m.Volume, how
	}
	if m.EnvelopeArea > 0 {
		t.EnvelopeArea, t.EnvelopeHow = m.EnvelopeArea, how
	}
	if m.FloorArea > 0 {
		t.FloorArea, t.FloorHow = m.FloorArea, how
	}
	return t
}

// BuildingOf gives the sizes that a test's flow is divided by.
func BuildingOf(t surface.Totals) airtight.Building {
	return airtight.Building{Volume: t.Volume, Envelope: t.EnvelopeArea, Floor: t.FloorArea}
}

// Metrics50 are the three figures of ISO 9972:2015 at 50 Pa.
func Metrics50() []airtight.Metric {
	return []airtight.Metric{airtight.N50(), airtight.QE50(), airtight.QF50()}
}

// TargetOf gives a job's target as every figure, with the flow it allows: q50 = n50·V = qE50·AE = qF50·AF.
func TargetOf(j *job.Job, t surface.Totals) (AirTarget, error) {
	out := AirTarget{Value: airtight.Figure(j.Target.Value)}
	var err error
	if out.Metric, err = airtight.ParseMetric(string(j.Target.Kind)); err != nil {
		return out, err
	}
	b := BuildingOf(t)
	for _, m := range Metrics50() {
		v, err := b.Over(out.Value, out.Metric.Per, m.Per)
		if errors.Is(err, airtight.ErrMetric) {
			continue // that size is not known
		}
		if err != nil {
			return out, err
		}
		out.Each = append(out.Each, AirFigure{m, v})
		if m.Per == airtight.PerVolume {
			out.Allowed = q.AirFlow(float64(v) * float64(t.Volume) / 3600)
		}
	}
	return out, nil
}

// As gives the target in another figure; false where a size is missing.
func (t AirTarget) As(m airtight.Metric) (airtight.Figure, bool) {
	for _, f := range t.Each {
		if f.Metric == m {
			return f.Value, true
		}
	}
	return 0, false
}

// TargetLimit and InterimLimit name the limits that are no row of a table: the job's target and its share for an interim test.
const (
	TargetLimit  = "target"
	InterimLimit = "interim"
)

// AsLimit is the target as something a test can be held against; share is InterimShare for an interim test, else 1.
func (t AirTarget) AsLimit(source string, share float64) airtight.Limit {
	l := airtight.Limit{ID: TargetLimit, Authority: source, Case: "target of the job", Metric: t.Metric, Comparison: airtight.AtMost,
		Value: t.Value * airtight.Figure(share), Digits: -1, Force: airtight.Target}
	if share != 1 {
		l.ID, l.Case = InterimLimit, fmt.Sprintf("%g of the job's target (common practice, no source)", share)
	}
	return l
}

// air computes the leakage budget, the order of the leak search and the tests kept with the job.
func (r *Results) air(found *diag.List) (Air, error) {
	a := Air{Sizes: SizesOf(r.Job, r.Model.Total)}
	var err error
	if a.Target, err = TargetOf(r.Job, a.Sizes); err != nil {
		return a, err
	}
	if l, ok := r.Library.Air.Limit(r.Job.Target.Limit); ok {
		a.Limit = &l
	}
	if a.Spots, a.Silent, err = r.spots(found); err != nil {
		return a, err
	}
	if a.Budget, err = leakage.Sum(byKind(a.Spots), leakage.ReferenceDensity); err != nil {
		return a, err
	}
	a.Gains = a.Budget.Halve(topGains)
	if a.Zones, err = r.zoneBudgets(&a); err != nil {
		return a, err
	}
	a.Beyond = r.beyond()
	a.Openings = TestOpenings(r.Model, &r.Library.Air)
	a.Tests = r.tests(a, found)
	return a, nil
}

// byKind sums the spots by title and element, which is how a budget can be read.
func byKind(spots []Spot) []leakage.Item {
	type kind struct {
		title, element string
		status         q.Status
	}
	var items []leakage.Item
	at := map[kind]int{}
	for _, s := range spots {
		k := kind{s.Title, s.Item.Element.ID, s.Item.Element.Source.Status}
		i, ok := at[k]
		if !ok {
			i = len(items)
			at[k] = i
			items = append(items, leakage.Item{Element: s.Item.Element, Place: s.Title})
		}
		items[i].Quantity += s.Item.Quantity
	}
	return items
}

// beyond sums the air boundary that no seam of this job closes.
func (r *Results) beyond() []Beyond {
	sum := map[string]q.Area{}
	for _, room := range r.Model.Rooms {
		for _, s := range room.Surfaces {
			switch {
			case !s.AirBoundary:
			case !s.CarriesSheet:
				sum[r.say("%s without a layer of this job", r.word(roleWord(s)))] += s.Net
			case s.Face.Layer == job.Plaster:
				sum[r.say("%s with plaster as the layer", r.word(roleWord(s)))] += s.Net
			}
		}
	}
	var out []Beyond
	for what, area := range sum {
		out = append(out, Beyond{what, area})
	}
	sorting.Func(out, func(x, y Beyond) int { return cmp.Or(cmp.Compare(y.Area, x.Area), cmp.Compare(x.What, y.What)) })
	return out
}

// roleWord names what a surface is.
func roleWord(s *surface.Surface) string {
	return map[surface.Role]string{surface.Wall: "wall", surface.KneeWall: "knee wall", surface.Gable: "gable",
		surface.Slope: "slope", surface.Ceiling: "ceiling", surface.Floor: "floor"}[s.Role]
}
