package assess

import (
	"cmp"
	"slices"
)

// ByFinish gives the steps in order of their end; of equal ends the one that starts first.
func (p *Programme) ByFinish() []*Step {
	out := slices.Clone(p.Steps)
	slices.SortStableFunc(out, func(a, b *Step) int { return cmp.Compare(a.Slot.Finish, b.Slot.Finish) })
	return out
}

// CalendarGap says why the job has no calendar file; empty where it has one. A calendar carries dates, so the job must
// state its start, and the time it was made, which is the issue's: nothing here reads a clock.
func (r *Results) CalendarGap() string {
	switch {
	case r.Programme == nil:
		return r.say("the programme could not be computed")
	case !r.Programme.Dated:
		return r.say("the job states no start under site")
	case r.Job.Issue == nil:
		return r.say("the pack is not issued")
	}
	if _, ok := ParseDate(r.Job.Issue.Date); !ok {
		return r.say("the issue has no date")
	}
	return ""
}
