package pack

import (
	"strconv"

	"lapwork/generator/assess"
)

// leadToWork lets the rows of junctions of rooms and surfaces lead to the activity that does them, which may stand on the page
// of a later phase. Only an activity that is led to has an anchor, since every one of them weighs.
func (a *assembler) leadToWork(pages []Page) {
	done := map[string]doneAt{}
	for i := range pages {
		room, acts := pages[i].activities()
		for j := range acts {
			done[room+"/"+acts[j].Name] = doneAt{pages[i].Path, &acts[j]}
		}
	}
	for i := range pages {
		for _, rows := range pages[i].junctionRows() {
			for j := range rows {
				row := &rows[j]
				if p := a.Place(row.ID); p != nil && p.Chosen.Statement != nil {
					row.Work = a.anchored(done[row.Room+"/"+p.Chosen.Activity], pages[i].Path)
				}
			}
		}
	}
}

// doneAt is where an activity stands.
type doneAt struct {
	page string
	act  *Activity // nil: on no page
}

// anchored gives the link to an activity from a page.
func (a *assembler) anchored(at doneAt, from string) string {
	if at.act == nil {
		return ""
	}
	if at.act.Anchor == "" {
		at.act.Anchor = "a" + strconv.Itoa(a.Library.Activities.Find(at.act.Name).Position)
	}
	if at.page == from {
		return "#" + at.act.Anchor
	}
	return at.page + "#" + at.act.Anchor
}

// activities are those of a page with the room they are done in.
func (p *Page) activities() (room string, acts []Activity) {
	switch {
	case p.Room != nil:
		return p.Room.ID, p.Room.Activities
	case p.Phase != nil:
		return p.Phase.Room, p.Phase.Activities
	}
	return "", nil
}

// junctionRows are the rows of a page that lead to their work.
func (p *Page) junctionRows() [][]JunctionRow {
	switch {
	case p.Room != nil:
		return [][]JunctionRow{p.Room.Junctions, p.Room.Holes}
	case p.Surface != nil:
		return [][]JunctionRow{p.Surface.Junctions, p.Surface.Holes}
	}
	return nil
}

// rowAgain is the row of a place on a page beside its room's own, where links that mean it lead.
func (a *assembler) rowAgain(p *assess.Place) JunctionRow {
	row := a.junctionRow(p)
	row.Again = true
	return row
}
