package condensation

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// CurvePoint is the declared sd at a mean relative humidity.
type CurvePoint struct {
	Humidity q.Ratio // mean of the two faces: 0.25 for a 0/50 % test, 0.715 for 50/93 % (EN ISO 12572, from memory)
	Sd       q.SdValue
}

// Curve is a declared sd by humidity, humidity rising, two points or more. It is never extended beyond its ends.
type Curve struct {
	Points []CurvePoint
	Source q.Source
}

// Check refuses a curve that is no function of humidity.
func (c Curve) Check() error {
	if len(c.Points) < 2 {
		return fmt.Errorf("%w: a curve of sd needs two points or more", ErrInput)
	}
	for i, p := range c.Points {
		if !(p.Sd > 0 && p.Sd <= mostSd) || !(p.Humidity >= 0 && p.Humidity <= 1) {
			return fmt.Errorf("%w: sd %v m at humidity %v", ErrInput, float64(p.Sd), float64(p.Humidity))
		}
		if i > 0 && p.Humidity <= c.Points[i-1].Humidity {
			return fmt.Errorf("%w: the humidities of a curve must rise", ErrInput)
		}
	}
	return nil
}

// At gives the sd at a mean humidity: linear between points, the end's value beyond them.
func (c Curve) At(rh q.Ratio) q.SdValue {
	if rh <= c.Points[0].Humidity {
		return c.Points[0].Sd
	}
	for i := 1; i < len(c.Points); i++ {
		a, b := c.Points[i-1], c.Points[i]
		if rh <= b.Humidity {
			f := q.SdValue((rh - a.Humidity) / (b.Humidity - a.Humidity))
			return a.Sd + f*(b.Sd-a.Sd)
		}
	}
	return c.Points[len(c.Points)-1].Sd
}

// Range gives the least and greatest sd of the curve.
func (c Curve) Range() (least, greatest q.SdValue) {
	least, greatest = c.Points[0].Sd, c.Points[0].Sd
	for _, p := range c.Points {
		least, greatest = min(least, p.Sd), max(greatest, p.Sd)
	}
	return least, greatest
}
