package climate_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/sun"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

const header = `LOCATION,Invented,XX,ZZZ,Invented,000000,50.00000,8.00000,1.0,96.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,%s,0,0,0
COMMENTS 1,"an invented year, with a comma"
COMMENTS 2,
DATA PERIODS,1,1,Data,Monday, 1/ 1,12/31
`

var days = []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// invented writes a year with constant t by month and humidity 80 %; change edits single rows.
func invented(leap string, february int, change func(month, day, hour int, fields []string)) string {
	var b strings.Builder
	fmt.Fprintf(&b, header, leap)
	for m := 1; m <= 12; m++ {
		n := days[m-1]
		if m == 2 {
			n = february
		}
		for d := 1; d <= n; d++ {
			for h := 1; h <= 24; h++ {
				fields := strings.Split(fmt.Sprintf("2001,%d,%d,%d,0,?9?9,%d.0,%d.0,80,100000,0,0", m, d, h, 2*m-10, 2*m-13), ",")
				if change != nil {
					change(m, d, h, fields)
				}
				b.WriteString(strings.Join(fields, ",") + "\n")
			}
		}
	}
	return b.String()
}

func read(t *testing.T, text string) ([12]climate.Month, climate.Weather, *diag.List) {
	t.Helper()
	var found diag.List
	w, ok := climate.ParseEPW("y.epw", []byte(text), &found)
	if !ok {
		t.Fatal(found.Err())
	}
	months, ok := w.Monthly("y.epw", vapour.ISO13788, &found)
	if !ok {
		t.Fatal(found.Err())
	}
	return months, w, &found
}

// Constant months average to themselves. January at −8 °C and 80 %: 610.5·exp(17.269·−8/229.3)·0.8 = 267.4 Pa over water,
// 309.41·0.8 = 247.5 Pa over ice (annex E by hand).
func TestConstantYear(t *testing.T) {
	months, w, found := read(t, invented("No", 28, nil))
	if w.City != "Invented" || w.Country != "ZZZ" || !w.HasHeight || w.Height != 96 || w.LeapYear || w.PerHour != 1 {
		t.Errorf("header %+v", w.Comments)
	}
	if w.Comments[0] != "an invented year, with a comma" || len(found.Sorted()) != 0 {
		t.Errorf("comments %q, findings %v", w.Comments, found.Sorted())
	}
	for i, m := range months {
		values.Within(t, "te", float64(m.Te), float64(2*(i+1)-10), 1e-9)
		values.Within(t, "rh", float64(m.RH), 0.8, 1e-12)
		if m.Hours != 24*days[i] {
			t.Errorf("month %d: %d hours", i+1, m.Hours)
		}
	}
	values.Within(t, "over water", float64(months[0].Pe), 267.4, 0.1)
	values.Within(t, "over ice", float64(months[0].PeOverIce), 247.5, 0.1)
	values.Within(t, "above freezing both are one", float64(months[11].Pe-months[11].PeOverIce), 0, 1e-9)
}

func TestLeapYear(t *testing.T) {
	months, w, _ := read(t, invented("Yes", 29, nil))
	if !w.LeapYear || months[1].Hours != 29*24 {
		t.Errorf("leap year %v, February has %d hours", w.LeapYear, months[1].Hours)
	}
}

// Missing marks are absences: temperature 99.9 leaves the hour out, humidity 999 falls back on the dew point, pressure
// 999999 on nothing.
func TestMissingCodes(t *testing.T) {
	months, _, found := read(t, invented("No", 28, func(m, d, h int, f []string) {
		switch {
		case m == 3 && d == 1:
			f[6] = "99.9"
		case m == 4:
			f[8] = "999"
		case m == 5:
			f[9] = "999999"
		case m == 6 && d == 1:
			f[7], f[8] = "99.9", "999."
		case m == 7:
			f[7] = ""
		}
	}))
	if months[2].Missing != 24 || months[2].Hours != 720 || months[5].Missing != 24 || found.Count(diag.Note) != 2 {
		t.Errorf("March %+v, June %+v, findings %v", months[2], months[5], found.Sorted())
	}
	values.Within(t, "March", float64(months[2].Te), -4, 1e-9)
	// April: −2 °C, dew point −5 °C over water: 610.5·exp(17.269·−5/232.3) = 420.98 Pa.
	values.Within(t, "April from the dew point", float64(months[3].Pe), 420.98, 0.05)
	values.Within(t, "May has no air pressure", float64(months[4].Pressure), 0, 0)
	values.Within(t, "July", float64(months[6].RH), 0.8, 1e-12)
}

