package thermal

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Part is what fills a share of a layer.
type Part struct {
	Name     string
	Fraction q.Ratio // of the area
	R        Resistance
	Metal    bool // a metal member; one that bridges insulation is refused
}

// Layer is one layer of an element, parallel to its faces. Several parts make it a bridged layer.
type Layer struct {
	Name       string
	Parts      []Part
	Insulation bool // counts when a metal part bridges it
	// Grid names what runs through the layer. Layers of the same grid are cut by the same members and share their
	// fractions, part by part; layers of different grids cross, so their fractions multiply. Empty: a grid of its own.
	Grid string
}

// Plain is a layer of one material.
func Plain(name string, r Resistance) Layer {
	return Layer{Name: name, Parts: []Part{{Name: name, Fraction: 1, R: r}}}
}

// Bridged is a layer with members in it, on a grid of its own.
func Bridged(name string, fill Resistance, share q.Ratio, member Resistance) Layer {
	return Layer{Name: name, Insulation: true, Parts: []Part{{Name: name, Fraction: 1 - share, R: fill}, {Name: "member", Fraction: share, R: member}}}
}

// Element is a flat building part from inside to outside.
type Element struct {
	Films  Films
	Layers []Layer
}

// Path is one way through the element and its share of the area.
type Path struct {
	Fraction q.Ratio
	R        Resistance // films included
}

// Combined is the outcome of the combined method.
type Combined struct {
	Upper, Lower, Total Resistance // RT,upper, RT,lower and their mean
	Error               q.Ratio    // (upper−lower)/(2·RT), the greatest possible relative error
	Paths               []Path     // of the upper limit
	Equivalent          []Resistance
	Refusals            []string // why the method does not apply; empty: it does
	Source              q.Source
}

// MaxRatio is the greatest ratio of upper to lower limit the method allows, 6.7.2.1 (from memory).
const MaxRatio = 1.5

// maxPaths bounds the paths of an element with many crossing layers; eight crossing grids of two parts make 256.
const maxPaths = 1 << 14

// Transmittance is U = 1/RT, or an error that wraps ErrRefused and names the reasons.
func (c Combined) Transmittance() (Transmittance, error) {
	if len(c.Refusals) > 0 {
		return 0, fmt.Errorf("%w: %s", ErrRefused, c.Refusals[0])
	}
	return c.Total.Transmittance()
}

// Resistance computes the element by the combined method, EN ISO 6946:2017 6.7.2: the upper limit sums whole paths in
// parallel with the films inside each, the lower limit makes every layer uniform first; RT is their mean. A single path
// is the simple sum. The result of an element the method does not apply to carries Refusals.
func (e Element) Resistance() (Combined, error) {
	if err := e.check(); err != nil {
		return Combined{}, err
	}
	c := Combined{Source: q.Source{Text: "EN ISO 6946:2017 6.7.2", Status: q.Secondary}}
	paths, err := e.paths()
	if err != nil {
		return Combined{}, err
	}
	var flow float64
	for _, p := range paths {
		if p.Fraction == 0 {
			continue
		}
		c.Paths = append(c.Paths, p)
		flow += float64(p.Fraction) / float64(p.R)
	}
	c.Upper = Resistance(1 / flow)
	c.Lower = e.Films.Inside + e.Films.Outside
	for _, l := range e.Layers {
		r := l.uniform()
		c.Equivalent = append(c.Equivalent, r)
		c.Lower += r
	}
	c.Total = (c.Upper + c.Lower) / 2
	c.Error = q.Ratio((c.Upper - c.Lower) / (2 * c.Total))
	c.Refusals = e.refusals(c)
	return c, nil
}

// uniform is the resistance of the layer with its parts in parallel.
func (l Layer) uniform() Resistance {
	if len(l.Parts) == 1 {
		return l.Parts[0].R
	}
	var flow float64
	for _, p := range l.Parts {
		if p.Fraction > 0 {
			flow += float64(p.Fraction) / float64(p.R)
		}
	}
	return Resistance(1 / flow)
}

// paths are the ways through the element. A grid is crossed once; every further layer on it follows the same part.
func (e Element) paths() ([]Path, error) {
	type way struct {
		Path
		part map[string]int // part taken on each named grid
	}
	ways := []way{{Path: Path{Fraction: 1, R: e.Films.Inside + e.Films.Outside}}}
	for _, l := range e.Layers {
		var next []way
		for _, w := range ways {
			if i, taken := w.part[l.Grid]; taken && l.Grid != "" {
				w.R += l.Parts[i].R
				next = append(next, w)
				continue
			}
			for i, p := range l.Parts {
				n := way{Path: Path{Fraction: w.Fraction * p.Fraction, R: w.R + p.R}, part: map[string]int{}}
				for grid, taken := range w.part {
					n.part[grid] = taken
				}
				if l.Grid != "" {
					n.part[l.Grid] = i
				}
				next = append(next, n)
			}
		}
		if ways = next; len(ways) > maxPaths {
			return nil, fmt.Errorf("more than %d paths through the element: %w", maxPaths, ErrRange)
		}
	}
	out := make([]Path, len(ways))
	for i, w := range ways {
		out[i] = w.Path
	}
	return out, nil
}

// refusals lists why the method does not apply to the element.
func (e Element) refusals(c Combined) []string {
	var out []string
	if c.Upper > MaxRatio*c.Lower {
		out = append(out, fmt.Sprintf("the upper limit is %.2f times the lower, above %.1f", float64(c.Upper/c.Lower), MaxRatio))
	}
	for _, l := range e.Layers {
		for _, p := range l.Parts {
			if l.Insulation && len(l.Parts) > 1 && p.Metal && p.Fraction > 0 {
				out = append(out, fmt.Sprintf("metal bridges the insulation in %q", l.Name))
			}
		}
	}
	return out
}

// fractionTolerance allows fractions written to a few digits.
const fractionTolerance = 1e-6

func (e Element) check() error {
	ok := func(r Resistance) bool { return r >= 0 && !math.IsInf(float64(r), 1) }
	if !ok(e.Films.Inside) || !ok(e.Films.Outside) || e.Films.Inside+e.Films.Outside <= 0 {
		return fmt.Errorf("surface resistances %v and %v: %w", float64(e.Films.Inside), float64(e.Films.Outside), ErrRange)
	}
	grids := map[string]Layer{}
	for _, l := range e.Layers {
		var sum float64
		for _, p := range l.Parts {
			if !ok(p.R) || p.R == 0 && len(l.Parts) > 1 {
				return fmt.Errorf("layer %q: resistance %v: %w", l.Name, float64(p.R), ErrRange)
			}
			if !(p.Fraction >= 0) {
				return fmt.Errorf("layer %q: fraction %v: %w", l.Name, float64(p.Fraction), ErrRange)
			}
			sum += float64(p.Fraction)
		}
		if !(math.Abs(sum-1) <= fractionTolerance) {
			return fmt.Errorf("layer %q: fractions sum to %v, not to 1: %w", l.Name, sum, ErrRange)
		}
		if first, seen := grids[l.Grid]; seen && l.Grid != "" && !sameFractions(first, l) {
			return fmt.Errorf("layers %q and %q share the grid %q but not its fractions: %w", first.Name, l.Name, l.Grid, ErrRange)
		}
		grids[l.Grid] = l
	}
	return nil
}

func sameFractions(a, b Layer) bool {
	if len(a.Parts) != len(b.Parts) {
		return false
	}
	for i, p := range a.Parts {
		if math.Abs(float64(p.Fraction-b.Parts[i].Fraction)) > fractionTolerance {
			return false
		}
	}
	return true
}
