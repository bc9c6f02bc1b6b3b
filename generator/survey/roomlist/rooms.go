package roomlist

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

const (
	maxQuantity = 500  // equal rooms in one row
	rowWide     = 40.0 // metres after which rooms without place go on in a new row
	between     = 0.5  // metres between them
	storeyHigh  = 3.0  // assumed between storeys that state no level
)

// reader turns rows into spaces.
type reader struct {
	list
	b       *survey.Building
	file    string
	units   map[field]string // of columns whose cells carry none
	storeys []*survey.Storey
	levels  map[*survey.Storey]bool // level is stated
	taken   map[string]int
	square  int            // rooms whose sides were made from the area
	girth   int            // rooms whose sides were made from area and perimeter
	first   map[string]int // row that a room stood in first
	twice   []string       // rows that name a room of an earlier row
	noHigh  []string
	outer   bool
}

// pos is a cell's place: row and column of the sheet count from 1.
func (r *reader) pos(row, col int) diag.Pos {
	if r.turned {
		row, col = col, row
	}
	return diag.Pos{File: r.file, Line: row + 1, Col: col + 1}
}

// cellName is a cell as its sheet calls it: C5.
func (r *reader) cellName(row, col int) string {
	if r.turned {
		row, col = col, row
	}
	return letter(col) + strconv.Itoa(row+1)
}

func (r *reader) read() {
	r.levels, r.taken, r.first = map[*survey.Storey]bool{}, map[string]int{}, map[string]int{}
	r.b.Columns = explain(r.cols, r.name, r.turned)
	r.settleUnits()
	rows, current := 0, ""
	for i := r.header + 1; i < len(r.rows); i++ {
		row := r.rows[i]
		if lone, ok := r.groupRow(row); ok {
			current = lone
			continue
		}
		if !slices.ContainsFunc(row, func(c string) bool { return c != "" }) {
			continue
		}
		rows++
		r.row(i, row, current)
		if len(r.b.Spaces) > maxRows {
			r.b.Found.Faultf(r.pos(i, 0), "divide the list", "the list stands for more than %d rooms", maxRows)
			break
		}
	}
	r.b.Counts = []survey.Count{{Group: "row", N: rows}, {Group: "space", N: len(r.b.Spaces)}, {Group: "storey", N: len(r.storeys)}}
	r.order()
	r.arrange()
	r.sum()
}

// column of a field; −1 for none.
func (r *reader) column(f field) int {
	for _, c := range r.cols {
		if c.field == f {
			return c.at
		}
	}
	return -1
}

// cell is the text of a field in a row; empty where it states nothing.
func (r *reader) cell(row []string, f field) string {
	c := r.column(f)
	if c < 0 || c >= len(row) || blank(row[c]) {
		return ""
	}
	return strings.Join(strings.Fields(row[c]), " ")
}

// groupRow is a row with one cell only, in the first columns: the storey of the rooms below, where no column states it.
func (r *reader) groupRow(row []string) (string, bool) {
	only, n := "", 0
	for _, c := range row {
		if c != "" {
			only = c
			n++
		}
	}
	return only, n == 1 && r.column(storey) < 0 && len(row) > 0 && (row[0] != "" || len(row) > 1 && row[1] != "")
}

// powers of the fields that are measured.
var powers = map[field]int{length: 1, width: 1, height: 1, knee: 1, elevation: 1, perimeter: 1, area: 2, grossArea: 2, volume: 3}

// settleUnits finds the unit of each measured column: of its title, else by the size of its figures. Lengths of one list
// are taken to have one unit, but for heights, which are often stated apart.
func (r *reader) settleUnits() {
	r.units = map[field]string{}
	inFeet := r.inFeet()
	var said, guessed []string
	for _, c := range r.cols {
		power := powers[c.field]
		if power == 0 {
			continue
		}
		switch {
		case unitScale(c.unit, power) > 0:
			r.units[c.field] = c.unit
			said = append(said, fieldWords[c.field]+" "+c.unit)
			continue
		case inFeet:
			r.units[c.field] = [...]string{1: "ft", 2: "ft²", 3: "ft³"}[power]
		case power == 2:
			r.units[c.field] = "m²"
		case power == 3:
			r.units[c.field] = "m³"
		default:
			values := r.values(c.at)
			if len(values) == 0 {
				continue
			}
			unit, sure := guess(values)
			r.units[c.field] = unit
			if !sure {
				r.b.Found.Openf(r.pos(r.header, c.at), "", "write the unit into the title, as in \"Length (m)\"", "the unit of column %s (%s) could be another: %s was taken",
					letter(c.at), c.title, unit)
			}
		}
		if slices.ContainsFunc(r.values(c.at), func(x float64) bool { return x > 0 }) {
			guessed = append(guessed, fieldWords[c.field]+" "+r.units[c.field])
		}
	}
	r.b.Source.Units = strings.Join(append(said, guessed...), ", ")
	if len(guessed) > 0 {
		r.b.Found.Openf(r.pos(r.header, 0), "", "write the units into the titles, as in \"Height (mm)\"", "no unit is stated; by the size of the figures: %s", strings.Join(guessed, ", "))
	}
}

