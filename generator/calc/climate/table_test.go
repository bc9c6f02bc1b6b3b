package climate_test

import (
	"os"
	"strings"
	"testing"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/vapour"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

func climates(t *testing.T) map[string]climate.Climate {
	t.Helper()
	text, err := os.ReadFile("../../../content/tables/climates.csv")
	if err != nil {
		t.Fatal(err)
	}
	var found diag.List
	out := map[string]climate.Climate{}
	for _, c := range climate.Parse("climates.csv", text, &found) {
		out[c.ID] = c
	}
	if len(found.Sorted()) > 0 {
		t.Fatalf("findings: %v", found.Sorted())
	}
	return out
}

// The table of the trade holds the averages of the hourly files; the pressure of the means is another figure, which the
// ISO set reproduces from the printed means to their rounding (0.001 K and 0.001 %: below 0.2 Pa).
func TestClimates(t *testing.T) {
	all := climates(t)
	values.Walk(t, "20_climate_monthly.csv", func(t *testing.T, r values.Record) {
		c, ok := all[strings.ReplaceAll(r["city"], " ", "-")]
		if !ok {
			t.Skip("not in the table: its rows may not be passed on")
		}
		m := c.Months[int(r.Number(t, "month"))-1]
		if m.Month != int(r.Number(t, "month")) || m.Hours != int(r.Number(t, "hours")) || c.Source.Status != q.Confirmed {
			t.Errorf("%+v", m)
		}
		values.Within(t, "te", float64(m.Te), r.Number(t, "t_mean_C"), 1e-9)
		values.Within(t, "rh", 100*float64(m.RH), r.Number(t, "rh_mean_percent"), 1e-9)
		values.Within(t, "pe", float64(m.Pe), r.Number(t, "pv_mean_of_hourly_over_water_Pa"), 1e-9)
		values.Within(t, "pe over ice", float64(m.PeOverIce), r.Number(t, "pv_mean_of_hourly_iso_branches_Pa"), 1e-9)
		values.Within(t, "air pressure", float64(m.Pressure), r.Number(t, "pressure_mean_Pa"), 1e-9)
		means := values.Must[q.Pressure](t)(vapour.ISO13788.Pressure(m.Te, m.RH))
		values.Within(t, "pressure of the means", float64(means), r.Number(t, "pv_from_mean_t_and_mean_rh_Pa"), 0.2)
		rh := values.Must[q.Ratio](t)(vapour.ISO13788.Humidity(m.Te, m.PeOverIce))
		values.Within(t, "equivalent humidity", 100*float64(rh), r.Number(t, "rh_equivalent_percent"), 0.02)
	})
}

// The table holds places of sources that may be passed on, at least three of them, and none of the others.
func TestClimatesMayBePassedOn(t *testing.T) {
	names := map[string]bool{}
	for _, c := range climates(t) {
		names[c.Name] = true
	}
	if len(names) < 3 {
		t.Errorf("%d places", len(names))
	}
	for _, r := range values.Rows(t, values.Folders()[0], "21_climate_sources.csv") {
		for _, place := range strings.FieldsFunc(r["places"], func(c rune) bool { return c == ';' }) {
			if may := r["may_pass_on"] == "yes"; names[place] != may {
				t.Errorf("%s (%s, %s): in the table %v", place, r["dataset"], r["status"], names[place])
			}
			delete(names, place)
		}
	}
	for name := range names {
		t.Errorf("%s has no row in the list of sources", name)
	}
}

// No input makes the reader of the table panic; a place it gives has twelve months in order and within their ranges.
func FuzzClimates(f *testing.F) {
	text, err := os.ReadFile("../../../content/tables/climates.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte("id,name,country,month,hours,te,rh,pressure,pe,pe_over_ice,source,status\na,A,DE,13,744,1e9,-1,,NaN,1,x,confirmed\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var found diag.List
		lines := 1 + strings.Count(string(text), "\n")
		for _, c := range climate.Parse("climates.csv", text, &found) {
			for i, m := range c.Months {
				if m.Month != i+1 || m.Te < -60 || m.Te > 60 || m.RH < 0 || m.RH > 1 || !(m.Pe >= 1 && m.Pe <= 10000) || m.PeOverIce > m.Pe || c.ID == "" {
					t.Fatalf("%s: %+v", c.ID, m)
				}
			}
		}
		for _, x := range found.Sorted() {
			if x.Pos.Line > lines {
				t.Fatalf("%v is past line %d", x, lines)
			}
		}
	})
}

func TestRoundedClimates(t *testing.T) {
	values.Walk(t, "20b_climate_rounded_for_cases.csv", func(t *testing.T, r values.Record) {
		p := values.Must[q.Pressure](t)(vapour.ISO13788.Pressure(q.Temperature(r.Number(t, "te_C")), q.Ratio(r.Number(t, "rhe_percent")/100)))
		values.Within(t, "pe", float64(p), r.Number(t, "pe_Pa"), 0.0051)
	})
}

func TestTableFindings(t *testing.T) {
	text, err := os.ReadFile("../../../content/tables/climates.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(text), "\n")
	for name, c := range map[string]struct {
		change func([]string) []string
		want   string
	}{
		"month missing": {func(l []string) []string { return append(l[:5:5], l[6:]...) }, `climate "mannheim" has no month 4`},
		"month twice":   {func(l []string) []string { return append(l[:6:6], l[5:]...) }, `"mannheim, month 4" stands twice`},
		"not a month":   {edit(2, ",1,744,", ",13,744,"), `climates.csv:3:22: column "month"`},
		"no figure":     {edit(2, ",3.725,", ",,"), `column "te"`},
		"above":         {edit(2, ",655.06,", ",700,"), "above pe"},
		"two names":     {edit(3, "Mannheim", "Munich"), "differs from the first row"},
	} {
		var found diag.List
		out := climate.Parse("climates.csv", []byte(strings.Join(c.change(append([]string{}, lines...)), "")), &found)
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
		if len(out) != 2 {
			t.Errorf("%s: %d places kept, want the other two", name, len(out))
		}
	}
}

func edit(line int, old, now string) func([]string) []string {
	return func(l []string) []string {
		l[line] = strings.Replace(l[line], old, now, 1)
		return l
	}
}
