package generator_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/jobfile"
	"lapwork/generator/surface"
	"lapwork/generator/survey"
)

// gabled is the body of a room under two slopes of different height and a flat ceiling where they are high.
func gabled(long, wide, kneeA, kneeB, ridge, at float64) []survey.Poly {
	p := func(x, y, z float64) survey.Vec { return survey.Vec{X: x, Y: y, Z: z} }
	y := wide * at
	return []survey.Poly{
		{Loop: []survey.Vec{p(0, 0, 0), p(0, wide, 0), p(long, wide, 0), p(long, 0, 0)}},
		{Loop: []survey.Vec{p(0, 0, 0), p(long, 0, 0), p(long, 0, kneeA), p(0, 0, kneeA)}},
		{Loop: []survey.Vec{p(long, wide, 0), p(0, wide, 0), p(0, wide, kneeB), p(long, wide, kneeB)}},
		{Loop: []survey.Vec{p(0, 0, kneeA), p(long, 0, kneeA), p(long, y, ridge), p(0, y, ridge)}},
		{Loop: []survey.Vec{p(long, wide, kneeB), p(0, wide, kneeB), p(0, y, ridge), p(long, y, ridge)}},
		{Loop: []survey.Vec{p(long, 0, 0), p(long, wide, 0), p(long, wide, kneeB), p(long, y, ridge), p(long, 0, kneeA)}},
		{Loop: []survey.Vec{p(0, wide, 0), p(0, 0, 0), p(0, 0, kneeA), p(0, y, ridge), p(0, wide, kneeB)}},
	}
}

// What a survey writes is a job without faults down to the openings on their surfaces, whatever stands in the file: openings
// that reach over their wall, lie on each other or outside of everything, names that YAML would take for something else.
func TestSurveyWritesNoFault(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		metres := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		long, wide := metres(1, 12, "long"), metres(1, 12, "wide")
		kneeA, kneeB := metres(0, 3, "kneeA"), metres(0, 3, "kneeB")
		ridge := max(kneeA, kneeB) + metres(0.5, 4, "rise")
		body := gabled(long, wide, kneeA, kneeB, ridge, metres(0.1, 0.9, "at"))
		sp := &survey.Space{ID: "s", Name: rapid.String().Draw(t, "name"), Body: body, Heated: survey.IsHeated}
		b := &survey.Building{Source: survey.Source{Name: "law.xml", Format: "gbXML"}, Name: rapid.String().Draw(t, "building"), Spaces: []*survey.Space{sp}}
		for i, p := range body {
			f := &survey.Face{ID: fmt.Sprint(i), Kind: "k", Poly: p, Spaces: []*survey.Space{sp}, Behind: job.Outside}
			o, u := p.Loop[0], p.Loop[1].Minus(p.Loop[0])
			v := p.Loop[len(p.Loop)-1].Minus(p.Loop[0])
			for k := range rapid.IntRange(0, 3).Draw(t, "openings") {
				at := func(x, y float64) survey.Vec { return o.Plus(u.Times(x)).Plus(v.Times(y)) }
				x0, y0, x1, y1 := metres(-0.3, 1.3, "x0"), metres(-0.3, 1.3, "y0"), metres(-0.3, 1.3, "x1"), metres(-0.3, 1.3, "y1")
				f.Openings = append(f.Openings, &survey.Opening{ID: fmt.Sprintf("%d-%d", i, k), As: "window", Loop: []survey.Vec{at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)}})
			}
			b.Faces = append(b.Faces, f)
		}
		s := survey.Take(b, survey.Limits{})
		if s.Found.Err() != nil {
			return
		}
		var found diag.List
		j := jobfile.Read(folder(s.Write(nil)), ".", jobfile.Known{}, &found)
		if j != nil && found.Err() == nil {
			surface.Derive(j, &found)
		}
		if err := found.Err(); err != nil {
			t.Fatal(err)
		}
	})
}
