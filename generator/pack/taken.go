package pack

import (
	"cmp"
	"fmt"
	"strconv"

	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// TimeRow is time that a kind of work took in a room, beside what was planned for it.
type TimeRow struct{ Room, What, Places, Minutes, Planned, Who, When string }

// timedRooms are the rooms that time is taken in.
func (a *assembler) timedRooms() []Term {
	var out []Term
	for _, room := range a.Job.Rooms {
		if a.HasLayer(room.ID) {
			out = append(out, Term{string(room.ID), room.Name})
		}
	}
	return out
}

// timedKinds are the kinds of work of the job, by title.
func (a *assembler) timedKinds() []Term {
	var out []Term
	for id, places := range a.used {
		out = append(out, Term{string(id), places[0].Chosen.Statement.Title})
	}
	sorting.Func(out, func(x, y Term) int { return cmp.Or(cmp.Compare(x.Text, y.Text), cmp.Compare(x.Name, y.Name)) })
	return out
}

// timeRows are the times that were taken, oldest first.
func (a *assembler) timeRows() []TimeRow {
	var out []TimeRow
	for _, r := range a.site().taken {
		id, minutes := library.StatementID(r.Fields["kind"]), 0.0
		row := TimeRow{Room: r.Place, What: string(id), Places: r.Fields["places"], Planned: a.say("not planned"), Who: r.Who, When: day(r.At)}
		minutes, _ = strconv.ParseFloat(r.Value, 64) // the record's form has been checked
		row.Minutes = a.format.Minutes(q.Minutes(minutes))
		if s := a.Library.Statement(id); s != nil {
			row.What = s.Title
		}
		some, _ := strconv.Atoi(r.Fields["places"])
		if all := a.PlannedFor(job.RoomID(r.Place), id); all.Places > 0 {
			of := all.Of(some)
			row.Planned = a.say("%s for %d of %d", a.format.Minutes(of.Minutes), of.Places, all.Places)
			row.Places = fmt.Sprint(of.Places)
		}
		out = append(out, row)
	}
	return out
}
