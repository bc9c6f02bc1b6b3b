package theme

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// The ratios that are wanted: of what is read at the wall (WCAG 1.4.6), and of the edges of what can be touched (1.4.11).
const (
	readable = 7.0
	edges    = 3.0
)

// pairs are the colours that stand on each other in every scheme.
var pairs = []struct {
	text, ground string
	least        float64
}{{"ink", "ground", readable}, {"quiet", "ground", readable}, {"touch", "ground", readable}, {"done", "ground", readable}, {"stop", "ground", readable}, {"caution", "ground", readable},
	{"old", "ground", readable}, {"on-touch", "touch", readable}, {"paper-ink", "paper", readable}, {"edge", "ground", edges}}

// scheme is one set of colours: in light, in the dark by the device or by choice, in the sun, on paper.
type scheme struct {
	name    string
	colours map[string]colour
}

// colour is a colour and who set it; the place is empty where it is the program's.
type colour struct {
	value string
	pos   diag.Pos
}

// schemeNames in their order; the second half of dark is what the device asks for.
var schemeNames = []string{"usual", "dark", "dark by the device", "sun", "paper"}

// style reads the style sheets with what stands over them, measures its colours and adds those of firm.yaml.
func (t *Theme) style(p Program, look []job.Colour, found *diag.List) {
	over := func(f File) bool { _, ok := t.Over[f.At]; return ok }
	if len(t.Added) == 0 && len(look) == 0 && !slices.ContainsFunc(p.Styles, over) {
		return
	}
	var rules []rule
	known := map[string]bool{}
	for _, f := range p.Styles {
		own := readSheet("", f.Text, new(diag.List))
		for _, r := range own {
			r.note(known)
		}
		if o, replaced := t.Over[f.At]; replaced {
			forbidden(o, found)
			own = readSheet(o.At, o.Text, found)
		}
		rules = append(rules, own...)
	}
	for _, f := range t.Added {
		forbidden(f, found)
		rules = append(rules, readSheet(f.At, f.Text, found)...)
	}
	schemes := schemesOf(rules)
	derived := set(schemes, look)
	measure(schemes, t.Over["site/style.css"].At, found)
	for _, r := range rules {
		if r.pos.File != "" {
			r.strange(known).check(schemes, found)
		}
	}
	if len(derived) > 0 {
		t.Added = append(slices.Clone(t.Added), File{At: "firm.yaml", Text: written(derived)})
	}
}

// schemesOf gathers the variables of each scheme; each begins with those of the usual one.
func schemesOf(rules []rule) []scheme {
	out := make([]scheme, len(schemeNames))
	for i, name := range schemeNames {
		out[i] = scheme{name, map[string]colour{}}
	}
	for _, r := range rules {
		for i := range out {
			if !out[i].takes(r) {
				continue
			}
			for _, v := range r.values {
				if name, ok := strings.CutPrefix(v.name, "--"); ok {
					out[i].colours[name] = colour{v.text, v.pos}
				}
			}
		}
	}
	return out
}

// takes reports whether a rule sets colours of the scheme.
func (s scheme) takes(r rule) bool {
	if !strings.HasPrefix(r.selector, ":root") || strings.Contains(r.selector, " ") && !strings.Contains(r.selector, ",") {
		return false
	}
	plain := slices.ContainsFunc(strings.Split(r.selector, ","), func(one string) bool { return strings.TrimSpace(one) == ":root" })
	print, dark := strings.Contains(r.around, "print"), strings.Contains(r.around, "prefers-color-scheme")
	switch {
	case plain && r.around == "":
		return true
	case plain && r.around == "@media screen":
		return s.name != "paper"
	case print:
		return s.name == "paper"
	case dark:
		return s.name == "dark by the device"
	case strings.Contains(r.selector, ":not("):
		return false
	case s.name == "dark", s.name == "dark by the device": // the scripts set both; the class stands for either
		return strings.Contains(r.selector, ".dark") || s.name == "dark" && strings.Contains(r.selector, `[data-look="dark"]`)
	case s.name == "sun":
		return strings.Contains(r.selector, `[data-look="sun"]`)
	}
	return false
}

