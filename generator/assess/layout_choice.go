package assess

import (
	"cmp"
	"slices"

	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// Choice is one way to lay the sheet of a surface: a roll width, a direction, and the best arrangement of both.
type Choice struct {
	Problem strips.Problem
	strips.Layout
	Why     Why
	Backing []strips.Backing // to be added behind seams and joints that would hang free
	Cost    LayCost
	barred  bool // only for comparison: the job fixes another width or direction
	askew   bool // the job fixes another direction
}

// LayCost is what an arrangement takes in money, in hundredths of the currency's unit. Known is false where a price is
// missing that it would need.
type LayCost struct {
	Known bool
	Sheet int64 // the pieces at the roll's price by length, what stays on the roll not counted
	Seams int64 // tape and its labour
	Cuts  int64 // measuring, cutting and carrying the pieces
}

// Total is all of it.
func (c LayCost) Total() int64 { return c.Sheet + c.Seams + c.Cuts }

// WidthReason says why a surface has its roll width.
type WidthReason uint8

// The reasons for a roll width.
const (
	OnlyWidth     WidthReason = iota // the stock has no other
	FixedWidth                       // the job fixes it with roll_mm
	BestWidth                        // it is the best on this surface
	DeliveryWidth                    // another would be better on this surface alone, but the delivery buys less with this one
)

// options lays a surface in every width and direction; the best one that the job allows comes first. nil: none can be
// laid, and that is an open point.
func (c Context) options(s *surface.Surface, p strips.Problem, money *pricing, found *diag.List) *Layout {
	l := &Layout{Surface: s, Component: c.component("sheet-main")}
	fixed := c.setting("roll_mm", s)
	widths := c.widths()
	if fixed > 0 && !slices.Contains(widths, fixed) {
		widths = append(widths, fixed)
	}
	var all []Choice
	var failed error
	for _, width := range widths {
		for _, d := range []strips.Direction{strips.Level, strips.Upright} {
			one, err := c.choice(s, p, width, d, money)
			if err != nil {
				failed = err
				continue
			}
			one.barred = one.barred || fixed > 0 && width != fixed
			all = append(all, one)
		}
	}
	sorting.StableFunc(all, Choice.compare)
	if len(all) == 0 || all[0].barred {
		found.Openf(s.Face.Pos, string(s.ID), "divide the surface or state another roll width", "%s: the sheet cannot be laid out: %v", s.ID, failed)
		return nil
	}
	l.Choice, l.Others = all[0], all[1:]
	switch {
	case fixed > 0:
		l.Widths = FixedWidth
	case len(widths) > 1:
		l.Widths = BestWidth
	}
	return l
}

// choice lays a surface in one width and direction: at least cost where the prices are known, else with the least sheet.
func (c Context) choice(s *surface.Surface, p strips.Problem, width q.MM, d strips.Direction, money *pricing) (Choice, error) {
	return c.solve(s, c.directed(c.inRolls(p, s, width), s, d), money)
}

// inRolls states a problem in rolls of a width.
func (c Context) inRolls(p strips.Problem, s *surface.Surface, width q.MM) strips.Problem {
	p.RollWidth, p.MaxLap = width, c.widestLap(s, width)
	return p
}

// solve lays a surface whose problem is complete.
func (c Context) solve(s *surface.Surface, p strips.Problem, money *pricing) (Choice, error) {
	width, d, out := p.RollWidth, p.Direction, Choice{Problem: p}
	rates, known := money.of(s, width, d)
	objective := strips.LeastLength()
	if known {
		objective = strips.LeastCost(rates.strips())
		out.Problem.StopGap = rates.stopGap(p.EndAllowance)
	}
	var err error
	if out.Layout, out.Backing, err = c.known.lay(out.Problem, objective); err != nil {
		return out, err
	}
	if known {
		out.Cost = rates.cost(out.Layout)
	}
	rule, why := c.direction(s, width)
	out.Why = why
	switch {
	case s.Face.Direction != "":
		out.barred, out.askew = rule != d, rule != d
	case known:
		out.Why = Why{Reason: ByCost}
	case rule != d:
		out.Why = Why{Reason: AgainstRule}
	}
	return out, nil
}

// compare orders choices, the better one first: what the job allows, then by cost what needs no backing added and no
// lap wider than the setting; without prices what the rule of directions asks, then the same, sheet, pieces, tape.
func (c Choice) compare(o Choice) int {
	return cmp.Or(number01(c.barred)-number01(o.barred), number01(c.Why.Reason == AgainstRule)-number01(o.Why.Reason == AgainstRule),
		number01(!c.Cost.Known)-number01(!o.Cost.Known), number01(len(c.Backing) > 0)-number01(len(o.Backing) > 0),
		number01(c.WideLap())-number01(o.WideLap()), cmp.Compare(c.Cost.Total(), o.Cost.Total()), cmp.Compare(c.SheetUsed, o.SheetUsed), cmp.Compare(c.Pieces, o.Pieces),
		cmp.Compare(c.Tape(), o.Tape()))
}

// WideLap says whether a lap is wider than the setting allows, because nothing else covers the surface.
func (c Choice) WideLap() bool {
	return c.Problem.MaxLap > 0 && slices.ContainsFunc(c.Strips, func(s strips.Strip) bool { return s.Lap > c.Problem.MaxLap })
}

// number01 is 1 for yes.
func number01(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// widths lists the widths of sheet the job can buy, in the order of its stock; without any, the usual one.
func (c Context) widths() []q.MM {
	var out []q.MM
	for _, r := range c.Job.Stock {
		if c.isSheet(r.Component) && r.Leftover == "" && !slices.Contains(out, r.Width) {
			out = append(out, r.Width)
		}
	}
	if len(out) == 0 {
		return []q.MM{defaultRoll}
	}
	return out
}

// take makes the best choice of a width the chosen one. It reports false where the width is not open on the surface.
func (l *Layout) take(width q.MM) bool {
	if l.RollWidth == width {
		return true
	}
	all := append([]Choice{l.Choice}, l.Others...)
	i := slices.IndexFunc(all, func(c Choice) bool { return c.RollWidth == width })
	if i < 0 || all[i].barred {
		return false
	}
	l.Choice = all[i]
	l.Others = slices.Delete(all, i, i+1)
	l.Widths = DeliveryWidth
	return true
}

// Next is the best choice beside the one taken that the job leaves open, and then one that it bars; ok is false where the
// surface can only be laid in one way.
func (l *Layout) Next() (next Choice, ok bool) {
	for _, o := range l.Others {
		if !o.barred {
			return o, true
		}
	}
	if len(l.Others) > 0 {
		return l.Others[0], true
	}
	return Choice{}, false
}

// Barred says that the job fixes another width or direction, so that the choice is there for comparison only.
func (c Choice) Barred() bool { return c.barred }
