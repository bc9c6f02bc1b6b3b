package drawing

import (
	"fmt"
	"slices"
)

// Problem is something wrong with a section as drawn. Frame and Part count from 0; Part is -1 when it is about the frame.
type Problem struct {
	Frame, Part int
	Msg, Hint   string
}

// String gives the problem in one line.
func (p Problem) String() string {
	return fmt.Sprintf("frame %d, part %d: %s (%s)", p.Frame+1, p.Part+1, p.Msg, p.Hint)
}

const (
	farMove   = 48.0 // a label that had to go farther than this should be given another place
	smallest  = 3.0  // pixels a solid must measure each way to be seen
	shortest  = 6.0  // pixels a line must measure to be seen
	shortTick = 10.0 // pixels a dimension must measure between its ticks
)

// Check draws the section and reports what its author should change: labels without room, text over text or outside the
// frame, parts too small to see, parts without what they need.
func Check(s Section) []Problem {
	b, frames := s.layout()
	if frames == nil {
		return []Problem{{-1, -1, "the section has no size or no frame", "give width, height and at least one frame"}}
	}
	var out []Problem
	for _, f := range frames {
		if len(f.Parts) == 0 {
			out = append(out, Problem{f.no, -1, "the frame is empty", "add parts or drop the frame"})
		}
		for i, p := range f.Parts {
			if msg, hint := f.wrong(p); msg != "" {
				out = append(out, Problem{f.no, i, msg, hint})
			}
		}
		out = append(out, f.labelProblems()...)
	}
	for i, t := range b.texts {
		for _, u := range b.texts[i+1:] {
			if t.Overlaps(u) {
				out = append(out, Problem{-1, -1, "two texts overlap", "give the labels more room"})
			}
		}
	}
	return out
}

func (f *placedFrame) labelProblems() []Problem {
	var out []Problem
	for _, m := range f.moves {
		text := f.Parts[m.part].Text
		switch {
		case !f.box.grow(1).Holds(m.box):
			out = append(out, Problem{f.no, m.part, fmt.Sprintf("%s %q does not fit into the frame", f.Parts[m.part].Kind, text), "shorten it or make the section larger"})
		case m.far > farMove:
			out = append(out, Problem{f.no, m.part, fmt.Sprintf("%s %q had to move %.0f mm away", f.Parts[m.part].Kind, text, m.far/f.scale.k),
				fmt.Sprintf("place it near %.0f, %.0f, where there is room", (m.box.middle().X-f.box.X0)/f.scale.k, (f.box.Y1-m.box.middle().Y)/f.scale.k)})
		}
	}
	return out
}

// wrong tells what is wrong with a part by itself.
func (f *placedFrame) wrong(p Part) (msg, hint string) {
	least, known := needs()[p.Kind]
	if !known {
		return fmt.Sprintf("unknown kind %q", p.Kind), "see the list of part kinds"
	}
	if len(p.Path) < least {
		return fmt.Sprintf("%s has %d points, needs %d", p.Kind, len(p.Path), least), "complete its path"
	}
	points := f.scale.pts(p.Path)
	size := boundsOf(points)
	switch p.Kind {
	case Solid:
		if p.Material != "" && !slices.Contains(Materials(), p.Material) {
			return fmt.Sprintf("unknown material %q", p.Material), "see the list of materials"
		}
		if size.width() < smallest || size.height() < smallest {
			return fmt.Sprintf("solid %q is thinner than %.0f px as shown", p.Name, smallest), "show a smaller piece or draw it thicker than it is"
		}
	case Sheet, Tape, Adhesive, Primer, Collar, Membrane, Screw:
		if size.width()+size.height() < shortest {
			return fmt.Sprintf("%s is shorter than %.0f px as shown", p.Kind, shortest), "show a smaller piece or draw it longer than it is"
		}
	case Dimension:
		if dist(points[0], points[1]) < shortTick {
			return fmt.Sprintf("dimension %q is shorter than %.0f px as shown", p.Text, shortTick), "show a smaller piece"
		}
	case Label:
		if p.Text == "" {
			return "label without text", "give its text"
		}
	case Number:
		if p.Step < 1 {
			return "number without a step", "give the step it belongs to, from 1"
		}
	}
	if !f.box.grow(1).Overlaps(size.grow(1)) {
		return fmt.Sprintf("%s lies outside the frame", p.Kind), "coordinates run from 0, 0 at the lower left to width, height"
	}
	return "", ""
}

// needs gives the least number of points of each kind of part.
func needs() map[PartKind]int {
	return map[PartKind]int{Solid: 3, Sheet: 2, Tape: 2, Bead: 1, Adhesive: 2, Primer: 2, Fold: 1, Staple: 1, Screw: 2, Collar: 2,
		Membrane: 2, Dimension: 2, Label: 1, Number: 1}
}

// Numbers lists the steps a section points at, in order, each once.
func Numbers(s Section) []int {
	var out []int
	for _, f := range s.Frames {
		for _, p := range f.Parts {
			if p.Kind == Number {
				out = append(out, p.Step)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
