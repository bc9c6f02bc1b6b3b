package junction

import (
	"lapwork/generator/calc/movement"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// HeadFold is the stress-relief fold at the head of a wall: the timber that dries there and what the engineer states.
type HeadFold struct {
	movement.Fold
	Deflection q.MM            // from the engineer
	Timber     *job.CrossGrain // nil: none stated
}

// acrossTheGrain is the mean coefficient of softwood.
const acrossTheGrain movement.Coefficient = 0.0025

// acrossSource is where it stands.
func acrossSource() q.Source {
	return q.Source{Text: "0.0025 per % across the grain of softwood, EN 1995-1-1 national annex", Status: q.FromMemory}
}

// headFold sizes the fold between the sheet of a wall and what lies on its head; nil where nothing moves.
func headFold(a, b *surface.Surface, found *diag.List) *HeadFold {
	if b == nil {
		return nil
	}
	for _, pair := range [][2]*surface.Surface{{a, b}, {b, a}} {
		over := pair[1].Role == surface.Slope || pair[1].Role == surface.Ceiling
		if w := statedWall(pair[0]); w != nil && over && (w.MovementMM > 0 || w.Timber != nil) {
			return sizeFold(w, found)
		}
	}
	return nil
}

func sizeFold(w *job.Wall, found *diag.List) *HeadFold {
	joint := movement.Joint{Deflection: w.MovementMM}
	if t := w.Timber; t != nil {
		joint.Pieces = []movement.Piece{{Name: "timber at the head", Dimension: t.Depth, Coefficient: acrossTheGrain,
			From: movement.Moisture(t.From), To: movement.Moisture(t.To), Source: acrossSource()}}
	}
	fold, err := joint.Size()
	if err != nil {
		found.Faultf(w.Pos, "check movement and timber-at-head", "the fold at the wall's head cannot be sized: %v", err)
		return nil
	}
	if fold.Movement == 0 {
		return nil
	}
	return &HeadFold{Fold: fold, Deflection: w.MovementMM, Timber: w.Timber}
}
