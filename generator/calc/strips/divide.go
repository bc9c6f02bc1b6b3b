package strips

import (
	"cmp"
	"slices"

	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// Place is where one piece of a layout may be made of two with an end joint: the overlap lies centred on At.
type Place struct {
	Strip, Piece  int  // the strip's number, from 1; the piece's place in it, from 0
	At            q.MM // along the strip
	First, Second q.MM // cut lengths of the two, together longer than the whole piece by the end-joint lap
	Tape          q.Length
}

// Places lists where the pieces of a layout of p may be divided: on the backing for end joints, on whole pieces of strips
// without end joints, both new pieces at least that long. In the order of strips, pieces and positions. It asks for the
// positions in JointAt; JointAnywhere adds none.
func Places(p Problem, l Layout, least q.MM) ([]Place, error) {
	s, err := newSearch(p, LeastLength())
	if err != nil {
		return nil, err
	}
	if p.EndJointLap == 0 {
		return nil, nil
	}
	var out []Place
	for _, strip := range l.Strips {
		if len(strip.Joints) > 0 {
			continue
		}
		for i, one := range s.lay(strip.At).pieces {
			for _, u := range s.jointAt {
				if at, ok := s.divided(one, u, strip.At, least); ok {
					at.Strip, at.Piece = strip.No, i
					out = append(out, at)
				}
			}
		}
	}
	return out, nil
}

// divided is a piece cut at u, if both parts are long enough and the joint lies inside the run without its allowances.
func (s *search) divided(one piece, u fine, v q.MM, least q.MM) (Place, bool) {
	half, allowance := s.mm(s.p.EndJointLap)/2, s.mm(s.p.EndAllowance)
	if u-half <= one.from+allowance || u+half >= one.to-allowance {
		return Place{}, false
	}
	at := Place{At: s.nearest(u), First: s.cut(piece{one.from, u + half}), Second: s.cut(piece{u - half, one.to}),
		Tape: s.metres(clipped(s.zone(u), s.mm(v), s.mm(v+s.p.RollWidth)))}
	return at, at.First >= least && at.Second >= least
}

// Divide gives the layout of p with pieces made of two at some of its places, at most one to a strip's piece.
func Divide(p Problem, l Layout, at []Place) Layout {
	out := l
	out.Strips = slices.Clone(l.Strips)
	at = slices.Clone(at)
	sorting.Func(at, func(a, b Place) int { return cmp.Or(a.Strip-b.Strip, b.Piece-a.Piece) }) // later pieces first: places stay
	for _, x := range at {
		i := slices.IndexFunc(out.Strips, func(s Strip) bool { return s.No == x.Strip })
		strip := &out.Strips[i]
		whole := strip.Pieces[x.Piece]
		lap := p.EndJointLap
		to := whole.From + x.First
		parts := []Piece{{whole.From, to, x.First}, {to - lap, whole.To, x.Second}}
		strip.Pieces = slices.Replace(slices.Clone(strip.Pieces), x.Piece, x.Piece+1, parts...)
		strip.Joints = append(slices.Clone(strip.Joints), Joint{x.At, x.Tape})
		sorting.Func(strip.Joints, func(a, b Joint) int { return cmp.Compare(a.At, b.At) })
		strip.JointTape += x.Tape
		more := x.First + x.Second - whole.Cut
		out.Length, out.Pieces, out.JointTape = out.Length+more, out.Pieces+1, out.JointTape+x.Tape
		added := p.RollWidth.Metres().Times(more.Metres())
		out.SheetUsed, out.OutsideDomain = out.SheetUsed+added, out.OutsideDomain+added
	}
	return out
}
