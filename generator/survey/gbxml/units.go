package gbxml

import (
	"math"
	"strconv"
	"strings"

	"lapwork/generator/diag"
)

// lengths are the schema's units of length in metres; feet, inches, yards and miles are exact by definition (1959).
var lengths = map[string]float64{"kilometers": 1000, "meters": 1, "centimeters": 0.01, "millimeters": 0.001,
	"miles": 1609.344, "yards": 0.9144, "feet": 0.3048, "inches": 0.0254}

// units are what holds for the whole file.
type units struct{ length, area, volume float64 }

// scale reads the word for a unit of the given power: "Feet", "SquareFeet", "CubicFeet".
func scale(word string, power int) (float64, bool) {
	word = strings.ToLower(strings.TrimSpace(word))
	word, _ = strings.CutPrefix(word, [...]string{1: "", 2: "square", 3: "cubic"}[power])
	f, ok := lengths[word]
	return math.Pow(f, float64(power)), ok
}

// unitOf is the unit of an element: its own, else the usual one.
func (r *reader) unitOf(n *node, usual float64, power int) float64 {
	word := n.attr("unit")
	if word == "" {
		return usual
	}
	f, ok := scale(word, power)
	if !ok {
		r.b.Found.Openf(n.pos, "", "correct the unit in the file", "%s has the unit %q, which is none of the schema; the file's usual unit was taken", n.name, word)
		return usual
	}
	return f
}

// number reads the number an element holds; false after a finding.
func (r *reader) number(n *node) (float64, bool) {
	x, err := strconv.ParseFloat(strings.TrimSpace(n.text), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		r.b.Found.Openf(n.pos, "", "correct the number in the file", "%s holds %q, which is no number", n.name, clip(n.text))
		return 0, false
	}
	return x, true
}

// quantity reads a number with its unit; zero where the child is missing or no number.
func (r *reader) quantity(n *node, child string, usual float64, power int) float64 {
	c := n.child(child)
	if c == nil {
		return 0
	}
	x, ok := r.number(c)
	if !ok {
		return 0
	}
	return x * r.unitOf(c, usual, power)
}

// rootUnits reads the units of the whole file.
func (r *reader) rootUnits(attr func(string) string, pos diag.Pos) {
	read := func(name string, power int) float64 {
		word := attr(name)
		f, ok := scale(word, power)
		if !ok {
			r.b.Found.Openf(pos, "", "check lengths and areas against the building", "the file's %s is %q; metres were taken", name, word)
			return 1
		}
		return f
	}
	r.units = units{read("lengthUnit", 1), read("areaUnit", 2), read("volumeUnit", 3)}
	r.b.Source.Units = "lengths " + orNone(attr("lengthUnit")) + ", areas " + orNone(attr("areaUnit")) + ", volumes " + orNone(attr("volumeUnit"))
}

func orNone(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func clip(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
