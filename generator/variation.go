package generator

import (
	"fmt"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/page"
	q "lapwork/generator/quantity"
)

// IssueTally is one issue of a job with what it takes.
type IssueTally struct {
	Reference, Name string
	Issue           job.Issue // its zero value: not issued
	Hour            int64     // price of an hour, in hundredths; 0: not stated
	Tally
}

// IssueOf sums the results of one issue of a job.
func IssueOf(r *assess.Results) IssueTally {
	out := IssueTally{Reference: r.Job.Reference, Name: r.Job.Name, Tally: TallyOf(r)}
	if r.Job.Issue != nil {
		out.Issue = *r.Job.Issue
	}
	if r.Job.Rates.Hour != nil {
		out.Hour = r.Job.Rates.Hour.Amount
	}
	return out
}

// Variation is what a new issue of a job adds and takes away, as finished text: for the client, beside an order.
type Variation struct {
	Job, Old, New string
	By, Reason    string
	Ordered       string // who ordered it; empty: not stated
	Rooms         []VariationRow
	Sum           VariationRow
	Rolls, Finish string
	Money         []VariationMoney // none where neither issue states a price
	Notes         []string
}

// VariationRow is a room, or all of them. Differences carry their sign.
type VariationRow struct {
	Room, Name, What            string // added, changed, removed
	Layer, Sheet, Tape, Fitting string
	Wages                       string // empty: no price of an hour
}

// VariationMoney is a sum before, after and between.
type VariationMoney struct{ What, Old, New, Change string }

// VariationOf compares two issues of a job, said in a language; nil: in English.
func VariationOf(before, after IssueTally, texts *lang.Catalogue) Variation {
	w := variationWords{before, after, q.FormatFor(texts.Tag()), texts}
	v := Variation{Job: after.Reference + " " + after.Name, Old: w.issue(before.Issue), New: w.issue(after.Issue),
		By: after.Issue.By, Reason: after.Issue.Reason, Ordered: after.Issue.Ordered,
		Rolls:  fmt.Sprintf("%d → %d", before.Rolls, after.Rolls),
		Finish: fmt.Sprintf("%s → %s", w.finish(before.Tally), w.finish(after.Tally))}
	for _, c := range Changes(before.Tally, after.Tally) {
		v.Rooms = append(v.Rooms, w.room(c))
	}
	v.Sum = w.row(RoomTally{Layer: before.Layer, Sheet: before.Sheet, Tape: before.Tape, Minutes: before.Minutes},
		RoomTally{Layer: after.Layer, Sheet: after.Sheet, Tape: after.Tape, Minutes: after.Minutes})
	v.Sum.Room = w.say("All rooms")
	v.Money, v.Notes = w.money()
	return v
}

// variationWords writes the differences between two issues.
type variationWords struct {
	before, after IssueTally
	format        q.Format
	texts         *lang.Catalogue
}

func (w variationWords) say(pattern string, values ...any) string {
	return w.texts.Say(pattern, values...)
}

func (w variationWords) issue(i job.Issue) string {
	if i.Date == "" {
		return w.say("not issued")
	}
	return w.say("issue %d of %s", i.Number, i.Date)
}

func (w variationWords) finish(t Tally) string {
	switch {
	case t.Finish == "":
		return w.say("not known")
	case t.Dated:
		return t.Finish
	}
	return w.say("day %d", t.Days)
}

func (w variationWords) room(c RoomChange) VariationRow {
	var none RoomTally
	was, now, what, named := &none, &none, w.say("changed"), c.New
	switch {
	case c.Old == nil:
		now, what = c.New, w.say("added")
	case c.New == nil:
		was, what, named = c.Old, w.say("removed"), c.Old
	default:
		was, now = c.Old, c.New
	}
	row := w.row(*was, *now)
	row.Room, row.Name, row.What = string(named.Room), named.Name, what
	return row
}

func (w variationWords) row(was, now RoomTally) VariationRow {
	f := w.format
	row := VariationRow{Layer: plus(float64(now.Layer-was.Layer), f.Area(now.Layer-was.Layer)),
		Sheet: plus(float64(now.Sheet-was.Sheet), f.Area(now.Sheet-was.Sheet)), Tape: plus(float64(now.Tape-was.Tape), f.Metres(now.Tape-was.Tape)),
		Fitting: w.minutes(now.Minutes.Likely - was.Minutes.Likely)}
	if w.after.Hour > 0 {
		old, errOld := bill.Wage(was.Minutes.Likely, w.after.Hour)
		sum, errNew := bill.Wage(now.Minutes.Likely, w.after.Hour)
		if errOld == nil && errNew == nil {
			row.Wages = w.difference(old, sum)
		}
	}
	return row
}

func (w variationWords) minutes(m q.Minutes) string {
	if m < 0 {
		return "−" + w.format.Minutes(-m)
	}
	return plus(float64(m), w.format.Minutes(m))
}

// plus puts the sign before what is more; what is less has its own.
func plus(x float64, text string) string {
	if x > 0 {
		return "+" + text
	}
	return text
}

func (w variationWords) difference(old, sum int64) string {
	return plus(float64(sum-old), w.format.Money(sum-old, w.after.Cost.Currency))
}

// money compares the sums of both issues. Prices of two currencies, or of one issue only, have no difference.
func (w variationWords) money() ([]VariationMoney, []string) {
	a, b := w.before.Cost, w.after.Cost
	if a.Currency == "" && b.Currency == "" {
		return nil, []string{w.say("Neither issue states prices.")}
	}
	if a.Currency != b.Currency {
		return nil, []string{w.say("The two issues do not state prices in one currency: sums are not compared.")}
	}
	pair := func(what string, old, sum int64) VariationMoney {
		return VariationMoney{what, w.format.Money(old, a.Currency), w.format.Money(sum, b.Currency), w.difference(old, sum)}
	}
	out := []VariationMoney{pair(w.say("Material, whole packs and rolls"), a.Material, b.Material)}
	var notes []string
	if a.Labour != nil && b.Labour != nil {
		out = append(out, pair(w.say("Fitting"), a.Labour.Likely, b.Labour.Likely), pair(w.say("Both"), a.Material+a.Labour.Likely, b.Material+b.Labour.Likely))
		notes = append(notes, w.say("Fitting counts junctions and sheet at the price of an hour; set-up, checks and tests are not in it."))
	}
	if n := len(b.Unpriced); n > 0 {
		var ids []string
		for _, id := range b.Unpriced {
			ids = append(ids, string(id))
		}
		notes = append(notes, w.say("Without a price, and so not in the sums: %s.", strings.Join(ids, ", ")))
	}
	return out, notes
}

// VariationPage renders a variation as one page that needs nothing beside it, to be printed and signed.
func VariationPage(v Variation, src Sources, texts *lang.Catalogue) ([]byte, error) {
	look, err := sheetLook(src)
	if err != nil {
		return nil, err
	}
	return page.RenderSheet(page.Sheet{Name: "variation", View: v, Lang: texts}, look)
}
