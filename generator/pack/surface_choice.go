package pack

import (
	"lapwork/generator/assess"
	"lapwork/generator/job"
)

// choiceFacts say how the sheet of a surface was chosen, what it costs where prices are known, and what the next best way
// would take.
func (a *assembler) choiceFacts(l *assess.Layout) []Figure {
	out := []Figure{{Label: a.say("Strips"), Value: a.say("%d %s, %s roll", len(l.Strips), l.Direction, a.format.MM(l.RollWidth)),
		Formula: a.whyDirection(l.Why), Inputs: a.whyWidth(l)}}
	if l.Cost.Known {
		out = append(out, Figure{Label: a.say("Sheet, seams and cutting"), Value: a.money(l.Cost.Total()), Status: a.say("computed"),
			Formula: a.say("roll price by length + tape and labour of the seams + labour of the pieces"),
			Inputs:  a.say("sheet %s, seams %s, pieces %s", a.money(l.Cost.Sheet), a.money(l.Cost.Seams), a.money(l.Cost.Cuts))})
	}
	if l.Over != nil {
		out = append(out, a.overFact(l))
	}
	if next, ok := l.Next(); ok {
		out = append(out, a.nextBest(l, next))
	}
	return out
}

// nextBest compares the best other way with the one taken.
func (a *assembler) nextBest(l *assess.Layout, next assess.Choice) Figure {
	f := a.format
	out := Figure{Label: a.say("Next best: %d %s, %s roll", len(next.Strips), next.Direction, f.MM(next.RollWidth)), Status: a.say("computed"),
		Formula: a.say("sheet %s, pieces %+d, tape %s", a.signed(float64(next.SheetUsed-l.SheetUsed), "m²"), next.Pieces-l.Pieces,
			a.signed(float64(next.Tape()-l.Tape()), "m"))}
	out.Value = out.Formula
	more := next.Cost.Total() - l.Cost.Total()
	switch {
	case !next.Cost.Known || !l.Cost.Known:
		out.Formula = a.say("the difference to the arrangement drawn here")
	case more < 0:
		out.Value = a.say("%s cheaper on this surface alone", a.money(-more))
	default:
		out.Value = a.say("%s dearer", a.money(more))
	}
	if next.Barred() {
		out.Inputs = a.say("the job fixes the other way")
	} else if len(next.Backing) > 0 {
		out.Inputs = a.say("it needs %d backing strips more", len(next.Backing))
	}
	return out
}

// whyDirection says why the strips run as they do.
func (a *assembler) whyDirection(w assess.Why) string {
	switch w.Reason {
	case assess.AcrossFraming:
		return a.say("across the framing")
	case assess.FullBacking:
		return a.say("full backing: drops from the top")
	case assess.WideDrops:
		return a.say("the studs let each drop use %s of the %s roll", a.format.MM(w.Useful), a.format.MM(w.Roll))
	case assess.NarrowDrops:
		return a.say("on these studs a drop would use only %s of the %s roll", a.format.MM(w.Useful), a.format.MM(w.Roll))
	case assess.OverTheEdge:
		return a.say("in one piece over the edge to the next surface")
	case assess.ByJob:
		return a.say("the direction is fixed in the job")
	case assess.ByCost:
		return a.say("of what the job leaves open this takes the least money for sheet, tape and labour")
	}
	return a.say("laid against the usual direction: the usual one cannot be laid here")
}

// whyWidth says why the roll has its width.
func (a *assembler) whyWidth(l *assess.Layout) string {
	switch l.Widths {
	case assess.FixedWidth:
		return a.say("the roll width is fixed in the job")
	case assess.BestWidth:
		return a.say("of the stocked roll widths this one is the best here")
	case assess.DeliveryWidth:
		return a.say("another stocked width takes less on this surface alone, but the whole delivery buys less with this one")
	}
	return a.say("the only stocked width")
}

// money writes an amount in the job's currency.
func (a *assembler) money(amount int64) string {
	return job.Price{Amount: amount, Currency: a.Job.Currency()}.String()
}

// signed writes a difference with its sign.
func (a *assembler) signed(x float64, unit string) string {
	if x < 0 {
		return "−" + a.format.Amount(-x, unit)
	}
	return "+" + a.format.Amount(x, unit)
}
