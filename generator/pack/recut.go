package pack

import (
	"fmt"

	"lapwork/generator/assess"
)

// CutChange is what strips measured on site made of the cutting plan of one width of a delivery.
type CutChange struct {
	Name   string // delivery and width
	What   string // what became of the plan
	Bought string // rolls to buy, where they changed
	Strips []CutMove
}

// CutMove is a strip that is cut to another length, or from another roll, than drawn.
type CutMove struct {
	Strip, Drawn, Cut string
	Roll              string // "2" or "2 → 3"
	Moved             bool
}

// cutChanges lists the cutting plans that strips as measured have changed, in the order of the deliveries.
func (a *assembler) cutChanges() []CutChange {
	var out []CutChange
	for _, d := range a.Deliveries {
		for i, s := range d.Sheets {
			if s.How != assess.PlanDrawn {
				out = append(out, a.cutChange(d.Name, d.Drawn[i], s))
			}
		}
	}
	return out
}

func (a *assembler) cutChange(delivery string, drawn, now assess.SheetOrder) CutChange {
	v := CutChange{Name: a.say("%s, sheet %s wide", delivery, a.format.MM(now.Width)), What: a.planState(now)}
	if was, is := bought(drawn), bought(now); was != is {
		v.Bought = a.say("rolls to buy: %d instead of %d", is, was)
	}
	before, after := rollOf(drawn), rollOf(now)
	for _, p := range now.Pieces {
		was, is := before[p.ID], after[p.ID]
		if p.Longer == 0 && was == is {
			continue
		}
		m := CutMove{Strip: p.ID, Drawn: a.format.MM(p.Cut - p.Longer), Cut: a.format.MM(p.Cut), Roll: fmt.Sprint(is), Moved: was != is}
		if m.Moved {
			m.Roll = fmt.Sprintf("%d → %d", was, is)
		}
		v.Strips = append(v.Strips, m)
	}
	return v
}

// planState says what strips measured on site made of a plan; empty: nothing.
func (a *assembler) planState(s assess.SheetOrder) string {
	switch s.How {
	case assess.PlanKept:
		return a.say("strips as measured still fit their rolls: the plan stays")
	case assess.PlanMended:
		return a.say("strips as measured no longer all fit their rolls: the fewest pieces moved to the rests of others")
	case assess.PlanSolved:
		return a.say("strips as measured do not fit the rolls of the plan: it was solved again")
	}
	return ""
}

// rollOf gives the roll that each piece of a plan is cut from.
func rollOf(s assess.SheetOrder) map[string]int {
	out := map[string]int{}
	for _, r := range s.Rolls {
		for _, c := range r.Sequence() {
			out[c.ID] = r.No
		}
	}
	return out
}

func bought(s assess.SheetOrder) int {
	n := 0
	for _, b := range s.Buy {
		n += b.Count
	}
	return n
}