// inFeet reports whether the lengths of the list are feet and inches: most of those that have a unit.
func (r *reader) inFeet() bool {
	english, metric := 0, 0
	count := func(unit string) {
		switch scale := unitScale(unit, 1); {
		case scale == 0:
		case scale == 0.3048 || scale == 0.0254:
			english++
		default:
			metric++
		}
	}
	for _, c := range r.cols {
		if powers[c.field] != 1 {
			continue
		}
		count(c.unit)
		for _, row := range r.rows[r.header+1:] {
			if c.at < len(row) {
				_, unit, _ := parse(row[c.at], r.comma)
				count(unit)
			}
		}
	}
	return english > metric
}

// values are the bare figures of a column.
func (r *reader) values(col int) []float64 {
	var out []float64
	for _, row := range r.rows[r.header+1:] {
		if col < len(row) && !blank(row[col]) {
			if x, unit, ok := parse(row[col], r.comma); ok && unit == "" {
				out = append(out, x)
			}
		}
	}
	return out
}

// measure reads a figure of a row in metres, square metres, cubic metres or degrees; 0 where there is none.
func (r *reader) measure(i int, row []string, f field) float64 {
	text := r.cell(row, f)
	if text == "" {
		return 0
	}
	x, unit, ok := parse(text, r.comma)
	power := powers[f]
	if ok && unit != "" && power > 0 && unitScale(unit, power) == 0 {
		ok = false
	}
	if !ok || x < 0 && f != elevation {
		r.bad(i, f, text, "a figure")
		return 0
	}
	if unit == "" {
		unit = r.units[f]
	}
	if power == 0 {
		return x
	}
	return x * unitScale(unit, power)
}

// bad reports a cell that cannot be read, by sheet and cell.
func (r *reader) bad(i int, f field, text, wanted string) {
	col := r.column(f)
	r.b.Found.Openf(r.pos(i, col), "", "correct the cell", "cell %s%s holds %q where %s is expected (%s); it was left out", sheetPrefix(r.name), r.cellName(i, col), clip(text), wanted, fieldWords[f])
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// row makes the rooms of a row.
func (r *reader) row(i int, row []string, group string) {
	sp := survey.Space{Number: r.cell(row, number), Name: r.cell(row, name), Pos: r.pos(i, max(0, r.column(name)))}
	if sp.Name == "" && sp.Number == "" {
		r.b.Left = append(r.b.Left, survey.Left{What: fmt.Sprintf("row %d", i+1), Reason: "it names no room"})
		return
	}
	a, b := r.measure(i, row, length), r.measure(i, row, width)
	stated := r.measure(i, row, area)
	if stated == 0 {
		stated = r.measure(i, row, grossArea)
	}
	sp.Stated = survey.Stated{FloorArea: q.Area(stated), Volume: q.Volume(r.measure(i, row, volume)), Height: q.Length(r.measure(i, row, height))}
	if sp.Stated.Height == 0 && sp.Stated.Volume > 0 && stated > 0 {
		sp.Stated.Height = q.Length(float64(sp.Stated.Volume) / stated)
	}
	if a, b = r.sides(i, row, a, b, stated); a < 0.1 || b < 0.1 || a > 1000 || b > 1000 {
		r.b.Left = append(r.b.Left, survey.Left{What: fmt.Sprintf("row %d, %s", i+1, strings.TrimSpace(sp.Number+" "+sp.Name)), Reason: fmt.Sprintf("its sides would be %.2f and %.2f m", a, b)})
		r.b.Found.Notef(sp.Pos, "", "row %d (%s) states no area or sides that a room can have and was left out", i+1, strings.TrimSpace(sp.Number+" "+sp.Name))
		return
	}
	sp.Storey = r.storey(i, row, group)
	sp.Heated = yesNo(r.cell(row, heated))
	sp.WetRoom = yesNo(r.cell(row, wet)) == survey.IsHeated
	if h := float64(sp.Stated.Height); h > 0 && (h < 0.3 || h > 30) {
		r.bad(i, height, r.cell(row, height), "a height from 0.3 to 30 m")
		sp.Stated.Height = 0
	}
	sp.Shape = &survey.Shape{Corners: []survey.Vec{{}, {X: a}, {X: a, Y: b}, {Y: b}}, Height: sp.Stated.Height}
	r.slopes(i, row, sp.Shape)
	r.behind(i, row, sp.Shape)
	if sp.Stated.Height == 0 && len(sp.Shape.Slopes) == 0 {
		r.noHigh = append(r.noHigh, orWord(sp.Number, sp.Name))
	}
	r.again(i, row, sp)
	r.add(sp, r.howMany(i, row), r.cell(row, ident))
}

// again notes a row that names the room of an earlier one: by its number on the storey, or where it has none by the whole row.
func (r *reader) again(i int, row []string, sp survey.Space) {
	key := strings.Join(row, "\x00")
	if sp.Number != "" {
		key = sp.Storey.Name + "\x00" + sp.Number
	}
	if before, ok := r.first[key]; ok {
		r.twice = append(r.twice, fmt.Sprintf("%d = %d", i+1, before+1))
		return
	}
	r.first[key] = i
}

func orWord(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

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
		r.bad(i, perimeter, r.cell(row, perimeter), fmt.Sprintf("at least %.2f m round its area", 4*math.Sqrt(area)))
		r.square++
		return 1
	case over <= 0:
		over = 0
	}
	r.girth++
	return (half - math.Sqrt(over)) / (half + math.Sqrt(over))
}

