package condensation

import (
	q "lapwork/generator/quantity"
)

// Facts are what decides whether the monthly method can be a proof for a part. Unknown is true for what nobody has
// answered: the worse case counts.
type Facts struct {
	AbsorbentFacade    bool // rendered or exposed masonry that takes up driving rain
	InsulatedInside    bool
	CapillaryActive    bool // insulation relied on for liquid transport
	HumidityVariable   bool // a layer with sd by humidity is relied on
	TimberRoof         bool // timber in a roof that is not ventilated outside the insulation
	FlatGreenOrShaded  bool // flat, green, gravelled or shaded roof
	WaterBuiltIn       bool // wet trades, rain or flood during building
	DryingCalculated   bool // the drying of that water was calculated (clause 7)
	TimberNearItsLimit bool
	Cooled             bool // rooms cooled below the outdoor air
	HumidSummer        bool
	AirLeak            bool // a path for room air into the part is known or not excluded
	MoistureStored     bool // the answer rests on materials that take up and give off moisture
	MoreThanOneWay     bool // flow across and along: a thermal bridge or an end in masonry
}

// Reason is why the method is no proof.
type Reason struct {
	Text      string
	Source    q.Source
	Simulated bool // what a simulation by EN 15026 with measured storage data answers
}

// NoProof lists why EN ISO 13788 is no proof for a part with these facts; then a simulation by EN 15026 or a proven
// detail is. The limits of scope stand in the standard's abstract; the list of cases is common practice, from memory.
func NoProof(f Facts) []Reason {
	scope := q.Source{Text: "EN ISO 13788:2012, scope", Status: q.Secondary}
	trade := q.Source{Text: "no source", Status: q.CommonPractice}
	var out []Reason
	add := func(when bool, text string, s q.Source) {
		if when {
			out = append(out, Reason{Text: text, Source: s})
		}
	}
	simulated := func(when bool, text string) {
		if when {
			out = append(out, Reason{Text: text, Source: scope, Simulated: true})
		}
	}
	add(f.AbsorbentFacade && f.InsulatedInside, "insulation inside of masonry that takes up driving rain", scope)
	add(f.CapillaryActive, "insulation that carries liquid water", scope)
	simulated(f.HumidityVariable, "a layer whose resistance changes with humidity")
	add(f.TimberRoof && f.FlatGreenOrShaded, "flat, green or shaded timber roof without ventilation", trade)
	add(f.WaterBuiltIn && !f.DryingCalculated, "water built in, its drying not calculated", scope)
	add(f.TimberNearItsLimit, "timber near its moisture limit", trade)
	add(f.Cooled && f.HumidSummer, "cooled rooms in a humid summer", trade)
	add(f.AirLeak, "room air may flow into the part", scope)
	simulated(f.MoistureStored, "storage of moisture in the materials counts")
	add(f.MoreThanOneWay, "heat and vapour flow in more than one direction", scope)
	return out
}

// Judgement is a verdict with what it may be used for.
type Judgement struct {
	Verdict Verdict
	Scope   Scope
	Reasons []Reason // why it is a screening; empty: a proof within the method's scope
}

// Judge sets a result beside the facts of the part. It never changes the verdict, only what it is worth.
func (r Result) Judge(f Facts) Judgement {
	f.HumidityVariable = f.HumidityVariable || r.Scope == Screening
	j := Judgement{Verdict: r.Verdict, Scope: r.Scope, Reasons: NoProof(f)}
	if len(j.Reasons) > 0 {
		j.Scope = Screening
	}
	return j
}
