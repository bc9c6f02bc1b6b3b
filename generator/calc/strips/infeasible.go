package strips

import (
	"fmt"
	"slices"

	q "lapwork/generator/quantity"
)

// Backing is a batten or strip of board to put behind a seam or an end joint that would hang free.
type Backing struct {
	Seam   bool // behind a seam: At lies across the strips; else behind an end joint: At lies along them
	At     q.MM
	Length q.MM // as long as the seam or joint, rounded up
}

// InfeasibleError says that seams or end joints can not all lie on the backing given, and what would help.
type InfeasibleError struct {
	Seams, Joints bool      // which of the two are in the way
	Missing       []Backing // what to add; with it Backed is possible
	Backed        *Layout   // the best arrangement with Missing added: no more sheet or tape than with backing everywhere
}

// Error names the backing to add.
func (e *InfeasibleError) Error() string {
	if e.Backed == nil {
		return "no arrangement of strips is possible: no seam or end joint fits the roll width and the longest piece"
	}
	what := "no seam position lies within the roll width less the lap"
	switch {
	case e.Seams && e.Joints:
		what = "neither seams nor end joints can all lie on the backing given"
	case e.Joints:
		what = "no end-joint position lies within the longest piece"
	}
	first := e.Missing[0]
	kind := "an end joint"
	if first.Seam {
		kind = "a seam"
	}
	text := fmt.Sprintf("%s; add a backing strip of %d mm behind %s at %d mm", what, first.Length, kind, first.At)
	if more := len(e.Missing) - 1; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// infeasible finds the least that has to give: the seams' backing, the joints', or both.
func (s *search) infeasible() error {
	for _, e := range []InfeasibleError{{Seams: true}, {Joints: true}, {Seams: true, Joints: true}} {
		p := s.p
		p.JointAnywhere = p.JointAnywhere || e.Joints
		free := *s
		free.layer = &layer{p: p, d: s.d, jointAt: s.jointAt, zones: s.zones}
		free.backing = e.Seams
		at, sum, ok := free.best()
		if !ok {
			continue
		}
		backed := free.layout(at, sum)
		e.Backed = &backed
		e.Missing = s.missing(backed)
		return &e
	}
	return &InfeasibleError{}
}

// missing lists the seams and joints of a layout that lie off the backing.
func (s *search) missing(l Layout) []Backing {
	var out []Backing
	for i, strip := range l.Strips {
		if i > 0 && strip.Unsupported {
			out = append(out, Backing{true, strip.At, ceilMetres(strip.SeamTape)})
		}
		for _, j := range strip.Joints {
			if !s.p.JointAnywhere && !slices.Contains(s.jointAt, s.mm(j.At)) {
				out = append(out, Backing{false, j.At, ceilMetres(j.Tape)})
			}
		}
	}
	return out
}

// ceilMetres rounds up to the millimetre; a thousandth of one is the division's noise.
func ceilMetres(l q.Length) q.MM {
	mm := q.MM(l * 1000)
	if float64(l)*1000-float64(mm) > 0.001 {
		mm++
	}
	return mm
}
