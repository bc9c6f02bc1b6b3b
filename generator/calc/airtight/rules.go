package airtight

import q "lapwork/generator/quantity"

// Rule names a condition of a valid test.
type Rule string

// The rules. SIGN, FLOW and LINE are checks of the data; the others stand in the standards.
const (
	RuleSign          Rule = "SIGN"               // all corrected pressures of a direction have its sign
	RuleFlow          Rule = "FLOW"               // every flow is above zero
	RuleLine          Rule = "LINE"               // the readings give a line
	RuleBaseline      Rule = "BASELINE_MAX"       // worst zero-flow average
	RuleSamples       Rule = "BASELINE_SAMPLES"   // values in a zero-flow recording
	RulePoints        Rule = "MIN_POINTS"         // steps in a direction
	RuleHighest       Rule = "MAX_PRESSURE"       // highest pressure reaches the reference pressure
	RuleFloor         Rule = "MAX_PRESSURE_ABS"   // highest pressure reaches the floor for large buildings
	RuleLarge         Rule = "MAX_PRESSURE_LARGE" // a large building that did not reach the reference pressure
	RuleLowest        Rule = "MIN_PRESSURE"       // lowest pressure against the zero-flow averages
	RuleStep          Rule = "SPACING"            // step between neighbouring pressures
	RuleRange         Rule = "RANGE"              // range of pressures the standard names
	RuleExponent      Rule = "N_RANGE"            // flow exponent
	RuleFitted        Rule = "R2_MIN"             // correlation of the logarithms
	RuleStack         Rule = "DT_HEIGHT"          // temperature difference times height
	RuleWind          Rule = "WIND"               // meteorological wind
	RuleGround        Rule = "WIND_GROUND"        // wind near the ground
	RuleBeaufort      Rule = "BEAUFORT"           // wind force
	RuleGauge         Rule = "INSTR_P"            // uncertainty of the pressure gauge
	RuleUncertainty   Rule = "UNCERTAINTY"        // overall uncertainty
	RuleBothDirection Rule = "ONE_DIRECTION"      // only one direction was measured
)

// Consequence is what breaking a rule does, mildest first.
type Consequence uint8

// The consequences.
const (
	Inform    Consequence = iota
	Mark                  // the result carries the mark, the test stays valid
	Warn                  // look again; the test stands if the zero-flow pressures are fine
	Condition             // usable only under the exception named
	Reject                // the test is invalid
	Fatal                 // the data are wrong: no line, no result
)

// String gives the consequence's word.
func (c Consequence) String() string {
	return [...]string{"inform", "mark", "warn", "condition", "reject", "error"}[c]
}

// Rules is one standard's set of conditions. A zero limit means the standard has no such rule.
type Rules struct {
	Standard            string
	MinPoints           int
	MaxStep             q.Pressure
	Lowest              q.Pressure
	BaselineFactor      float64 // lowest pressure ≥ factor × worst zero-flow average
	Slack               q.Pressure
	Highest             q.Pressure
	Floor               q.Pressure // for buildings above Large
	Large               q.Volume
	MaxBaseline         q.Pressure
	MinSamples          int
	RangeLow, RangeHigh q.Pressure
	MinExponent         float64
	MaxExponent         float64
	MinR2               float64
	Stack               float64 // m·K
	StackConsequence    Consequence
	Wind, Ground        Speed // warned of above Wind, from Ground on
	Beaufort            int   // warned of from this force on
	GaugeLimit          q.Pressure
	Calm, Windy         q.Ratio // overall uncertainty to be expected
	OneDirection        Consequence
	Viscosity           bool // coefficient corrected for viscosity too
	Clauses             map[Rule]q.Source
}

// Clause is where the standard states a rule.
func (r Rules) Clause(rule Rule) q.Source {
	if s, ok := r.Clauses[rule]; ok {
		return s
	}
	return q.Source{Text: "check of the data, no source", Status: q.CommonPractice}
}

func memory(text string) q.Source    { return q.Source{Text: text, Status: q.FromMemory} }
func secondary(text string) q.Source { return q.Source{Text: text, Status: q.Secondary} }

