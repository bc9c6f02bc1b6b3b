package assess

import (
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
)

// isTrade reports whether another trade does an activity or a part of it.
func isTrade(a *library.Activity) bool {
	return slices.ContainsFunc(strings.Split(a.Minutes, "+"), func(term string) bool { return strings.TrimSpace(term) == "trade" })
}

// tradeTime gives what a trade states for an activity in a scope: of several the one for the fewest rooms, of equal ones
// the last. nil: nobody stated any.
func (r *Results) tradeTime(a *library.Activity, s Scope) *job.TradeTime {
	if !isTrade(a) {
		return nil
	}
	var best *job.TradeTime
	for i := range r.Job.TradeTimes {
		t := &r.Job.TradeTimes[i]
		here := len(t.Rooms) == 0 || slices.ContainsFunc(s.Rooms, func(room *job.Room) bool { return slices.Contains(t.Rooms, room.ID) })
		if t.Activity != a.ID || !here {
			continue
		}
		if best == nil || len(best.Rooms) == 0 || len(t.Rooms) > 0 && len(t.Rooms) <= len(best.Rooms) {
			best = t
		}
	}
	return best
}

// checkTrades reports times of activities that no other trade does.
func (r *Results) checkTrades(found *diag.List) {
	var theirs []string
	for _, a := range r.Library.Activities.All() {
		if isTrade(a) {
			theirs = append(theirs, a.ID)
		}
	}
	for _, t := range r.Job.TradeTimes {
		if t.Activity != "" && !slices.Contains(theirs, t.Activity) {
			found.Faultf(t.Pos, "activities of other trades: "+strings.Join(theirs, ", "), "%q is no activity of another trade", t.Activity)
		}
	}
}

// onSite is a trade's own time; it is not shared out among persons.
func onSite(t *job.TradeTime) Range {
	return Range{q.Minutes(t.Low), q.Minutes(t.Likely), q.Minutes(t.High)}
}

// drying is what must pass after a trade's step, and who asks for it.
func (s *Step) drying() (wait q.Minutes, why string) {
	if s.Stated == nil || !s.Concerns {
		return 0, ""
	}
	return q.Minutes(s.Stated.Wait), s.Stated.By
}

// Untimed names the activities of other trades for which a time is missing somewhere, sorted.
func (p *Programme) Untimed() []string {
	var out []string
	for _, s := range p.Steps {
		if s.Concerns && !s.Known && !slices.Contains(out, s.Activity.Title) {
			out = append(out, s.Activity.Title)
		}
	}
	slices.Sort(out)
	return out
}
