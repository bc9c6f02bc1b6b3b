package climate

import (
	"errors"
	"fmt"

	"lapwork/generator/calc/vapour"
	q "lapwork/generator/quantity"
)

// Air is the outdoor air of an hour.
type Air struct {
	T q.Temperature
	P q.Pressure // vapour pressure, from humidity over liquid water
}

// YearHours is the length of the year that Hourly gives.
const YearHours = 8760

// LongestGap is the most hours in a row that Hourly fills in.
const LongestGap = 12

// ErrGap says that a weather file lacks more hours in a row than may be filled in.
var ErrGap = errors.New("climate: too many hours missing in a row")

// Hourly gives the file as a year of 8760 hours from 1 January: rows of one hour are averaged, 29 February is left out,
// and missing hours lie on the straight line between their neighbours, over the turn of the year too. filled counts them. More than
// LongestGap in a row give ErrGap; a temperature outside the formulas' range the error of package vapour.
func (w Weather) Hourly(set vapour.Set) (year []Air, filled int, err error) {
	year = make([]Air, YearHours)
	rows := make([]int, YearHours)
	for _, h := range w.Hours {
		if h.leapDay() || !h.HasT || !h.HasRH && !h.HasDew {
			continue
		}
		p, err := h.vapour(set)
		if err != nil {
			return nil, 0, err
		}
		i := h.index()
		rows[i]++
		year[i].T += h.T
		year[i].P += p
	}
	for i, n := range rows {
		if n > 1 {
			year[i].T /= q.Temperature(n)
			year[i].P /= q.Pressure(n)
		}
	}
	filled, err = fill(year, rows, func(a, b Air, f float64) Air {
		return Air{a.T + q.Temperature(f)*(b.T-a.T), a.P + q.Pressure(f)*(b.P-a.P)}
	})
	return year, filled, err
}

func (h Hour) leapDay() bool { return h.Month == 2 && h.Day == 29 }

// index is the hour's place in a year without 29 February.
func (h Hour) index() int { return firstHour[h.Month] + 24*(h.Day-1) + h.Hour - 1 }

// vapour is the vapour pressure of an hour.
func (h Hour) vapour(set vapour.Set) (q.Pressure, error) {
	if !h.HasRH {
		return set.SaturationOverWater(h.Dew)
	}
	sat, err := set.SaturationOverWater(h.T)
	return sat * q.Pressure(h.RH), err
}

// firstHour is the number of hours before each month.
var firstHour = [13]int{0, 0, 744, 1416, 2160, 2880, 3624, 4344, 5088, 5832, 6552, 7296, 8016}

// fill puts values where there are no rows, on the line that between draws from the one before to the one after.
func fill[T any](year []T, rows []int, between func(a, b T, f float64) T) (filled int, err error) {
	last := -1 // the last hour with a row before the year begins, counted back from it
	for i, n := range rows {
		if n > 0 {
			last = i - len(rows)
		}
	}
	if rows[len(rows)-1] == 0 && last == -1 {
		return 0, fmt.Errorf("%w: all of them", ErrGap)
	}
	for i := range rows {
		if rows[i] == 0 {
			continue
		}
		gap := i - last - 1
		if gap > LongestGap {
			return 0, fmt.Errorf("%w: %d before hour %d of the year", ErrGap, gap, i+1)
		}
		a, b := year[(last+len(year))%len(year)], year[i]
		for k := 1; k <= gap; k++ {
			year[(last+k+len(year))%len(year)] = between(a, b, float64(k)/float64(gap+1))
		}
		filled, last = filled+gap, i
	}
	return filled, nil
}
