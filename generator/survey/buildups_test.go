package survey

import "testing"

// The rows are those of the material table, EN ISO 10456:2007 table 3 (conductivities in W/(m·K)).
func TestMatch(t *testing.T) {
	table := []Material{{"MAT-01", "gypsum plasterboard", 0.25}, {"MAT-03", "gypsum fibreboard", 0.32}, {"MAT-14", "mineral wool", 0.04}, {"MAT-16", "wood-fibre board", 0.05},
		{"MAT-17", "wood-fibre insulation 168", 0.042}, {"MAT-27", "brick, fired clay 1200", 0.37}, {"MAT-28", "brick, fired clay 1800", 0.62},
		{"MAT-31", "aerated concrete 350", 0.09}, {"MAT-33", "concrete, medium density 2200", 1.65}, {"MAT-35", "reinforced concrete 1 % steel", 2.3}}
	for _, c := range []struct {
		name   string
		lambda float64
		want   string
	}{
		{"Mineral wool batt", 0, "MAT-14"}, {"Wood fibre board", 0, "MAT-16"}, {"Gypsum plasterboard 12.5", 0, "MAT-01"}, {"Concrete", 1.6, "MAT-33"}, {"Aerated concrete", 0, "MAT-31"}, {"Clay brick, fired", 0.6, "MAT-28"},
		{"Clay brick, fired", 0, ""}, {"Mineral wool", 0.4, ""}, {"Metal stud layer", 0, ""}, {"Gypsum", 0, ""}, {"", 0, ""},
	} {
		got := ""
		if m := match(Layer{Name: c.name, Lambda: c.lambda}, table); m != nil {
			got = m.ID
		}
		if got != c.want {
			t.Errorf("%q with %v: %q, want %q", c.name, c.lambda, got, c.want)
		}
	}
}
