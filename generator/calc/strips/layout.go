package strips

import q "lapwork/generator/quantity"

// Layout is the best arrangement of one problem.
type Layout struct {
	Direction Direction
	RollWidth q.MM
	Strips    []Strip // in working order

	Length    q.MM     // all pieces together, as cut
	Pieces    int      // pieces to cut
	SeamTape  q.Length // along the laps between strips
	JointTape q.Length // across the strips at end joints
	Price     int64    // by the rates asked for, rounded to the nearest unit; 0 when none were given

	SheetUsed     q.Area // roll width times Length = CoverDomain + LapInDomain + OutsideDomain
	CoverDomain   q.Area // what the sheet must cover
	LapInDomain   q.Area // covered twice by neighbouring strips
	OutsideDomain q.Area // allowances, cut-outs, oblique ends, rips
	SurfaceNet    q.Area // the outline less the holes

	MinStrips int // no arrangement has fewer strips; see Bounds
}

// Strip is one band and what is hung in it. Positions are in the surface's own coordinates, to the nearest millimetre.
type Strip struct {
	No          int      // from 1, in working order
	At          q.MM     // lower or left edge of the band; for all but the first also the seam to set out
	Useful      q.MM     // width of the band within the extent of D, rounded up; the strip may be ripped to it
	Lap         q.MM     // over the strip before, 0 for the first
	Seam        []Span   // where the seam is taped; nothing for the first
	SeamTape    q.Length // along Seam
	Pieces      []Piece  // along the strip
	Joints      []Joint  // between Pieces; stops at openings have none
	JointTape   q.Length // all Joints
	Unsupported bool     // the seam lies off the backing: only in InfeasibleError.Backed
}

// Piece is one length of sheet, allowances and overlaps included.
type Piece struct{ From, To, Cut q.MM }

// Joint is an end joint centred at At.
type Joint struct {
	At   q.MM
	Tape q.Length
}

// Span is a stretch along the strip.
type Span struct{ From, To q.MM }

// Offcut is what ripping a strip leaves over its cut length.
type Offcut struct {
	Strip         int // its number
	Width, Length q.MM
}

// Tape is all tape, seams and end joints.
func (l Layout) Tape() q.Length { return l.SeamTape + l.JointTape }

// Waste is the share of the sheet used that does not end as net surface, 0 .. 1.
func (l Layout) Waste() q.Ratio { return 1 - q.Ratio(l.SurfaceNet/l.SheetUsed) }

// Rip is the width a strip is ripped to, 0 where the whole roll width is used.
func (l Layout) Rip(s Strip) q.MM {
	if s.Useful < l.RollWidth {
		return s.Useful
	}
	return 0
}

// Offcuts lists what rips leave where it is at least this wide, in working order.
func (l Layout) Offcuts(least q.MM) []Offcut {
	var out []Offcut
	for _, s := range l.Strips {
		if w := l.RollWidth - s.Useful; w > 0 && w >= least {
			for _, p := range s.Pieces {
				out = append(out, Offcut{s.No, w, p.Cut})
			}
		}
	}
	return out
}
