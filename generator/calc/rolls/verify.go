package rolls

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Verify checks a plan against its instance from scratch: every roll holds its pieces, every strip is cut exactly once
// (whole, or of the two pieces of one of its splits), the supply is kept, the costs add up, the bound is not above the
// cost. It knows nothing of how the plan was found.
func Verify(in Instance, p Plan) error {
	cost, err := verifyRolls(in, p)
	if err != nil {
		return err
	}
	cost += int64(len(p.Joints)) * in.JointCost
	switch {
	case cost != p.Cost:
		return fmt.Errorf("the plan states a cost of %d, its rolls and joints cost %d", p.Cost, cost)
	case p.Bound > p.Cost || p.Bound < 0:
		return fmt.Errorf("the plan states the bound %d for the cost %d", p.Bound, p.Cost)
	}
	return verifyPieces(in, p)
}

// verifyRolls checks each roll by itself and gives their cost.
func verifyRolls(in Instance, p Plan) (int64, error) {
	left := map[Roll]int{}
	for _, r := range in.Rolls {
		left[Roll{Name: r.Name, Length: r.Length, Cost: r.Cost}] = r.Supply
	}
	cost := int64(0)
	for n, c := range p.Cuts {
		key := Roll{Name: c.Roll, Length: c.Length, Cost: c.Cost}
		supply, known := left[key]
		switch {
		case !known:
			return 0, fmt.Errorf("roll %d: no type %q of %d mm for %d", n+1, c.Roll, c.Length, c.Cost)
		case supply == 0:
			return 0, fmt.Errorf("roll %d: more of %q than there are", n+1, c.Roll)
		case supply > 0:
			left[key]--
		}
		rest := c.Length
		for _, piece := range c.Pieces {
			if piece.Length <= 0 {
				return 0, fmt.Errorf("roll %d: a piece of %d mm", n+1, piece.Length)
			}
			rest -= piece.Length
		}
		if rest < 0 || rest != c.Remainder || len(c.Pieces) == 0 {
			return 0, fmt.Errorf("roll %d: %d pieces leave %d mm, stated %d", n+1, len(c.Pieces), rest, c.Remainder)
		}
		cost += c.Cost
	}
	return cost, nil
}

// strip names a strip, or a strip together with its joint.
type strip struct {
	id     string
	length q.MM
}

// verifyPieces checks that the pieces are the strips.
func verifyPieces(in Instance, p Plan) error {
	open := map[strip]int{}
	may := map[strip]map[Split]bool{}
	for _, d := range in.Demands {
		for n := range d.Count {
			s := strip{length: d.Length}
			if len(d.IDs) > 0 {
				s.id = d.IDs[n]
			}
			open[s]++
			if may[s] == nil {
				may[s] = map[Split]bool{}
			}
			for _, sp := range d.Splits {
				may[s][sp] = true
			}
		}
	}
	parts := map[Piece]int{}
	for _, j := range p.Joints {
		s := strip{j.ID, j.Length}
		if !may[s][j.Split] {
			return fmt.Errorf("strip %s of %d mm may not be joined of %d and %d mm", j.ID, j.Length, j.Split.A, j.Split.B)
		}
		open[s]--
		parts[Piece{j.ID, j.Split.A, First}]++
		parts[Piece{j.ID, j.Split.B, Second}]++
	}
	for _, c := range p.Cuts {
		for _, piece := range c.Pieces {
			if piece.Part == Whole {
				open[strip{piece.ID, piece.Length}]--
			} else {
				parts[piece]--
			}
		}
	}
	return allCut(open, parts)
}

func allCut(open map[strip]int, parts map[Piece]int) error {
	for s, n := range open {
		if n != 0 {
			return fmt.Errorf("strip %s of %d mm: %d too few (negative: too many)", s.id, s.length, n)
		}
	}
	for piece, n := range parts {
		if n != 0 {
			return fmt.Errorf("piece of strip %s of %d mm: %d too few (negative: too many)", piece.ID, piece.Length, n)
		}
	}
	return nil
}
