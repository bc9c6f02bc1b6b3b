package junction

import (
	"math"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// penetration gives the record of the i-th penetration of a surface; none for a box or luminaire that sits in the service
// cavity, which is noted instead.
func penetration(s *surface.Surface, i int, found *diag.List) []Record {
	p := s.Penetrations[i]
	r := at(s, string(p.ID), PenetrationAt)
	r.Item, r.Object, r.Pos = p.Item, string(p.ID), p.Pos
	r.Substrate = s.Face.Substrate
	r.Diameter, r.Width, r.Height = p.Diameter, p.Width.Metres(), p.Penetration.Height.Metres()
	r.Perimeter = itemGirth(p.Penetration)
	r.Count, r.Cables = max(1, p.Count), max(1, p.Cables)
	// An unknown flue is hot until a licensed person has signed otherwise.
	r.Hot = p.Hot || p.Item == "flue"
	switch p.Item {
	case "luminaire", "back-box":
		if s.Face.Cavity > 0 && r.Layer != job.Plaster {
			found.Notef(p.Pos, r.ID, "%s stays inside the %d mm service cavity of %s and must not be deeper", r.ID,
				s.Face.Cavity, s.ID)
			return nil
		}
		r.Edge = Recess
	case "bracket":
		r.Edge = Fixing
	default:
		r.Spacing = spacing(s, i)
		if r.Cables > 1 && r.Spacing >= singleCables {
			r.Count, r.Cables = r.Count*r.Cables, 1
		}
	}
	return []Record{r}
}

// singleCables is the clear distance from which cables are sealed one by one (amendments of the trade specification, 18).
const singleCables q.MM = 60

// itemGirth gives the perimeter of one item where the layer meets it.
func itemGirth(p *job.Penetration) q.Length {
	if p.Diameter > 0 {
		return q.Length(math.Pi * float64(p.Diameter) / 1000)
	}
	return girth(p.Width, p.Height)
}

// spacing gives the clear distance to the next penetration: as stated, none inside a bundle, else as placed; 1000 mm
// where nothing is nearer.
func spacing(s *surface.Surface, i int) q.MM {
	p := s.Penetrations[i]
	if p.Spacing > 0 {
		return p.Spacing
	}
	if p.Cables > 1 {
		return 0
	}
	least := 1000.0
	for j, o := range s.Penetrations {
		if j == i || o.Item == "luminaire" || o.Item == "back-box" || o.Item == "bracket" {
			continue
		}
		apart := math.Hypot(float64(o.At.X-p.At.X), float64(o.At.Y-p.At.Y)) - radius(p.Penetration) - radius(o.Penetration)
		least = min(least, max(0, apart))
	}
	return q.MM(least) // whole millimetres below: a gap just short of the rule must not pass it
}

// radius gives the half width an item takes from the surface, the larger way for a rectangular one.
func radius(p *job.Penetration) float64 {
	return float64(max(p.Diameter, p.Width, p.Height)) / 2
}
