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
	AddMM, CutMM     int
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

// cutRow is one strip. Clear and cut are whole millimetres, so that what the drawing adds is one too.
func (a *assembler) cutRow(l *assess.Layout, c assess.CutPiece) CutRow {
	clear := ClearLength(l, c)
	at := a.left()[c.ID]
	row := CutRow{Strip: c.ID, Key: cutKey(c), Clear: plainMM(clear), Add: plainMM(c.Cut - clear), Cut: plainMM(c.Cut),
		AddMM: int(c.Cut - clear), CutMM: int(c.Cut), Roll: at.no, LeftMM: int(at.left), LongMM: int(at.longest)}
	row.Seal = record.Seal(row.Statement())
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
	cut := q.MM(mm) + c.Cut - clear
	row.Measured, row.NewCut = a.format.MM(q.MM(mm)), a.format.MM(cut)
	switch {
	case cut > at.longest:
		row.Warning = a.say("longer than any roll (%s): join it on a stud", a.format.MM(at.longest))
	case a.more()[at.no] > at.left:
		row.Warning = a.say("roll %s has %s left and %s more are wanted: cut from another roll", at.no, a.format.MM(at.left), a.format.MM(a.more()[at.no]))
	}
	return row
}

// longer is how much more sheet the strips measured on site take from each roll than the cutting plan has them do.
func (a *assembler) longer() map[string]q.MM {
	out := map[string]q.MM{}
	for _, l := range a.Layouts {
		for _, c := range l.Cuts {
			clear := ClearLength(l, c)
			row := CutRow{Strip: c.ID, Key: cutKey(c), Clear: plainMM(clear), Add: plainMM(c.Cut - clear), Cut: plainMM(c.Cut)}
			if r, ok := a.site().cuts[row.Key]; ok && r.Seal == record.Seal(row.Statement()) {
				mm, _ := r.ClearLength()
				out[a.left()[c.ID].no] += max(0, q.MM(mm)-clear)
			}
		}
	}
	return out
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
