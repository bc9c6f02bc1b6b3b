package quantity

import (
	"fmt"
	"math"
)

// The international yard and pound of 1959: the inch is 25.4 mm, the foot 0.3048 m, the pound 0.45359237 kg, all exact.
const (
	inch  = 25.4       // mm
	foot  = 0.3048     // m
	pound = 0.45359237 // kg
)

// sixteenths is how fine a tape measure in inches is read.
const sixteenths = 16

// beside adds the imperial figure where the format shows one.
func (f Format) beside(text string) string {
	if !f.Imperial {
		return ""
	}
	return " (" + text + ")"
}

// inches gives millimetres as a tape measure shows them: feet from two feet up, inches, and the nearest sixteenth.
func inches(mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return "–"
	}
	sign := ""
	if mm < 0 {
		sign, mm = "−", -mm
	}
	n := int(math.Round(mm / inch * sixteenths))
	whole, part := n/sixteenths, n%sixteenths
	text := fmt.Sprintf("%d in", whole)
	if part > 0 {
		d := sixteenths
		for part%2 == 0 {
			part, d = part/2, d/2
		}
		text = fmt.Sprintf("%d %d/%d in", whole, part, d)
		if whole == 0 {
			text = fmt.Sprintf("%d/%d in", part, d)
		}
	}
	if feet := whole / 12; feet >= 2 {
		rest := mm - float64(feet)*12*inch
		return sign + fmt.Sprintf("%d ft ", feet) + inches(math.Max(0, rest))
	}
	return sign + text
}