func TestBadWeatherFiles(t *testing.T) {
	good := invented("No", 28, nil)
	for name, c := range map[string]struct{ text, want string }{
		"empty":        {"", "no data"},
		"other file":   {"id,name\n1,2\n", "y.epw:1:1: line 1 is not \"LOCATION\""},
		"header only":  {fmt.Sprintf(header, "No"), "no data"},
		"short row":    {fmt.Sprintf(header, "No") + "2001,1,1\n", "y.epw:9:1: a data row has at least ten fields"},
		"hour 0":       {strings.Replace(good, "2001,1,1,1,", "2001,1,1,0,", 1), "y.epw:9:10: not a whole number from 1 to 24"},
		"30 February":  {strings.Replace(good, "2001,2,28,", "2001,2,30,", 1), "from 1 to 29"},
		"temperature":  {strings.Replace(good, ",-8.0,", ",88,", 1), `not a figure of this column: "88"`},
		"nan":          {strings.Replace(good, ",-8.0,", ",NaN,", 1), "not a figure"},
		"humidity":     {strings.Replace(good, ",80,", ",180,", 1), "not a figure"},
		"half a month": {good[:strings.Index(good, "2001,12,10,")], "month 12 has 216 of 744 hours"},
	} {
		var found diag.List
		if w, ok := climate.ParseEPW("y.epw", []byte(c.text), &found); ok {
			if _, ok := w.Monthly("y.epw", vapour.ISO13788, &found); ok {
				t.Errorf("%s: accepted", name)
			}
		}
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// A file of another kind gives a bounded number of findings.
func TestFindingsAreBounded(t *testing.T) {
	var found diag.List
	climate.ParseEPW("y.epw", []byte(strings.ReplaceAll(invented("No", 28, nil), ",80,", ",x,")), &found)
	if n := found.Count(diag.Fault); n == 0 || n > 20 {
		t.Errorf("%d findings", n)
	}
}

// hourlyFile reads the hourly file behind the table, or skips where it is not at hand.
func hourlyFile(t *testing.T, found *diag.List) climate.Weather {
	t.Helper()
	folder := os.Getenv("LAPWORK_REFERENCE")
	if folder == "" {
		t.Skip("LAPWORK_REFERENCE names no folder with hourly files")
	}
	text, err := os.ReadFile(filepath.Join(folder, "..", "samples", "epw", "mannheim.epw"))
	if err != nil {
		t.Skip(err)
	}
	w, ok := climate.ParseEPW("mannheim.epw", text, found)
	if !ok {
		t.Fatal(found.Err())
	}
	return w
}

// The hourly file behind the table, where it is at hand: the averages of file 20 to their last digit, and its comment in
// Latin-1.
func TestHourlyFile(t *testing.T) {
	var found diag.List
	w := hourlyFile(t, &found)
	c, ok := w.Climate("mannheim", "mannheim.epw", vapour.ISO13788, &found)
	if !ok {
		t.Fatal(found.Err())
	}
	if len(w.Hours) != 8760 || !strings.Contains(w.Comments[0], "für Bau") {
		t.Errorf("%d hours, comment %q", len(w.Hours), w.Comments[0])
	}
	want := climates(t)["mannheim"]
	for i, m := range c.Months {
		values.Within(t, "te", float64(m.Te), float64(want.Months[i].Te), 0.00051)
		values.Within(t, "rh", 100*float64(m.RH), 100*float64(want.Months[i].RH), 0.00051)
		values.Within(t, "pe", float64(m.Pe), float64(want.Months[i].Pe), 0.0051)
		values.Within(t, "pe over ice", float64(m.PeOverIce), float64(want.Months[i].PeOverIce), 0.0051)
		values.Within(t, "air pressure", float64(m.Pressure), float64(want.Months[i].Pressure), 0.051)
	}
}

// No input makes the reader panic; findings lie inside the file; no hour leaves its ranges.
func FuzzEPW(f *testing.F) {
	f.Add([]byte(fmt.Sprintf(header, "Yes") + "2001,2,29,24,60,x,-1.5,99.9,110,999999\r\n"))
	f.Add([]byte("LOCATION,K\xf6ln\n"))
	f.Add([]byte(fmt.Sprintf(header, "No") + "2001,6,21,12,0,x,20,10,50,100000,0,0,350,800,700,120\n2001,6,21,13,0,x,20,10,50,100000,0,0,9999,0,-1,\n"))
	f.Add([]byte(fmt.Sprintf(header, "No") + "2001,1,1,1,0,x,1e999,,-0,100000\n\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var found diag.List
		w, ok := climate.ParseEPW("y.epw", text, &found)
		lines := 1 + strings.Count(string(text), "\n")
		for _, x := range found.Sorted() {
			if x.Pos.Line > lines {
				t.Fatalf("%v is past line %d", x, lines)
			}
		}
		if ok != (found.Err() == nil) {
			t.Fatalf("ok %v with %v", ok, found.Err())
		}
		for _, h := range w.Hours {
			if h.Month < 1 || h.Month > 12 || h.Hour < 1 || h.Hour > 24 || h.RH < 0 || h.RH > 1 || math.Abs(float64(h.T)) > 90 {
				t.Fatalf("hour %+v", h)
			}
		}
		if year, filled, err := w.Hourly(vapour.ISO13788); err == nil {
			if len(year) != climate.YearHours || filled < 0 || filled > climate.YearHours-climate.YearHours/(climate.LongestGap+1) {
				t.Fatalf("%d hours, %d filled", len(year), filled)
			}
			for _, a := range year {
				if !(math.Abs(float64(a.T)) <= 90 && a.P >= 0 && a.P < q.Pressure(40000)) {
					t.Fatalf("hour %+v", a)
				}
			}
		}
		if year, _, err := w.RadiationByHour(); err == nil {
			for i, r := range year {
				p, err := w.SunAt(i)
				if got := (sun.Face{Tilt: 90}).Receives(p, r.Radiation); err != nil || !(got >= 0 && got <= 4200 && r.Sky >= 50) {
					t.Fatalf("hour %d: %v, %+v, %v on a wall", i, err, r, got)
				}
			}
		}
		if months, ok := w.Monthly("y.epw", vapour.ISO13788, &found); ok {
			for _, m := range months {
				if !(m.Pe >= 0 && m.Pe < q.Pressure(40000)) {
					t.Fatalf("month %+v", m)
				}
			}
		}
	})
}
