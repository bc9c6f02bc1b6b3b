package climate

import (
	"fmt"

	"lapwork/generator/calc/vapour"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// LeastCover is the share of a month's hours its means must rest on.
const LeastCover = 0.9

var hoursOf = [13]int{0, 744, 672, 744, 720, 744, 720, 744, 744, 720, 744, 720, 744}

// Monthly averages the hours by month: temperature, humidity, air pressure, and vapour pressure hour by hour. An hour
// without humidity takes its vapour pressure from the dew point; one without either, or without temperature, is left
// out and counted. 29 February counts where the file has it. Months that rest on less than 90 % of their hours are
// faults.
func (w Weather) Monthly(file string, set vapour.Set, found *diag.List) (months [12]Month, ok bool) {
	sums := [13]sum{}
	for _, h := range w.Hours {
		if err := sums[h.Month].add(h, set); err != nil {
			found.Faultf(diag.Pos{File: file}, "", "%d/%d hour %d: %v", h.Month, h.Day, h.Hour, err)
			return months, false
		}
	}
	ok = true
	per := max(w.PerHour, 1)
	for n := 1; n <= 12; n++ {
		s := sums[n]
		if float64(s.rows) < LeastCover*float64(hoursOf[n]*per) {
			found.Faultf(diag.Pos{File: file}, "a climate needs a full year", "month %d has %d of %d hours", n, s.rows/per, hoursOf[n])
			ok = false
			continue
		}
		months[n-1] = s.month(n, per)
		if s.missing > 0 {
			found.Notef(diag.Pos{File: file}, "", "month %d: %d hours are missing and left out of the means", n, (s.missing+per-1)/per)
		}
	}
	return months, ok
}

// sum gathers the hours of a month.
type sum struct {
	rows, pressed, missing int
	t, rh, p, water, ice   float64
}

func (s *sum) add(h Hour, set vapour.Set) error {
	if !h.HasT || !h.HasRH && !h.HasDew {
		s.missing++
		return nil
	}
	water, err := set.SaturationOverWater(h.T)
	if err != nil {
		return err
	}
	ice, err := set.Saturation(h.T)
	if err != nil {
		return err
	}
	rh := float64(h.RH)
	if !h.HasRH {
		dew, err := set.SaturationOverWater(h.Dew)
		if err != nil {
			return err
		}
		rh = min(float64(dew/water), 1)
	}
	s.rows++
	s.t += float64(h.T)
	s.rh += rh
	s.water += rh * float64(water)
	s.ice += rh * float64(ice)
	if h.Pressure > 0 {
		s.p += float64(h.Pressure)
		s.pressed++
	}
	return nil
}

func (s *sum) month(n, per int) Month {
	rows := float64(s.rows)
	m := Month{Month: n, Hours: s.rows / per, Missing: s.missing / per, Te: q.Temperature(s.t / rows), RH: q.Ratio(s.rh / rows),
		Pe: q.Pressure(s.water / rows), PeOverIce: q.Pressure(s.ice / rows)}
	if s.pressed > 0 {
		m.Pressure = q.Pressure(s.p / float64(s.pressed))
	}
	return m
}

// Climate averages the file to a climate with this id.
func (w Weather) Climate(id, file string, set vapour.Set, found *diag.List) (Climate, bool) {
	months, ok := w.Monthly(file, set, found)
	text := w.Origin
	if text == "" {
		text = "unnamed origin"
	}
	return Climate{ID: id, Name: w.City, Country: w.Country, Months: months,
		Source: q.Source{Text: fmt.Sprintf("weather file %s (%s), hourly rows averaged", file, text), Status: q.Confirmed}}, ok
}
