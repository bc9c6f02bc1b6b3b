package svg_test

import (
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	d "lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
)

var update = flag.Bool("update", false, "rewrite the golden drawings")

func small() map[string]d.Figure {
	xy := func(v ...float64) []d.XY {
		var out []d.XY
		for i := 0; i+1 < len(v); i += 2 {
			out = append(out, d.XY{X: v[i], Y: v[i+1]})
		}
		return out
	}
	return map[string]d.Figure{
		"section": d.Section{Title: "Sheet on a stud", Width: 200, Height: 120, Frames: []d.Frame{{Parts: []d.Part{
			{Kind: d.Solid, Material: "timber-end", Path: xy(70, 40, 130, 40, 130, 120, 70, 120), Name: "stud"},
			{Kind: d.Sheet, Path: xy(0, 40, 140, 40)}, {Kind: d.Sheet, Path: xy(60, 40, 200, 40)}, {Kind: d.Tape, Path: xy(40, 40, 80, 40)},
			{Kind: d.Number, Step: 1, Path: xy(30, 15, 60, 40)}, {Kind: d.Dimension, Path: xy(60, 12, 140, 12)}}}}},
		"key": d.KeyPlan{Title: "Where you are", Here: "B2", Rooms: []d.PlanRoom{{ID: "B1", Outline: xy(0, 0, 3000, 0, 3000, 4000, 0, 4000)}, {ID: "B2", Name: "Bath & WC", Outline: xy(3100, 0, 6000, 0, 6000, 4000, 3100, 4000)}}},
	}
}

func TestGolden(t *testing.T) {
	for name, f := range small() {
		got := svg.Standalone(f)
		file := filepath.Join("testdata", name+".svg")
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s differs from %s; look at it, then run with -update", name, file)
		}
		if again := svg.Standalone(f); again != got {
			t.Errorf("%s: two drawings of one figure differ", name)
		}
	}
}

// TestWellFormed reads every element: known names, no style or event attributes, nothing from outside (the page's
// content policy would block them), every url() and aria reference resolved.
func TestWellFormed(t *testing.T) {
	allowed := map[string]bool{"svg": true, "g": true, "path": true, "circle": true, "text": true, "title": true, "desc": true, "defs": true, "pattern": true, "rect": true}
	for name, f := range small() {
		page := "<body>" + svg.Defs(svg.HatchIDs()) + svg.Render("a/b 1", f) + svg.Render("c", f) + "</body>"
		ids, refs := map[string]bool{}, []string{}
		dec := xml.NewDecoder(strings.NewReader(page))
		for {
			tok, err := dec.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			e, ok := tok.(xml.StartElement)
			if !ok || e.Name.Local == "body" {
				continue
			}
			if !allowed[e.Name.Local] {
				t.Errorf("%s: element %s", name, e.Name.Local)
			}
			for _, a := range e.Attr {
				switch n := a.Name.Local; {
				case n == "id":
					if ids[a.Value] {
						t.Errorf("%s: id %s twice", name, a.Value)
					}
					ids[a.Value] = true
				case n == "style", n == "href", strings.HasPrefix(n, "on"):
					t.Errorf("%s: attribute %s", name, n)
				case strings.HasPrefix(n, "aria-labelledby"), strings.HasPrefix(n, "aria-describedby"):
					refs = append(refs, a.Value)
				case strings.HasPrefix(a.Value, "url("):
					refs = append(refs, strings.TrimSuffix(strings.TrimPrefix(a.Value, "url(#"), ")"))
				}
			}
		}
		for _, r := range refs {
			if !ids[r] {
				t.Errorf("%s: nothing has the id %s", name, r)
			}
		}
	}
}

func TestTextIsEscaped(t *testing.T) {
	hostile := "<script>\"&'\x01</title>"
	out := svg.Render(hostile, d.KeyPlan{Title: hostile, Here: hostile, Rooms: []d.PlanRoom{{ID: hostile, Name: hostile, Outline: []d.XY{{}, {X: 9000}, {X: 9000, Y: 9000}, {Y: 9000}}}}})
	if strings.Contains(out, "<script") || strings.Count(out, "</title>") != 1 {
		t.Errorf("hostile text got through: %s", out)
	}
	if err := xml.Unmarshal([]byte(out), new(struct{})); err != nil {
		t.Error(err)
	}
}

// ratio is the contrast of two colours as WCAG 2.2 defines it (success criterion 1.4.3, "contrast ratio" and
// "relative luminance").
func ratio(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func luminance(hex string) float64 {
	sum := 0.0
	for i, weight := range [3]float64{0.2126, 0.7152, 0.0722} {
		v, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			return math.NaN()
		}
		c := float64(v) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func TestContrast(t *testing.T) {
	// Black on white is 21:1 and #767676 on white just over 4.5:1: well-known values of the WCAG formula.
	if r := ratio("#000000", "#FFFFFF"); math.Abs(r-21) > 0.01 {
		t.Errorf("black on white %.2f", r)
	}
	if r := ratio("#767676", "#FFFFFF"); r < 4.5 || r > 4.6 {
		t.Errorf("#767676 on white %.2f", r)
	}
	for name, p := range map[string]d.Palette{"light": d.Light(), "sun": d.Sun(), "dark": d.Dark()} {
		for _, least := range []struct {
			ink, on d.Ink
			ratio   float64
		}{
			{d.Black, d.Ground, 15}, {d.Quiet, d.Ground, 7}, {d.Black, d.Shade, 7}, {d.Quiet, d.Shade, 7}, {d.Ground, d.Black, 7}, {d.Ground, d.Accent, 7},
			{d.DoneInk, d.Ground, 7}, {d.StopInk, d.Ground, 7}, {d.Warn, d.Ground, 7}, {d.Accent, d.Ground, 7},
			{d.SheetInk, d.Ground, 4.5}, {d.TapeInk, d.Ground, 4.5}, // lines, not text: WCAG 1.4.11 asks 3:1
		} {
			if r := ratio(p[least.ink], p[least.on]); r < least.ratio {
				t.Errorf("%s: %s on %s is %.2f:1, wants %.1f", name, least.ink.Name(), least.on.Name(), r, least.ratio)
			}
		}
	}
}

func TestEveryInkHasItsColours(t *testing.T) {
	if all := append(d.PlanInks(), d.ChartInks()...); len(all) != len(d.Inks()) {
		t.Errorf("%d inks of plans and charts, want each of %d once", len(all), len(d.Inks()))
	}
	css := svg.Colours(d.PlanInks()) + svg.Colours(d.ChartInks()) + svg.Paper()
	for _, ink := range d.Inks() {
		for _, want := range []string{".ds-%s{", ".df-%s{"} {
			if n := strings.Count(css, fmt.Sprintf(want, ink.Name())); n != 1 {
				t.Errorf("%s%s: %d rules, want one", want, ink.Name(), n)
			}
		}
		if n := strings.Count(css, "--d-"+ink.Name()+":"); n != 4 {
			t.Errorf("%s has %d colours, want light, sun, dark and print", ink.Name(), n)
		}
	}
}

func TestEveryMaterialHasAHatch(t *testing.T) {
	defs := svg.Defs(svg.HatchIDs())
	for _, m := range d.Materials() {
		if m != "air" && !strings.Contains(defs, `id="hatch-`+string(m)+`"`) {
			t.Errorf("no hatch for %s", m)
		}
	}
}