// ISO9972 are the rules of ISO 9972:2015. "About 10 Pa" a step and the lowest pressure are held with 0.5 Pa of slack; a
// large building is one above 4000 m³ (own cut). Wind: trade practice warns at 3 m/s near the ground and at Beaufort 3,
// and rejects by the zero-flow rule only.
func ISO9972() Rules {
	return Rules{
		Standard: "ISO 9972:2015", MinPoints: 5, MaxStep: 10, Lowest: 10, BaselineFactor: 5, Slack: 0.5,
		Highest: 50, Floor: 25, Large: 4000, MaxBaseline: 5, MinSamples: 10,
		MinExponent: 0.5, MaxExponent: 1, MinR2: 0.98, Stack: 250, StackConsequence: Warn,
		Wind: 6, Ground: 3, Beaufort: 3, GaugeLimit: 1, Calm: 0.10, Windy: 0.20, OneDirection: Mark,
		Clauses: map[Rule]q.Source{
			RulePoints:        memory("ISO 9972:2015 5.3.4"),
			RuleStep:          memory("ISO 9972:2015 5.3.4"),
			RuleLowest:        memory("ISO 9972:2015 5.3.4"),
			RuleHighest:       memory("ISO 9972:2015 5.3.4"),
			RuleFloor:         memory("ISO 9972:2015 5.3.4"),
			RuleLarge:         memory("ISO 9972:2015 5.3.4, exception for large buildings"),
			RuleBaseline:      memory("ISO 9972:2015 5.3.3; 5 Pa read in a copy of a national guideline"),
			RuleSamples:       memory("ISO 9972:2015 5.3.3"),
			RuleExponent:      memory("ISO 9972:2015 6.2; bounds read in public code"),
			RuleFitted:        memory("ISO 9972:2015 6.2"),
			RuleStack:         memory("ISO 9972:2015 5.1.4"),
			RuleWind:          memory("ISO 9972:2015 5.1.4; 6 m/s read in a trade page"),
			RuleGround:        memory("ISO 9972:2015 5.1.4"),
			RuleBeaufort:      memory("ISO 9972:2015 5.1.4 and annex D"),
			RuleGauge:         memory("ISO 9972:2015 4.2; 1 Pa read in a copy of a national guideline"),
			RuleUncertainty:   memory("ISO 9972:2015 8.2"),
			RuleBothDirection: secondary("ISO 9972:2015 5.3.4; mean of both directions asked for by national rules that were read"),
		},
	}
}

// EN13829 are the rules of the edition of 2000 that ISO 9972:2015 replaced: no limit for r², a wider one for stack and
// uncertainty.
func EN13829() Rules {
	r := ISO9972()
	r.Standard, r.MinR2, r.Stack, r.Calm, r.Windy = "EN 13829:2000", 0, 500, 0.15, 0.40
	for rule := range r.Clauses {
		r.Clauses[rule] = memory("EN 13829:2000")
	}
	for _, rule := range []Rule{RulePoints, RuleStep, RuleLowest, RuleHighest, RuleFloor, RuleLarge} {
		r.Clauses[rule] = memory("EN 13829:2000 5.3.4")
	}
	r.Clauses[RuleStack] = memory("EN 13829:2000 5.1.4")
	r.Clauses[RuleBaseline] = memory("EN 13829:2000 5.3.3")
	return r
}

// E779 are the rules of ASTM E779: both directions, 10 to 60 Pa, a coefficient corrected for viscosity. It has no
// zero-flow limit that we know of.
func E779() Rules {
	return Rules{
		Standard: "ASTM E779", MinPoints: 5, MaxStep: 10, Slack: 0.5, RangeLow: 10, RangeHigh: 60,
		MinExponent: 0.5, MaxExponent: 1, Stack: 200, StackConsequence: Reject, OneDirection: Reject, Viscosity: true,
		Clauses: map[Rule]q.Source{
			RulePoints:        memory("ASTM E779-10"),
			RuleStep:          memory("ASTM E779, steps of 5 to 10 Pa"),
			RuleRange:         secondary("ASTM E779-19, 10 to 60 Pa"),
			RuleExponent:      memory("ASTM E779; bounds read in public code"),
			RuleStack:         memory("ASTM E779-10 section 8"),
			RuleBothDirection: memory("ASTM E779: both directions"),
		},
	}
}

// CGSB149 are the rules of CAN/CGSB-149.10: depressurisation, eight steps from 50 to 15 Pa, correlation r ≥ 0.990.
func CGSB149() Rules {
	return Rules{
		Standard: "CAN/CGSB-149.10", MinPoints: 8, MaxStep: 10, Slack: 0.5, RangeLow: 15, RangeHigh: 60, Highest: 50,
		MinExponent: 0.5, MaxExponent: 1, MinR2: 0.990 * 0.990, OneDirection: Inform,
		Clauses: map[Rule]q.Source{
			RulePoints:        memory("CAN/CGSB-149.10, eight steps"),
			RuleStep:          memory("CAN/CGSB-149.10"),
			RuleHighest:       memory("CAN/CGSB-149.10, 50 to 15 Pa"),
			RuleRange:         memory("CAN/CGSB-149.10-2019; 60 Pa read in a secondary page"),
			RuleExponent:      memory("CAN/CGSB-149.10; bounds read in public code"),
			RuleFitted:        memory("CAN/CGSB-149.10, r ≥ 0.990"),
			RuleBothDirection: memory("CAN/CGSB-149.10: depressurisation only"),
		},
	}
}
