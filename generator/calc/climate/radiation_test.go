package climate_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/sun"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

// sunny is an invented year with 300 W/m² from the sky, and by day 100 + hour global, 40 direct, 80 diffuse.
func sunny(change func(month, day, hour int, fields []string)) string {
	return invented("No", 28, func(m, d, h int, f []string) {
		row := append(f, "300", fmt.Sprint(100+h), "40", "80")
		if change != nil {
			change(m, d, h, row)
		}
		f[len(f)-1] = strings.Join(row[len(f)-1:], ",")
		copy(f, row[:len(f)-1])
	})
}

func radiation(t *testing.T, text string) ([]climate.Radiation, int, error) {
	t.Helper()
	var found diag.List
	w, ok := climate.ParseEPW("y.epw", []byte(text), &found)
	if !ok {
		t.Fatal(found.Err())
	}
	return w.RadiationByHour()
}

// Columns 13 to 16 of the data dictionary: heat of the sky, global, direct, diffuse.
func TestRadiationByHour(t *testing.T) {
	year, filled, err := radiation(t, sunny(nil))
	if err != nil || filled != 0 || len(year) != climate.YearHours {
		t.Fatalf("%d hours, %d filled, %v", len(year), filled, err)
	}
	if want := (climate.Radiation{Radiation: sun.Radiation{Direct: 40, Diffuse: 80, Global: 101}, Sky: 300}); year[0] != want || year[23].Global != 124 {
		t.Errorf("first hour %+v, last %+v", year[0], year[23])
	}
}

// A mark for missing and a sky of zero are filled in on the line between the neighbours; more than half a day is not, and a file
// without a place has no sun.
func TestRadiationGaps(t *testing.T) {
	year, filled, err := radiation(t, sunny(func(m, d, h int, f []string) {
		if m == 5 && d == 3 && (h == 10 || h == 11) {
			f[13] = "9999"
		}
		if m == 5 && d == 4 && h == 12 {
			f[12] = "0"
		}
	}))
	if err != nil || filled != 3 {
		t.Fatalf("%d filled, %v", filled, err)
	}
	for i, r := range year {
		values.Within(t, fmt.Sprint("hour ", i), float64(r.Global), float64(101+i%24), 1e-9)
	}
	for name, tt := range map[string]struct {
		text string
		want error
	}{
		"a day without": {sunny(func(m, d, h int, f []string) {
			if m == 5 && d == 3 {
				f[14] = "9999"
			}
		}), climate.ErrGap},
		"no such columns": {invented("No", 28, nil), climate.ErrGap},
		"no place":        {strings.Replace(sunny(nil), "50.00000", "north", 1), climate.ErrNoSite},
	} {
		if _, _, err := radiation(t, tt.text); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	var found diag.List
	_, ok := climate.ParseEPW("y.epw", []byte(sunny(func(m, d, h int, f []string) {
		if m == 1 && d == 1 && h == 1 {
			f[15] = "-5"
		}
	})), &found)
	if text := found.Err(); ok || text == nil || !strings.Contains(text.Error(), `y.epw:9:`) || !strings.Contains(text.Error(), `"-5"`) {
		t.Errorf("a figure below zero: %v", text)
	}
}

// In the hourly file behind the table, direct and diffuse sun make up the global one where our sun stands: its clock, place and
// month are read right. The file was made for an instant and the sun moves within the hour: the year's sum is held to 0.5 %, and
// 99 of 100 bright hours to 5 % (an hour's error of the clock leaves about a third of them).
func TestSunOfAnHourlyFile(t *testing.T) {
	var found diag.List
	w := hourlyFile(t, &found)
	year, filled, err := w.RadiationByHour()
	if err != nil || filled > 100 {
		t.Fatalf("%d filled, %v", filled, err)
	}
	var global, sum float64
	near, bright := 0, 0
	for i, r := range year {
		p, err := w.SunAt(i)
		if err != nil {
			t.Fatal(err)
		}
		got := float64(sun.Face{}.Receives(p, r.Radiation))
		global, sum = global+float64(r.Global), sum+got
		if r.Global > 300 && r.Direct > 200 {
			bright++
			if math.Abs(got/float64(r.Global)-1) < 0.05 {
				near++
			}
		}
	}
	t.Logf("%d filled; year %.0f kWh/m², from direct and diffuse %.0f; %d of %d bright hours within 5 %%", filled, global/1000, sum/1000, near, bright)
	values.Within(t, "year", sum/global, 1, 0.005)
	if near < bright*99/100 {
		t.Errorf("%d of %d bright hours", near, bright)
	}
	if air, _, err := w.Hourly(vapour.ISO13788); err != nil || len(air) != len(year) {
		t.Error(err)
	}
	for i, r := range year {
		if !(r.Sky >= 100 && r.Sky < q.Irradiance(600)) {
			t.Errorf("hour %d: sky %v", i, r.Sky)
		}
	}
}
