package library

import "testing"

// A range is written as a person says it, with its unit; what has none, or ends below its beginning, is no range.
func TestParseRange(t *testing.T) {
	for text, want := range map[string]Range{
		"5 to 30 °C":          {"°C", "5", "30"},
		"-5 to 0.5 °C":        {"°C", "-5", "0.5"},
		"4 mm or more":        {"mm", "4", ""},
		"20 % or less":        {"%", "", "20"},
		"0.5 m/s or less":     {"m/s", "", "0.5"},
		"70 % RH or less":     {"% RH", "", "70"},
		"1 m³/(h·m²) or less": {"m³/(h·m²)", "", "1"},
	} {
		if got, ok := parseRange(text); !ok || got != want {
			t.Errorf("%q: %+v, %v", text, got, ok)
		}
	}
	for _, text := range []string{"", "4", "4 mm", "4 or more", "mm or more", "30 to 5 °C", "5 to 30", "5 to 30 °C or less", "4,5 mm or more", "about 4 mm or more", "1e3 mm or less"} {
		if r, ok := parseRange(text); ok {
			t.Errorf("%q is read as %+v", text, r)
		}
	}
}
