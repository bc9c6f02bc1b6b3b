package strips

import q "lapwork/generator/quantity"

// layer evaluates single strips of one problem.
type layer struct {
	p       Problem
	d       *domain
	jointAt []fine   // sorted, without repeats
	zones   [][]span // where an end joint at each of them would lie on the domain
	avoid   []fine   // joints of the strip before, where joints are staggered
	buf     []span
}

// piece is a length of sheet with its allowances and overlaps.
type piece struct{ from, to fine }

// laid is what one band needs.
type laid struct {
	pieces []piece
	joints []fine // u of end joints
	tape   fine   // of the end joints
}

// mm puts whole millimetres on the domain's unit.
func (l *layer) mm(x q.MM) fine { return fine(x) * l.d.unit }

// cut is the length a piece is cut to.
func (l *layer) cut(p piece) q.MM { return l.d.ceilMM(p.to - p.from - l.d.slack) }

// runs gives the extents the strip at v needs: the projection with gaps below the stop gap closed.
func (l *layer) runs(v q.MM) []span {
	l.buf = l.d.along(l.buf, l.mm(v), l.mm(v+l.p.RollWidth))
	out := l.buf[:0]
	for _, s := range l.buf {
		if n := len(out); n > 0 && (l.p.StopGap == 0 || s.from-out[n-1].to < l.mm(l.p.StopGap)-l.d.slack) {
			out[n-1].to = s.to
			continue
		}
		out = append(out, s)
	}
	return out
}

// seam is the tape of a strip that starts at v and laps over the one before.
func (l *layer) seam(v q.MM) fine {
	l.buf = l.d.along(l.buf, l.mm(v), l.mm(v+l.p.Lap))
	return total(l.buf)
}

// cost is what the strip at v takes without its seam; ok is false where it cannot be joined.
func (l *layer) cost(v q.MM) (c cost, ok bool) {
	allowance := 2 * l.mm(l.p.EndAllowance)
	long := l.mm(l.p.MaxPiece)
	runs := l.runs(v)
	for _, r := range runs {
		if whole := r.to - r.from + allowance; long == 0 || whole-l.d.slack <= long {
			c.length += int64(l.d.ceilMM(whole - l.d.slack))
			c.pieces++
			continue
		}
		one, ok := l.join(r, v)
		if !ok {
			return cost{}, false
		}
		for _, p := range one.pieces {
			c.length += int64(l.cut(p))
		}
		c.pieces += int64(len(one.pieces))
		c.tape += one.tape
	}
	return c, true
}

// lay works the strip at v out in full. It must be feasible.
func (l *layer) lay(v q.MM) laid {
	var out laid
	for _, r := range append([]span(nil), l.runs(v)...) {
		one, _ := l.join(r, v)
		out.pieces = append(out.pieces, one.pieces...)
		out.joints = append(out.joints, one.joints...)
		out.tape += one.tape
	}
	return out
}

// join splits a run into pieces of at most the longest one: fewest joints, then least tape, then smallest positions.
func (l *layer) join(r span, v q.MM) (laid, bool) {
	ends := piece{r.from - l.mm(l.p.EndAllowance), r.to + l.mm(l.p.EndAllowance)}
	long := l.mm(l.p.MaxPiece) + l.d.slack
	if l.p.MaxPiece == 0 || ends.to-ends.from <= long {
		return laid{pieces: []piece{ends}}, true
	}
	joints, tape, ok := l.joints(r, ends, v, long)
	if !ok {
		return laid{}, false
	}
	half := l.mm(l.p.EndJointLap) / 2
	out := laid{joints: joints, tape: tape}
	from := ends.from
	for _, s := range joints {
		out.pieces = append(out.pieces, piece{from, s + half})
		from = s - half
	}
	out.pieces = append(out.pieces, piece{from, ends.to})
	return out, true
}
