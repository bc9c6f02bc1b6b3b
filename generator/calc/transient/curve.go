package transient

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Point is one point of a curve over relative humidity 0 … 1.
type Point struct {
	Humidity q.Ratio
	Value    float64 // in the unit of the curve
}

// curve is piecewise linear in x and held at its ends: a measured curve is never continued past its last point.
type curve struct {
	x, y, slope []float64
}

// at gives the value and the slope at x.
func (c *curve) at(x float64) (value, slope float64) {
	last := len(c.x) - 1
	if x <= c.x[0] {
		return c.y[0], 0
	}
	if x >= c.x[last] {
		return c.y[last], 0
	}
	i := 1
	for c.x[i] < x {
		i++
	}
	s := c.slope[i-1]
	return c.y[i-1] + s*(x-c.x[i-1]), s
}

// humidityCurve checks points: at least two, humidity rising within 0 … 1, values within their range.
func humidityCurve(what string, points []Point, low, high float64) (curve, error) {
	var c curve
	if len(points) < 2 {
		return c, fmt.Errorf("%w: %s needs at least two points", ErrInput, what)
	}
	for i, p := range points {
		if !within(float64(p.Humidity), 0, 1) || !within(p.Value, low, high) {
			return c, fmt.Errorf("%w: %s: %v at humidity %v", ErrInput, what, p.Value, float64(p.Humidity))
		}
		if i > 0 && p.Humidity <= points[i-1].Humidity {
			return c, fmt.Errorf("%w: %s: humidity must rise, %v comes after %v", ErrInput, what, float64(p.Humidity), float64(points[i-1].Humidity))
		}
		c.add(float64(p.Humidity), p.Value)
	}
	return c, nil
}

func (c *curve) add(x, y float64) {
	if n := len(c.x); n > 0 {
		c.slope = append(c.slope, (y-c.y[n-1])/(x-c.x[n-1]))
	}
	c.x, c.y = append(c.x, x), append(c.y, y)
}

func within(x, low, high float64) bool { return x >= low && x <= high && !math.IsInf(x, 0) }
