package roomlist

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
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

// bad reports a cell that cannot be read, by sheet and cell.
func (r *reader) bad(i int, f field, text string, wanted survey.Said) {
	col := r.column(f)
	r.b.Found.Openf(r.pos(i, col), "", "correct the cell", "cell %s%s holds %q where %s is expected (%s); it was left out", sheetPrefix(r.name), r.cellName(i, col), clip(text), wanted, wordOf(f))
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
		r.bad(i, height, r.cell(row, height), survey.Say("a height from 0.3 to 30 m"))
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

func (r *reader) howMany(i int, row []string) int {
	text := r.cell(row, quantity)
	if text == "" {
		return 1
	}
	x, _, ok := parse(text, r.comma)
	if !ok || x != math.Round(x) || x < 0 || x > maxQuantity {
		r.bad(i, quantity, text, survey.Say("a whole number up to %d", maxQuantity))
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