func (r *reader) howMany(i int, row []string) int {
	text := r.cell(row, quantity)
	if text == "" {
		return 1
	}
	x, _, ok := parse(text, r.comma)
	if !ok || x != math.Round(x) || x < 0 || x > maxQuantity {
		r.bad(i, quantity, text, fmt.Sprintf("a whole number up to %d", maxQuantity))
		return 1
	}
	return int(x)
}

// add puts a row's rooms on the list, numbered where they are several. Ids stay the same while rows keep their names.
func (r *reader) add(sp survey.Space, n int, id string) {
	if id == "" {
		id = orWord(sp.Number, sp.Name)
	}
	for k := range n {
		c := sp
		shape := *sp.Shape
		c.Shape = &shape
		if n > 1 {
			c.Name = strings.TrimSpace(fmt.Sprintf("%s %d", c.Name, k+1))
		}
		c.ID = id
		if r.taken[id]++; r.taken[id] > 1 {
			c.ID = fmt.Sprintf("%s #%d", id, r.taken[id])
		}
		r.b.Spaces = append(r.b.Spaces, &c)
	}
}

// slopes reads pitch, height at the wall and walls of slopes.
func (r *reader) slopes(i int, row []string, shape *survey.Shape) {
	p := r.measure(i, row, pitch)
	if p == 0 {
		return
	}
	if p < 2 || p > 85 {
		r.bad(i, pitch, r.cell(row, pitch), "a pitch from 2 to 85 degrees")
		return
	}
	walls := []int{1}
	if text := r.cell(row, slopeWall); text != "" {
		var ok bool
		if walls, ok = wallList(text); !ok {
			r.bad(i, slopeWall, text, "walls by number, as 1 or 1, 3")
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
			r.bad(i, outerWalls, text, "walls by number or side, as 1, 2 or N, E")
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
		r.bad(i, f, text, "outside, ground, unheated, party or heated")
	}
	return b
}

// storey gives the storey of a row, by its name.
func (r *reader) storey(i int, row []string, group string) *survey.Storey {
	name := orWord(r.cell(row, storey), group)
	if name == "" {
		name = "Storey"
	}
	k := slices.IndexFunc(r.storeys, func(s *survey.Storey) bool { return s.Name == name })
	if k < 0 {
		k = len(r.storeys)
		r.storeys = append(r.storeys, &survey.Storey{ID: name, Name: name, Pos: r.pos(i, max(0, r.column(storey)))})
	}
	s := r.storeys[k]
	if r.cell(row, elevation) != "" && !r.levels[s] {
		s.Level, r.levels[s] = q.Length(r.measure(i, row, elevation)), true
	}
	return s
}
