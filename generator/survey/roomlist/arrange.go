package roomlist

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
)

// order sorts storeys by their levels, else by their names, and gives levels to those that state none.
func (r *reader) order() {
	ranked := true
	for _, s := range r.storeys {
		_, ok := rankOf(s.Name)
		ranked = ranked && ok
	}
	if ranked && len(r.levels) == 0 {
		slices.SortStableFunc(r.storeys, func(a, b *survey.Storey) int {
			x, _ := rankOf(a.Name)
			y, _ := rankOf(b.Name)
			return cmp.Compare(x, y)
		})
	}
	if len(r.levels) < len(r.storeys) && len(r.storeys) > 0 {
		for k, s := range r.storeys {
			if !r.levels[s] {
				s.Level = q.Length(float64(k) * storeyHigh)
			}
		}
		if len(r.storeys) > 1 {
			var names []string
			for _, s := range r.storeys {
				names = append(names, s.Name)
			}
			r.b.Guessed = append(r.b.Guessed, survey.Say("storeys state no level; from the lowest up, %.0f m apart: %s", storeyHigh, strings.Join(names, ", ")))
		}
	}
	r.b.Storeys = r.storeys
}

// arrange lays the rooms of each storey in rows: the list does not say where they are.
func (r *reader) arrange() {
	type row struct{ x, y, deep float64 }
	at := map[*survey.Storey]*row{}
	for _, sp := range r.b.Spaces {
		p := at[sp.Storey]
		if p == nil {
			p = &row{}
			at[sp.Storey] = p
		}
		c := sp.Shape.Corners
		a, b := c[2].X, c[2].Y
		if p.x > 0 && p.x+a > rowWide {
			p.x, p.y, p.deep = 0, p.y+p.deep+between, 0
		}
		sp.Shape.Corners = []survey.Vec{{X: p.x, Y: p.y}, {X: p.x + a, Y: p.y}, {X: p.x + a, Y: p.y + b}, {X: p.x, Y: p.y + b}}
		p.x, p.deep = p.x+a+between, max(p.deep, b)
	}
}

// sum says what was assumed.
func (r *reader) sum() {
	r.b.Guessed = append(r.b.Guessed, survey.Say("the list does not say where rooms lie; they were laid in rows beside each other"))
	if r.square > 0 {
		how := survey.Say("squares")
		if r.column(ratio) >= 0 {
			how = survey.Say("rectangles by the ratio of their sides")
		}
		r.b.Guessed = append(r.b.Guessed, survey.Say("rows that state an area but no sides: %d; their rooms are %s of that area", r.square, how))
	}
	if r.girth > 0 {
		r.b.Guessed = append(r.b.Guessed, survey.Say("rows that state area and perimeter but no sides: %d; their rooms are rectangles of both, whatever corners they have", r.girth))
	}
	r.b.Guessed = append(r.b.Guessed, survey.Say("the list names no windows, doors, pipes or cables; its rooms have none until somebody adds them to the job"))
	if n := len(r.twice); n > 0 {
		r.b.Found.Openf(diag.Pos{File: r.file}, "", "delete what stands twice, or number the rooms apart", "rows that name a room of an earlier row: %d; each was taken as a room of its own (row %s)", n, few(r.twice))
	}
	if n := len(r.noHigh); n > 0 {
		r.b.Found.Openf(diag.Pos{File: r.file}, "", "state their heights", "rows without a height: %d; the usual height was taken (%s)", n, few(r.noHigh))
		r.b.Assumed = append(r.b.Assumed, survey.Say("rows without a height: %d; the usual height was taken (%s)", n, few(r.noHigh)))
	}
}

// few names the first of a list.
func few(names []string) string {
	const most = 6
	if len(names) > most {
		names = append(slices.Clone(names[:most]), "…")
	}
	return strings.Join(names, ", ")
}
