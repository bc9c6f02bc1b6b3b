package climate_test

import (
	"errors"
	"testing"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/values"
)

// hourly reads an invented year by the hour.
func hourly(t *testing.T, text string) ([]climate.Air, int, error) {
	t.Helper()
	var found diag.List
	w, ok := climate.ParseEPW("y.epw", []byte(text), &found)
	if !ok {
		t.Fatal(found.Err())
	}
	return w.Hourly(vapour.ISO13788)
}

// The hours of an invented year are its rows; a leap day is left out; January at −8 °C and 80 % over water is 267.4 Pa (by hand,
// see TestMonthlyMeans).
func TestHourly(t *testing.T) {
	for _, text := range []string{invented("No", 28, nil), invented("Yes", 29, nil)} {
		year, filled, err := hourly(t, text)
		if err != nil || filled != 0 || len(year) != climate.YearHours {
			t.Fatalf("%d hours, %d filled, %v", len(year), filled, err)
		}
		i := 0
		for m := range 12 {
			for range 24 * days[m] {
				values.Within(t, "temperature", float64(year[i].T), float64(2*(m+1)-10), 1e-12)
				i++
			}
		}
		values.Within(t, "vapour pressure", float64(year[0].P), 267.4, 0.1)
	}
}

// What is missing lies on the line between its neighbours, over the turn of the year too: 31 December has 14 °C, 1 January −8 °C,
// so that six hours between them step by 22/7 K.
func TestHourlyFillsGaps(t *testing.T) {
	year, filled, err := hourly(t, invented("No", 28, func(m, d, h int, f []string) {
		if m == 12 && d == 31 && h > 21 || m == 1 && d == 1 && h < 4 {
			f[6] = "99.9"
		}
	}))
	if err != nil || filled != 6 {
		t.Fatalf("%d filled, %v", filled, err)
	}
	for k, i := range []int{8757, 8758, 8759, 0, 1, 2} {
		values.Within(t, "on the line", float64(year[i].T), 14-22*float64(k+1)/7, 1e-9)
	}
}

// More hours in a row than half a day are not made up.
func TestHourlyRefusesLongGaps(t *testing.T) {
	for name, gap := range map[string]func(m, d, h int) bool{
		"13 hours":     func(m, d, h int) bool { return m == 5 && d == 3 && h < 14 },
		"at the turn":  func(m, d, h int) bool { return m == 12 && d == 31 && h > 12 || m == 1 && d == 1 && h < 3 },
		"nothing read": func(int, int, int) bool { return true },
	} {
		_, _, err := hourly(t, invented("No", 28, func(m, d, h int, f []string) {
			if gap(m, d, h) {
				f[6] = "99.9"
			}
		}))
		if !errors.Is(err, climate.ErrGap) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