// set puts the colours of firm.yaml into the schemes and gives what stands over the style sheet, by scheme. An accent is
// stated for the usual scheme; the dark one takes the nearest lighter shade that can be read, and what stands on the
// accent becomes black or white, unless they are stated too.
func set(schemes []scheme, look []job.Colour) map[string]map[string]string {
	out := map[string]map[string]string{}
	put := func(where, name, value string, pos diag.Pos) {
		for i := range schemes {
			if n := schemes[i].name; n == where || where == "dark" && n == "dark by the device" {
				schemes[i].colours[name] = colour{value, pos}
			}
		}
		if out[where] == nil {
			out[where] = map[string]string{}
		}
		out[where][name] = value
	}
	for _, c := range look {
		put(c.Scheme, c.Name, c.Value, c.Pos)
	}
	for _, c := range look {
		if c.Name != "touch" {
			continue
		}
		if ground := schemes[1].colours["ground"].value; c.Scheme == "usual" && out["dark"]["touch"] == "" {
			if lighter, ok := nearest(c.Value, ground, readable); ok {
				put("dark", "touch", lighter, c.Pos)
			}
		}
		for _, s := range []string{c.Scheme, "dark"} {
			if touch := out[s]["touch"]; touch != "" && out[s]["on-touch"] == "" {
				on := "#ffffff"
				if Contrast("#000000", touch) > Contrast(on, touch) {
					on = "#000000"
				}
				put(s, "on-touch", on, c.Pos)
			}
		}
	}
	return out
}

// written is a style of colours by scheme, for screens: on paper everything is black.
func written(by map[string]map[string]string) string {
	var b strings.Builder
	for _, s := range []struct{ scheme, begin, end string }{
		{"usual", ":root{", "}"}, {"dark", ":root.dark{", "}"}, {"sun", `:root[data-look="sun"]{`, "}"}} {
		if len(by[s.scheme]) == 0 {
			continue
		}
		b.WriteString(s.begin)
		for _, name := range slices.Sorted(maps.Keys(by[s.scheme])) {
			b.WriteString("--" + name + ":" + by[s.scheme][name] + ";")
		}
		b.WriteString(s.end)
	}
	return "@media screen{" + b.String() + "}\n"
}

// measure reports the pairs that stand out too little, and colours that are missing or cannot be measured.
func measure(schemes []scheme, file string, found *diag.List) {
	for _, s := range schemes {
		for _, p := range pairs {
			a, b := s.colours[p.text], s.colours[p.ground]
			pos := a.pos
			if pos.File == "" {
				pos = b.pos
			}
			ratio := Contrast(a.value, b.value)
			switch {
			case a.value == "" || b.value == "":
				found.Faultf(diag.Pos{File: file}, "keep the blocks of :root that set the schemes", "the style sheet has no --%s or no --%s for %s", p.text, p.ground, s.name)
			case ratio != ratio:
				found.Faultf(pos, "write #RRGGBB, so that its contrast can be measured", "%s: --%s %s on --%s %s cannot be measured", s.name, p.text, a.value, p.ground, b.value)
			case ratio < p.least:
				found.Faultf(pos, instead(a.value, b.value, p.least), "%s: --%s %s on --%s %s has %s, less than %.0f : 1", s.name, p.text, a.value, p.ground, b.value, shown(ratio), p.least)
			}
		}
	}
}

// shown is a ratio rounded down, so that one too small never looks large enough.
func shown(ratio float64) string { return fmt.Sprintf("%.2f : 1", float64(int(ratio*100))/100) }

func instead(text, ground string, least float64) string {
	if near, ok := nearest(text, ground, least); ok {
		return "the nearest shade that can be read: " + near
	}
	return "change the ground"
}

var (
	outside = regexp.MustCompile(`(?i)url\(\s*["']?([^)"']{0,40})`)
	upright = regexp.MustCompile(`(?i)<\s*/|expression\s*\(|-moz-binding|behavior\s*:`)
)

// forbidden reports what could end the style inside a page, run, or ask for something outside the pack.
func forbidden(f File, found *diag.List) {
	text := blanked(f.Text)
	for _, g := range upright.FindAllStringIndex(f.Text, -1) {
		found.Faultf(place(f.At, f.Text, g[0]), "leave it out", "%q is refused in a style", f.Text[g[0]:g[1]])
	}
	for _, g := range outside.FindAllStringSubmatchIndex(text, -1) {
		if to := text[g[2]:g[3]]; !strings.HasPrefix(to, "#") && !strings.HasPrefix(to, "data:image/png") && !strings.HasPrefix(to, "data:image/jpeg") {
			found.Faultf(place(f.At, text, g[0]), "a picture may stand in it as data:image/png", "a style asks for nothing outside itself: %s", to)
		}
	}
	if i := strings.IndexByte(text, '\\'); i >= 0 {
		found.Faultf(place(f.At, text, i), "write the character itself", "a \\ in a style is not read")
	}
}
