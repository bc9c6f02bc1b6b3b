package pack

import (
	"fmt"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
)

// cutting is the cutting plan: each roll in cutting order with its running remainder.
func (a *assembler) cutting() Page {
	v := &Cutting{}
	for _, d := range a.Deliveries {
		cd := CuttingDelivery{Name: d.Name}
		var verdicts []string
		for _, s := range d.Sheets {
			verdicts = append(verdicts, a.say("sheet %s wide, pieces: %d, rolls and leftovers: %d, %s", a.format.MM(s.Width), len(s.Pieces), len(s.Rolls), a.verdict(s)))
			if s.Reused > 0 {
				verdicts = append(verdicts, a.say("%s of %s sheet comes from the rips of other strips", a.format.Area(s.Reused), a.format.MM(s.Width)))
			}
			for _, r := range s.Rolls {
				cd.Rolls = append(cd.Rolls, a.roll(s, r))
				if r.Remainder > 0 {
					cd.Left = append(cd.Left, a.say("%s of roll %d, %s wide", a.format.MM(r.Remainder), r.No, a.format.MM(s.Width)))
				}
			}
		}
		cd.Verdict = strings.Join(verdicts, "; ")
		v.Deliveries = append(v.Deliveries, cd)
	}
	return Page{Path: "cutting.html", Kind: KindCutting, Title: a.say("Cutting plan"), Cutting: v}
}

// verdict says how good a cutting plan is. Where strips as measured stand in the plan as drawn, its proof is none any more.
func (a *assembler) verdict(s assess.SheetOrder) string {
	switch s.How {
	case assess.PlanKept, assess.PlanMended:
		return a.planState(s)
	case assess.PlanSolved:
		return joined(a.planState(s), a.proof(s))
	}
	return a.proof(s)
}

// proof says what is known about a plan's cost.
func (a *assembler) proof(s assess.SheetOrder) string {
	switch {
	case len(s.Plan.Cuts) == 0:
		return a.say("rolls are counted per delivery")
	case s.Plan.Proven():
		return a.say("proven: no plan buys less")
	case s.Priced:
		return a.say("at most %s more than the least possible", a.money(s.Plan.Gap()))
	}
	return a.say("at most %d mm of roll more than the least possible", s.Plan.Gap())
}

func (a *assembler) roll(s assess.SheetOrder, r assess.Roll) RollView {
	f := a.format
	v := RollView{No: fmt.Sprint(r.No), Sheet: a.componentName(string(s.Component)), Remainder: f.MM(r.Remainder),
		Size: a.say("%s × %s", f.MM(s.Width), f.Metres(r.Length.Metres()))}
	if r.Leftover {
		v.Size = a.say("%s × %s, leftover: %s", f.MM(s.Width), f.Metres(r.Length.Metres()), r.Name)
	}
	rest := r.Length
	for i, c := range r.Sequence() {
		if c.OffcutOf == "" {
			rest -= c.Cut
		}
		row := a.stripRow(c)
		row.Order, row.Roll, row.Left = i+1, v.No, f.MM(rest)
		v.Cuts = append(v.Cuts, row)
	}
	return v
}

// rollNumbers says from which roll of its delivery each piece is cut, itself or as part of another's rip.
func (a *assembler) rollNumbers() map[string]string {
	rolls := map[string]string{}
	for _, d := range a.Deliveries {
		for _, s := range d.Sheets {
			for _, r := range s.Rolls {
				for _, c := range r.Sequence() {
					rolls[c.ID] = fmt.Sprint(r.No)
				}
			}
		}
	}
	return rolls
}

// stripRow is one piece to cut.
func (a *assembler) stripRow(c assess.CutPiece) StripRow {
	l := a.LayoutOf(c.Surface.ID)
	f := a.format
	row := StripRow{ID: c.ID, Width: f.MM(c.RollWidth), Cut: f.MM(c.Cut), Edge: a.edgeText(l, c.At), Ends: a.ends(l, c), Note: joined(a.cutNote(c), a.measuredNote(c))}
	if clear := ClearLength(l, c) + c.Longer; clear > 0 {
		row.Clear = f.MM(clear)
	}
	if c.OffcutOf != "" {
		row.Width = f.MM(c.Width)
	}
	return row
}

// cutNote says what a piece is ripped to, and which offcut feeds which piece.
func (a *assembler) cutNote(c assess.CutPiece) string {
	var fed []string
	for _, x := range c.Feeds {
		fed = append(fed, x.ID)
	}
	width, rip := a.format.MM(c.Width), a.format.MM(c.RollWidth-c.Width)
	switch {
	case c.OffcutOf != "":
		return a.say("from the offcut of %s: rip to %s", c.OffcutOf, width)
	case len(fed) > 0:
		return a.say("rip to %s; keep the offcut, %s wide, for %s", width, rip, strings.Join(fed, ", "))
	case c.Width < c.RollWidth:
		return a.say("rip to %s", width)
	}
	return ""
}

// jointTerms are the end joints of a surface: the member each lies on, and why the strip is joined.
func (a *assembler) jointTerms(l *assess.Layout) []Term {
	var out []Term
	for _, st := range l.Strips {
		for n, j := range st.Joints {
			line := l.Along(l.JointLine(j)) - l.Base(true)
			where := a.say("edge of the upper sheet %s right of the left end, on the member's middle", a.format.MM(line))
			if l.Direction == strips.Upright {
				where = a.say("edge of the upper sheet %s over the lower edge, on the member's middle", a.format.MM(line))
			}
			name := a.say("End joint %d.%d", st.No, n+1)
			if l.Saved(st.No, j) {
				out = append(out, Term{name, a.say("%s; the sheet below runs on %s; joined because that saves sheet of the delivery", where, a.format.MM(l.Problem.EndJointLap))})
				continue
			}
			out = append(out, Term{name, a.say("%s; the sheet below runs on %s", where, a.format.MM(l.Problem.EndJointLap))})
		}
	}
	return out
}

// meetingTerms are the seams that end near one of the next surface.
func (a *assembler) meetingTerms(l *assess.Layout) []Term {
	var out []Term
	for _, m := range l.Meets {
		out = append(out, Term{a.say("Seam %d+%d at %s", m.Strip-1, m.Strip, m.Edge),
			a.say("it ends %s from a seam of %s: cut one sheet back there, never four in one point", a.format.MM(m.Apart), m.Other.ID)})
	}
	return out
}
