package pack

import (
	"fmt"

	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// screwMargin is what a fixing must stay short of the layer (common practice, no source).
const screwMargin q.MM = 5

// longestScrew is how long a fixing into a surface may be and how that comes about; false where no layer lies behind a
// lining.
func longestScrew(s *surface.Surface) (depth q.MM, how string, ok bool) {
	if !s.CarriesSheet || s.Face.Lining == 0 {
		return 0, "", false
	}
	return max(0, s.Face.Lining+s.Face.Cavity-screwMargin), fmt.Sprintf("%d + %d − %d mm", s.Face.Lining, s.Face.Cavity, screwMargin), true
}

// screwRows is the boarders' row of a surface: none where it carries no layer. A surface without a stated lining has no
// figure and says so.
func (a *assembler) screwRows(s *surface.Surface) []ScrewRow {
	if !s.CarriesSheet {
		return nil
	}
	row := ScrewRow{Room: string(s.Room.ID), Surface: string(s.ID), What: a.roleWord(s), Path: roomPath(s.Room.ID), Longest: a.say("ask"), How: a.say("no lining is stated")}
	if depth, how, ok := longestScrew(s); ok {
		row.Longest, row.How = a.format.MM(depth), how
	}
	if a.LayoutOf(s.ID) != nil {
		row.Path = surfacePath(s.ID)
	}
	return []ScrewRow{row}
}
