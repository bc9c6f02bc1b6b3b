package pack

import (
	"strconv"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/job"
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

// leadToItems lets notes lead to what they are about.
func (a *assembler) leadToItems(notes []Note) []Note {
	for i := range notes {
		notes[i].Path = a.itemPath(notes[i].Item)
	}
	return notes
}

// itemPath is where what a note is about is shown: the row of a place, the moisture of a build-up, else the room whose id it
// begins with. Empty: on no page of its own.
func (a *assembler) itemPath(item string) string {
	if p := a.Place(item); p != nil {
		return roomPath(p.Record.Room.ID) + "#" + item
	}
	for _, c := range a.Results.Moisture.Checks {
		if string(c.BuildUp.ID) == item {
			return moisturePath(c.BuildUp.ID)
		}
	}
	if room, _, _ := strings.Cut(item, "-"); !strings.Contains(item, ",") && a.HasLayer(job.RoomID(room)) {
		return roomPath(job.RoomID(room))
	}
	return ""
}

// placeLinks are places with their rows.
func (a *assembler) placeLinks(ids []string) []Link {
	links := make([]Link, len(ids))
	for i, id := range ids {
		links[i] = Link{Text: id, Path: a.itemPath(id)}
	}
	return links
}
