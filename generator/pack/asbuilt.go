package pack

import (
	"fmt"

	"lapwork/generator/assess"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
)

// CutRow is a strip as drawn, to be measured on site: the tablet adds to the clear length measured what the drawing adds.
type CutRow struct {
	Strip            string
	Key, Seal        string
	Clear, Add, Cut  string // in words: "2400 mm"
	AddMM, CutMM     int    // what the drawing adds, and the cut of the plan as it stands
	Roll             string
	LeftMM, LongMM   int    // what the roll has left, and the longest roll of this width
	Measured, By, At string // from the records; empty: not measured
	NewCut, Warning  string
}

// Statement is what a strip is measured against.
func (c CutRow) Statement() []record.Line {
	return []record.Line{{Key: c.Key + "#strip", Text: c.Strip}, {Key: c.Key + "#clear", Text: c.Clear}, {Key: c.Key + "#add", Text: c.Add}, {Key: c.Key + "#cut", Text: c.Cut}}
}

// plainMM writes a length the same in every language: it is part of what is sealed.
func plainMM(x q.MM) string { return fmt.Sprintf("%d mm", x) }

// rollLeft is a roll of the cutting plan with what it has left.
type rollLeft struct {
	no            string
	left, longest q.MM
}

// rollsLeft gives the roll of every piece.
func (a *assembler) rollsLeft() map[string]rollLeft {
	out := map[string]rollLeft{}
	for _, d := range a.Deliveries {
		for _, s := range d.Sheets {
			longest := q.MM(0)
			for _, r := range s.Rolls {
				longest = max(longest, r.Length)
			}
			for _, b := range s.Buy {
				longest = max(longest, b.Length)
			}
			for _, r := range s.Rolls {
				for _, c := range r.Sequence() {
					out[c.ID] = rollLeft{fmt.Sprint(r.No), r.Remainder, longest}
				}
			}
		}
	}
	return out
}

// cutRows are the strips of a surface with what was measured of them.
func (a *assembler) cutRows(l *assess.Layout) []CutRow {
	var out []CutRow
	for _, c := range l.Cuts {
		out = append(out, a.cutRow(l, c))
	}
	return out
}

// drawnRow is one strip as drawn, with its seal. Clear and cut are whole millimetres, so that what the drawing adds is one too.
func drawnRow(l *assess.Layout, c assess.CutPiece) CutRow {
	clear, cut := ClearLength(l, c), c.Cut-c.Longer
	row := CutRow{Strip: c.ID, Key: cutKey(c), Clear: plainMM(clear), Add: plainMM(cut - clear), Cut: plainMM(cut), AddMM: int(cut - clear), CutMM: int(c.Cut)}
	row.Seal = record.Seal(row.Statement())
	return row
}

// cutRow is one strip with what was measured of it.
func (a *assembler) cutRow(l *assess.Layout, c assess.CutPiece) CutRow {
	row, at := drawnRow(l, c), a.left()[c.ID]
	row.Roll, row.LeftMM, row.LongMM = at.no, int(at.left), int(at.longest)
	r, ok := a.site().cuts[row.Key]
	if !ok {
		return row
	}
	row.Measured, row.By, row.At = r.Value+" mm", r.Who, day(r.At)
	if r.Seal != row.Seal {
		row.Warning = a.say("measured against another drawing: measure again")
		return row
	}
	mm, _ := r.ClearLength()
	cut := q.MM(mm + row.AddMM)
	row.Measured, row.NewCut = a.format.MM(q.MM(mm)), a.format.MM(cut)
	if cut > at.longest {
		row.Warning = a.say("longer than any roll (%s): join it on a stud", a.format.MM(at.longest))
	}
	return row
}

// Measured gives the lengths that strips are to be cut to by a job's records: the clear length as measured and what the
// drawing adds to it, where it was measured against the drawing as it stands.
func Measured(j record.Journal) assess.AsMeasured {
	site := siteOf(j)
	if len(site.cuts) == 0 {
		return nil
	}
	return func(l *assess.Layout, c assess.CutPiece) (q.MM, bool) {
		r, ok := site.cuts[cutKey(c)]
		if !ok {
			return 0, false
		}
		row := drawnRow(l, c)
		mm, _ := r.ClearLength()
		return q.MM(mm + row.AddMM), r.Seal == row.Seal
	}
}

func cutKey(c assess.CutPiece) string { return string(c.Surface.Room.ID) + "/cut/" + c.ID }

// measuredNote says beside a strip what was measured of it; empty: nothing.
func (a *assembler) measuredNote(c assess.CutPiece) string {
	l := a.LayoutOf(c.Surface.ID)
	if _, ok := a.site().cuts[cutKey(c)]; !ok || l == nil {
		return ""
	}
	row := a.cutRow(l, c)
	switch {
	case row.NewCut == "":
		return a.say("%s by %s on %s, %s", row.Measured, row.By, row.At, row.Warning)
	case row.Warning != "":
		return a.say("as measured %s: cut %s (%s, %s); %s", row.Measured, row.NewCut, row.By, row.At, row.Warning)
	}
	return a.say("as measured %s: cut %s (%s, %s)", row.Measured, row.NewCut, row.By, row.At)
}

// measured lists every strip of the job that was measured on site.
func (a *assembler) measuredStrips() []CutRow {
	var out []CutRow
	for _, l := range a.Layouts {
		for _, row := range a.cutRows(l) {
			if row.Measured != "" {
				out = append(out, row)
			}
		}
	}
	return out
}
