package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Air is the state of the air at a surface: temperature -40 … 60 °C and vapour pressure from 0 to saturation.
type Air struct {
	T q.Temperature
	P q.Pressure
}

// Hour is the mean of one hour at both surfaces. Absorbed is sun absorbed at the outer surface less sky loss, W/m².
type Hour struct {
	Inside, Outside Air
	Absorbed        q.Irradiance
}

// Climate is one year of hourly values (or another span of whole days), repeated for every year of a run.
type Climate []Hour

// The channels of a compiled climate.
const (
	tInside = iota
	pInside
	tOutside
	pOutside
	absorbed
	coldShare
	channels
)

// climate holds running sums, so that the mean over any span costs two look-ups.
type climate struct {
	sum [][channels]float64
}

// overSaturation is how far a vapour pressure may exceed saturation before it is refused: weather files state humidity
// below 0 °C against liquid water, which is up to 1.2 times the pressure over ice at -20 °C. Such air counts as saturated.
const overSaturation = 1.25

// leastAir is the humidity that bone-dry air counts as.
const leastAir = 1e-3

func (c Climate) compile() (climate, error) {
	var out climate
	if len(c) < 24 || len(c)%24 != 0 || len(c) > 8784 {
		return out, fmt.Errorf("%w: a climate of %d hours (whole days, at most a leap year)", ErrInput, len(c))
	}
	mean := 0.0
	for _, h := range c {
		mean += float64(h.Outside.T) / float64(len(c))
	}
	out.sum = make([][channels]float64, len(c)+1)
	cold := 0.0
	for i, h := range c {
		pi, err := h.Inside.pressure(i)
		if err != nil {
			return out, err
		}
		pe, err := h.Outside.pressure(i)
		if err != nil {
			return out, err
		}
		if !within(float64(h.Absorbed), -300, 1200) {
			return out, fmt.Errorf("%w: hour %d: %v W/m² absorbed", ErrInput, i, float64(h.Absorbed))
		}
		row := [channels]float64{float64(h.Inside.T), pi, float64(h.Outside.T), pe, float64(h.Absorbed), 0}
		if float64(h.Outside.T) <= mean {
			row[coldShare] = 1
			cold++
		}
		for k := range row {
			out.sum[i+1][k] = out.sum[i][k] + row[k]
		}
	}
	for i := range out.sum {
		out.sum[i][coldShare] /= cold * hour // cold > 0: not every hour is above the mean, save for rounding
	}
	return out, nil
}

func (a Air) pressure(i int) (float64, error) {
	if !within(float64(a.T), -40, 60) {
		return 0, fmt.Errorf("%w: hour %d: air at %v °C", ErrInput, i, float64(a.T))
	}
	sat, _ := saturation(float64(a.T))
	if !within(float64(a.P), 0, sat*overSaturation) {
		return 0, fmt.Errorf("%w: hour %d: vapour pressure %v Pa at %v °C, saturation %.0f Pa", ErrInput, i, float64(a.P), float64(a.T), sat)
	}
	return max(sat*leastAir, min(float64(a.P), sat)), nil
}

// hours is the length of the span.
func (c *climate) hours() float64 { return float64(len(c.sum) - 1) }

// until gives the running sums up to a time in hours.
func (c *climate) until(t float64) (s [channels]float64) {
	i := min(int(t), len(c.sum)-2)
	f := t - float64(i)
	a, b := &c.sum[i], &c.sum[i+1]
	for k := range s {
		s[k] = a[k] + f*(b[k]-a[k])
	}
	return s
}

// mean gives the mean of every channel from a to b, in hours.
func (c *climate) mean(a, b float64) (m [channels]float64) {
	from, to := c.until(a), c.until(b)
	for k := range m {
		m[k] = (to[k] - from[k]) / (b - a)
	}
	return m
}
