package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Month is the mean of one calendar month at both surfaces.
type Month struct {
	Month           int // 1 … 12
	Inside, Outside Air
	Absorbed        q.Irradiance
}

var monthDays = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// Stepwise expands twelve months, each month once and in the calendar's order from any first month, to hours that keep the monthly mean all
// month: what the monthly method sees.
func Stepwise(months []Month) (Climate, error) {
	if err := checkMonths(months); err != nil {
		return nil, err
	}
	out := make(Climate, 0, 8760)
	for _, m := range months {
		for range monthDays[m.Month-1] * 24 {
			out = append(out, Hour{m.Inside, m.Outside, m.Absorbed})
		}
	}
	return out, nil
}

// Smooth expands twelve months to hours on straight lines between mid-months, placed so that each month keeps its mean.
// The outdoor temperature swings about that line by swing (half the daily range, 0 … 20 K), coldest at five in the
// morning and warmest at five in the afternoon; vapour pressure has no daily swing and is cut at saturation, so humid
// months lose a little of theirs.
func Smooth(months []Month, swing q.Temperature) (Climate, error) {
	if err := checkMonths(months); err != nil {
		return nil, err
	}
	if !within(float64(swing), 0, 20) {
		return nil, fmt.Errorf("%w: daily swing %v K", ErrInput, float64(swing))
	}
	var rows [12][5]float64
	for i, m := range months {
		rows[i] = [5]float64{float64(m.Inside.T), float64(m.Inside.P), float64(m.Outside.T), float64(m.Outside.P), float64(m.Absorbed)}
	}
	knots := meanKeeping(months, rows)
	out := make(Climate, 0, 8760)
	for i, m := range months {
		n := monthDays[m.Month-1] * 24
		for h := range n {
			x := (float64(h) + 0.5) / float64(n)
			v := between(knots, months, i, x)
			v[2] += float64(swing) * daySwing[h%24]
			out = append(out, Hour{air(v[0], v[1]), air(v[2], v[3]), q.Irradiance(v[4])})
		}
	}
	return out, nil
}

func air(t, p float64) Air {
	sat, _ := saturation(t)
	return Air{q.Temperature(t), q.Pressure(max(0, min(p, sat)))}
}

// daySwing is -cos over the day from five o'clock, middle of each hour.
var daySwing = [24]float64{-0.3827, -0.6088, -0.7934, -0.9239, -0.9914, -0.9914, -0.9239, -0.7934, -0.6088, -0.3827, -0.1305, 0.1305,
	0.3827, 0.6088, 0.7934, 0.9239, 0.9914, 0.9914, 0.9239, 0.7934, 0.6088, 0.3827, 0.1305, -0.1305}

// between gives the five values at the share x of month i, on the line through the knots at mid-months.
func between(knots [12][5]float64, months []Month, i int, x float64) (v [5]float64) {
	a, b := (i+11)%12, i
	f := 1.0
	own := float64(monthDays[months[i].Month-1])
	if x < 0.5 {
		other := float64(monthDays[months[a].Month-1])
		f = (other/2 + x*own) / (other/2 + own/2)
	} else {
		a, b = i, (i+1)%12
		other := float64(monthDays[months[b].Month-1])
		f = (x - 0.5) * own / (other/2 + own/2)
	}
	for k := range v {
		v[k] = knots[a][k] + f*(knots[b][k]-knots[a][k])
	}
	return v
}

// meanKeeping finds the mid-month knots whose lines have the given monthly means. Half a month of own days against a
// neighbour of other days takes the share own/(4(own + other)) of that neighbour's knot into its mean, about an eighth, so that a
// plain repeated correction converges.
func meanKeeping(months []Month, want [12][5]float64) [12][5]float64 {
	knots := want
	for range 60 {
		next := knots
		for i := range knots {
			own := float64(monthDays[months[i].Month-1])
			before := float64(monthDays[months[(i+11)%12].Month-1])
			after := float64(monthDays[months[(i+1)%12].Month-1])
			a, b := own/(4*(own+before)), own/(4*(own+after))
			for k := range next[i] {
				mean := knots[i][k]*(1-a-b) + knots[(i+11)%12][k]*a + knots[(i+1)%12][k]*b
				next[i][k] += want[i][k] - mean
			}
		}
		knots = next
	}
	return knots
}

func checkMonths(months []Month) error {
	if len(months) != 12 {
		return fmt.Errorf("%w: %d months instead of 12", ErrInput, len(months))
	}
	for i, m := range months {
		if m.Month < 1 || m.Month > 12 || (i > 0 && m.Month != months[i-1].Month%12+1) {
			return fmt.Errorf("%w: month %d in place %d", ErrInput, m.Month, i+1)
		}
	}
	return nil
}
