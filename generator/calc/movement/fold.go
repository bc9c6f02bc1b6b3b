package movement

import (
	"fmt"
	"math"

	q "lapwork/generator/quantity"
)

// Piece is a part of a joint that moves with its moisture, measured in the direction of the movement.
type Piece struct {
	Name        string
	Dimension   q.MM
	Coefficient Coefficient
	Shrinkage   Shrinkage // 0: not known, the coefficient serves
	Saturation  Moisture  // fibre saturation; 0: the usual 30 %
	From, To    Moisture  // as fitted, and the other end of what it will see
	Source      q.Source  // of the coefficient or shrinkage
}

// change is the movement of one piece by the better formula for its range.
func (p Piece) change() (Change, error) {
	inside := min(p.From, p.To) >= CoefficientFrom && max(p.From, p.To) <= CoefficientTo
	if p.Shrinkage > 0 && (!inside || p.Coefficient == 0) {
		fsp := p.Saturation
		if fsp == 0 {
			fsp = FibreSaturation
		}
		return ByShrinkage(p.Dimension.Metres(), p.Shrinkage, p.From, p.To, fsp)
	}
	change, _, err := ByCoefficient(p.Dimension.Metres(), p.Coefficient, p.From, p.To)
	return change, err
}

// Joint is what a fold has to absorb.
type Joint struct {
	Pieces     []Piece // in series: their movements add
	Deflection q.MM    // the structural movement the engineer states, either way, ≥ 0
	Tolerance  q.MM    // of building, ≥ 0
}

// Fold is the fold sized for a joint.
type Fold struct {
	Timber   Change // of all pieces together, swelling positive
	Movement q.MM   // the greatest movement to absorb: |timber| + deflection + tolerance, up to the next mm
	Loop     q.MM   // sheet in the loop: 2·movement + 20 mm, never below the usual fold
	Source   q.Source
	Pieces   []Change
}

// The allowance of a fold. The rule of the trade is a loop of twice the movement and 20 mm; without movement 20 mm is
// usual, 15 to 30 mm.
const (
	loopFactor         = 2
	UsualFold     q.MM = 20
	loopAllowance q.MM = 20
)

// Size sizes the stress-relief fold at a joint: cross-grain movement of the pieces in series, deflection and tolerance
// each added in full, since they can come together. The loop from it is common practice, no source. Without any
// movement the loop is the usual fold.
func (j Joint) Size() (Fold, error) {
	const most = 1000 // mm; beyond it a sheet joint is not the answer
	if j.Deflection < 0 || j.Tolerance < 0 || j.Deflection > most || j.Tolerance > most {
		return Fold{}, fmt.Errorf("deflection %d mm, tolerance %d mm: %w (0 to %d mm)", j.Deflection, j.Tolerance, ErrRange, most)
	}
	f := Fold{Source: q.Source{Text: "loop = 2 × movement + 20 mm: no source", Status: q.CommonPractice}}
	var swell, shrink Change
	for _, p := range j.Pieces {
		c, err := p.change()
		if err != nil {
			return Fold{}, fmt.Errorf("%s: %w", p.Name, err)
		}
		f.Pieces = append(f.Pieces, c)
		f.Timber += c
		swell, shrink = swell+max(c, 0), shrink+max(-c, 0)
		f.Source.Status = f.Source.Status.Weaker(p.Source.Status)
	}
	// Pieces that swell and others that shrink need not do so at the same time: the larger side counts.
	timber := max(swell, shrink)
	f.Movement = q.MM(math.Ceil(float64(timber)*1000-1e-9)) + j.Deflection + j.Tolerance
	f.Loop = UsualFold
	if f.Movement > 0 {
		f.Loop = loopFactor*f.Movement + loopAllowance
	}
	return f, nil
}
