package page_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"lapwork/generator/theme"
	"lapwork/themes"
)

// luminance and contrast follow WCAG 2.2, definitions of relative luminance and contrast ratio (from memory).
func luminance(hex string) float64 {
	if len(hex) == 4 { // #123 is #112233
		hex = string([]byte{'#', hex[1], hex[1], hex[2], hex[2], hex[3], hex[3]})
	}
	part := func(i int) float64 {
		v, err := strconv.ParseUint(hex[i:i+2], 16, 8)
		if err != nil {
			return math.NaN()
		}
		c := float64(v) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(1) + 0.7152*part(3) + 0.0722*part(5)
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Black on white is 21; #767676 on white is 4.54, the palest grey that passes 4.5 (both quoted widely, from memory).
func TestContrastFormula(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#FFFFFF", 21}, {"#767676", "#FFFFFF", 4.54}, {"#777777", "#FFFFFF", 4.48}} {
		if got := contrast(c.a, c.b); math.Abs(got-c.want) > 0.005 { // quoted to two decimals
			t.Errorf("%s on %s: %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
}

// allStyles are the theme's style sheets behind each other.
func allStyles(t *testing.T) string {
	t.Helper()
	styles, err := theme.ReadStyles(themes.FS)
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	for _, f := range styles {
		text += f.Text
	}
	return text
}

// schemes gives the variables of every scheme of the style sheets; a later one starts from the first.
func schemes(t *testing.T) map[string]map[string]string {
	t.Helper()
	blocks := regexp.MustCompile(`(?m)^\s*(:root[^{]*)\{([^}]*--ground[^}]*)\}`).FindAllStringSubmatch(allStyles(t), -1)
	variable := regexp.MustCompile(`--([a-z-]+): (#(?:[0-9A-F]{3}){1,2})\b`)
	out := map[string]map[string]string{}
	for i, b := range blocks {
		vars := map[string]string{}
		for _, m := range variable.FindAllStringSubmatch(blocks[0][2], -1) {
			vars[m[1]] = m[2]
		}
		for _, m := range variable.FindAllStringSubmatch(b[2], -1) {
			vars[m[1]] = m[2]
		}
		out[strconv.Itoa(i)+" "+b[1]] = vars
	}
	return out
}

// TestContrast checks every pair that the style sheet uses. Text wants 7:1 (WCAG 1.4.6), edges of controls 3:1 (1.4.11).
func TestContrast(t *testing.T) {
	all := schemes(t)
	if len(all) != 4 { // light, dark, sun, print
		t.Fatalf("%d schemes, want 4", len(all))
	}
	pairs := []struct {
		text, ground string
		least        float64
	}{{"ink", "ground", 15}, {"quiet", "ground", 7}, {"touch", "ground", 7}, {"done", "ground", 7}, {"stop", "ground", 7}, {"caution", "ground", 7}, {"old", "ground", 7},
		{"on-touch", "touch", 7}, {"paper-ink", "paper", 15}, {"edge", "ground", 3}, {"edge", "paper", 3}}
	for name, vars := range all {
		for _, p := range pairs {
			if p.text == "edge" && p.ground == "paper" && vars["paper"] != vars["ground"] {
				continue // the pad's edge lies against the page's ground there
			}
			a, b := vars[p.text], vars[p.ground]
			if a == "" || b == "" {
				t.Fatalf("%s: no --%s or no --%s", name, p.text, p.ground)
			}
			if got := contrast(a, b); got < p.least {
				t.Errorf("%s: --%s %s on --%s %s is %.2f, want %.0f", name, p.text, a, p.ground, b, got, p.least)
			}
		}
	}
}

// TestFixedColours: outside the schemes only the pairs below stand, on grounds that no scheme changes but paper white.
func TestFixedColours(t *testing.T) {
	rest := regexp.MustCompile(`(?m)^\s*:root[^{]*\{[^}]*\}`).ReplaceAllString(allStyles(t), "")
	allowed := map[string]float64{"#14201D": 7, "#43524E": 7, "#5C6A66": 3, "#FFF": 1, "#FFFFFF": 1, "#000000": 7}
	for _, hex := range regexp.MustCompile(`#(?:[0-9A-Fa-f]{3}){1,2}\b`).FindAllString(rest, -1) {
		least, ok := allowed[hex]
		if !ok || contrast(hex, "#FFFFFF") < least || least > 1 && contrast(hex, "#FBFAF6") < least {
			t.Errorf("colour %s outside the schemes is not among the checked ones", hex)
		}
	}
}
