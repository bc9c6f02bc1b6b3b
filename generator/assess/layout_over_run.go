package assess

import (
	"context"
	"slices"
)

// slopesOneByOne is up to how many slopes of a delivery are tried one by one; more are tried together and only parted where
// that does not save. mostTrials bounds the trials of a delivery then, since each cuts its rolls anew.
const (
	slopesOneByOne = 8
	mostTrials     = 32
)

// overRun takes ways to run over edges into a delivery where it buys and works less with them.
type overRun struct {
	*cutter
	layouts []*Layout // left to lay
	now     spent     // what they take
	trials  int
}

// runOver decides which slopes of a delivery run over their edges, and gives the layouts that are left to lay: what runs with a
// slope keeps a layout without strips.
func (k *cutter) runOver(ctx context.Context, layouts []*Layout) ([]*Layout, error) {
	var slopes [][]overCandidate // the ways of each slope of this delivery
	here := map[*Layout]bool{}
	for _, l := range layouts {
		here[l] = true
	}
	for i, o := range k.over {
		switch {
		case !here[o.slope]:
		case i > 0 && k.over[i-1].slope == o.slope:
			slopes[len(slopes)-1] = append(slopes[len(slopes)-1], o)
		default:
			slopes = append(slopes, []overCandidate{o})
		}
	}
	if len(slopes) == 0 {
		return layouts, nil
	}
	apart, err := k.boughtFor(ctx, layouts)
	if err != nil {
		return nil, err
	}
	run := &overRun{cutter: k, layouts: layouts, now: apart}
	if len(slopes) > slopesOneByOne {
		err := run.together(ctx, slopes)
		return run.layouts, err
	}
	for _, ways := range slopes {
		if err := run.oneSlope(ctx, ways); err != nil {
			return nil, err
		}
	}
	return run.layouts, nil
}

// oneSlope takes the way of one slope with which the delivery takes least, where that is less than without.
func (r *overRun) oneSlope(ctx context.Context, ways []overCandidate) error {
	var best *overTrial
	for i := range ways {
		if !r.open(&ways[i], nil) {
			continue
		}
		t, err := r.try(ctx, []*overCandidate{&ways[i]})
		if err != nil {
			return err
		}
		if t.saves(r.now) && (best == nil || t.with.compare(best.with) < 0) {
			best = t
		}
	}
	r.take(best)
	return nil
}

// together takes the best way of each slope as the surfaces tell by themselves, all at once where the delivery then takes less;
// else each half of the slopes likewise.
func (r *overRun) together(ctx context.Context, slopes [][]overCandidate) error {
	var set []*overCandidate
	for _, ways := range slopes {
		var best *overCandidate
		for i := range ways {
			if o := &ways[i]; r.open(o, set) && (best == nil || o.better(best)) {
				best = o
			}
		}
		if best != nil {
			set = append(set, best)
		}
	}
	if len(set) == 0 || r.trials >= mostTrials {
		return nil
	}
	t, err := r.try(ctx, set)
	if err != nil {
		return err
	}
	half := len(slopes) / 2
	switch {
	case t.saves(r.now):
		r.take(t)
		return nil
	case half == 0:
		return nil
	}
	if err := r.together(ctx, slopes[:half]); err != nil {
		return err
	}
	return r.together(ctx, slopes[half:])
}

// open says whether all that a way needs is still laid apart, in the delivery and in a set of other ways.
func (r *overRun) open(o *overCandidate, set []*overCandidate) bool {
	for _, l := range append([]*Layout{o.slope}, o.parts...) {
		if !slices.Contains(r.layouts, l) || l.Over != nil || slices.ContainsFunc(set, func(x *overCandidate) bool { return x.slope == l || slices.Contains(x.parts, l) }) {
			return false
		}
	}
	return true
}

// better says whether a way saves more on its surfaces than another: money where both are known, else sheet.
func (o *overCandidate) better(than *overCandidate) bool {
	a, known := o.over.Saves(o.choices[0])
	b, both := than.over.Saves(than.choices[0])
	if known && both {
		return a > b
	}
	sheet, _, _ := o.over.Less(o.choices[0])
	other, _, _ := than.over.Less(than.choices[0])
	return sheet > other
}

// overTrial is a delivery with some ways taken.
type overTrial struct {
	set   []*overCandidate
	laid  []Layout // in the order of the layouts that are left
	takes spent    // edges not counted
	with  spent    // less what the edges would take, where money counts
}

// saves says whether the delivery takes less than before.
func (t *overTrial) saves(before spent) bool { return t.with.compare(before) < 0 }

// try lays slopes with their parts in one piece and cuts the delivery again.
func (r *overRun) try(ctx context.Context, set []*overCandidate) (*overTrial, error) {
	r.trials++
	rest := withoutParts(r.layouts, set)
	t := &overTrial{set: set, laid: make([]Layout, len(rest))}
	of := map[*Layout]*overCandidate{}
	for _, o := range set {
		of[o.slope] = o
	}
	for i, l := range rest {
		t.laid[i] = *l
		if o := of[l]; o != nil {
			t.laid[i].Over, t.laid[i].Choice, t.laid[i].Others = o.over, o.choices[0], o.choices[1:]
		}
	}
	if err := r.chooseWidths(ctx, pointers(t.laid)); err != nil {
		return nil, err
	}
	var err error
	t.takes, err = r.boughtFor(ctx, pointers(t.laid))
	t.with = t.takes
	if r.now.work > 0 || t.takes.work > 0 { // money
		for _, o := range set {
			t.with.work -= o.over.EdgeFee
		}
	}
	return t, err
}

// take settles a trial; nil: none.
func (r *overRun) take(t *overTrial) {
	if t == nil {
		return
	}
	r.layouts, r.now = withoutParts(r.layouts, t.set), t.takes
	for i, l := range r.layouts {
		*l = t.laid[i]
	}
	for _, o := range t.set {
		for _, l := range o.parts {
			*l = Layout{Surface: l.Surface, Component: l.Component, HungWith: o.slope, Choice: Choice{Problem: l.Problem}}
		}
	}
}

// withoutParts are the layouts but what runs with a slope.
func withoutParts(layouts []*Layout, set []*overCandidate) []*Layout {
	gone := map[*Layout]bool{}
	for _, o := range set {
		for _, l := range o.parts {
			gone[l] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(layouts), func(l *Layout) bool { return gone[l] })
}

// boughtFor is what layouts as they stand take.
func (k *cutter) boughtFor(ctx context.Context, layouts []*Layout) (spent, error) {
	for _, l := range layouts {
		l.Cuts = cuts(l)
	}
	plan, err := k.plan(ctx, layouts)
	return plan.bought, err
}
