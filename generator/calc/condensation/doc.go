// Package condensation checks building parts for surface and interstitial moisture after EN ISO 13788:2012: the surface
// criterion, monthly condensation and drying at any number of planes, indoor climates, a screening of humidity-variable
// layers, and the cases for which the method is no proof.
//
//	θ, te, ti  temperature, outside, inside               °C
//	p, pe, pi  vapour pressure                            Pa
//	psat       saturation vapour pressure                 Pa
//	sd         equivalent air layer thickness             m
//	g          vapour flow or rate of condensation        kg/(m²·s), g = δ0·Δp/sd
//	Ma         water held at a plane                      kg/m²
//	fRsi       temperature factor of the inside surface   1, (θsi−te)/(ti−te)
//
// The steady monthly method leaves out moisture-dependent properties, capillary transport, air movement and storage
// (scope clause, read in its abstract). Results say whether they are a proof within that scope or a screening. The full
// text was not open: procedure and formulas were seen in texts that cite it, clause numbers are from memory.
package condensation

import (
	"errors"

	q "lapwork/generator/quantity"
)

// Water is a mass of water per area in kg/m².
type Water float64

// Flow is a vapour flow or a rate of condensation in kg/(m²·s); a negative rate is drying.
type Flow float64

// ErrInput is wrapped by errors about what was put in.
var ErrInput = errors.New("cannot compute condensation")

// ErrBalance says that water was lost or made: a fault of this package.
var ErrBalance = errors.New("the balance of water does not close")

// Source is where the monthly method comes from.
func Source() q.Source {
	return q.Source{Text: "EN ISO 13788:2012 clause 6", Status: q.Secondary}
}

// AirLayerSd is the sd of an air layer of any thickness: 0.01 m, EN ISO 13788:2012 (secondary). Its thickness is wrong.
const AirLayerSd q.SdValue = 0.01

// LeastMeasuredSd is the least sd taken from a test: smaller measured values count as 0.1 m, DIN 4108-3 (secondary).
const LeastMeasuredSd q.SdValue = 0.1
