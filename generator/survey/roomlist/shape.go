package roomlist

import (
	"math"
	"strings"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// sides are those stated, else those of a rectangle of the area, with the perimeter that is stated.
func (r *reader) sides(i int, row []string, a, b, area float64) (float64, float64) {
	switch {
	case a > 0 && b > 0:
		return a, b
	case area > 0 && a > 0:
		return a, area / a
	case area > 0 && b > 0:
		return area / b, b
	case area <= 0:
		return 0, 0
	}
	ratio := r.measure(i, row, ratio)
	if around := r.measure(i, row, perimeter); around > 0 {
		ratio = r.ratioOf(i, row, around, area)
	} else {
		r.square++
	}
	if ratio < 1.0/400 || ratio > 400 {
		ratio = 1
	}
	b = math.Round(math.Sqrt(area*ratio)*1000) / 1000
	if b == 0 {
		return 0, 0
	}
	return area / b, b
}

// ratioOf is the ratio of the sides, the shorter to the longer, of the rectangle with a perimeter and an area. A room of any
// shape has the walls and the floor of that rectangle. None is shorter round than a square.
func (r *reader) ratioOf(i int, row []string, around, area float64) float64 {
	const rounded = 0.99 // of figures with two digits
	half := around / 4
	over := half*half - area
	switch {
	case half*half < rounded*area:
		r.bad(i, perimeter, r.cell(row, perimeter), survey.Say("at least %.2f m round its area", 4*math.Sqrt(area)))
		r.square++
		return 1
	case over <= 0:
		over = 0
	}
	r.girth++
	return (half - math.Sqrt(over)) / (half + math.Sqrt(over))
}

// slopes reads pitch, height at the wall and walls of slopes.
func (r *reader) slopes(i int, row []string, shape *survey.Shape) {
	p := r.measure(i, row, pitch)
	if p == 0 {
		return
	}
	if p < 2 || p > 85 {
		r.bad(i, pitch, r.cell(row, pitch), survey.Say("a pitch from 2 to 85 degrees"))
		return
	}
	walls := []int{1}
	if text := r.cell(row, slopeWall); text != "" {
		var ok bool
		if walls, ok = wallList(text); !ok {
			r.bad(i, slopeWall, text, survey.Say("walls by number, as 1 or 1, 3"))
			walls = []int{1}
		}
	} else {
		r.b.Found.Openf(r.pos(i, max(0, r.column(pitch))), "", "add a column \"slope wall\"", "row %d does not say from which wall its slope rises; wall 1 was taken", i+1)
	}
	for _, w := range walls {
		shape.Slopes = append(shape.Slopes, survey.ShapeSlope{Wall: w, Height: q.Length(r.measure(i, row, knee)), Pitch: q.Degrees(math.Round(p*1000) / 1000)})
	}
}

// behind reads what lies behind walls, ceiling and floor.
func (r *reader) behind(i int, row []string, shape *survey.Shape) {
	text := r.cell(row, outerWalls)
	if c := r.column(outerWalls); c >= 0 && c < len(row) && strings.EqualFold(row[c], "none") {
		text = "0"
	}
	if text != "" {
		walls, ok := wallList(text)
		if !ok {
			r.bad(i, outerWalls, text, survey.Say("walls by number or side, as 1, 2 or N, E"))
		} else {
			r.outer = true
			shape.Walls = map[int]job.Behind{}
			for w := 1; w <= 4; w++ {
				shape.Walls[w] = job.Heated
			}
			for _, w := range walls {
				shape.Walls[w] = job.Outside
			}
		}
	}
	shape.Ceiling, shape.Floor = r.other(i, row, above), r.other(i, row, below)
}

func (r *reader) other(i int, row []string, f field) job.Behind {
	text := r.cell(row, f)
	if text == "" {
		return survey.Unknown
	}
	b, ok := behindWords[strings.ToLower(text)]
	if !ok {
		r.bad(i, f, text, survey.Say("outside, ground, unheated, party or heated"))
	}
	return b
}
