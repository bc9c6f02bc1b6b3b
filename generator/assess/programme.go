package assess

import (
	"slices"

	"lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/parallel"
	q "lapwork/generator/quantity"
)

// Programme is when the work of a job can be done with the crews there are: the activity table over the job's rooms,
// storeys and test zones, with the waits that the chosen components ask for.
type Programme struct {
	Steps       []*Step // in order of their start
	Calendar    programme.Calendar
	Start       Date // day 1
	Dated       bool // false: the job states no start, there are day numbers only
	Crews       map[string]int
	Finish      programme.Instant
	Low, High   programme.Instant // finish with every step at its low or high time
	Earliest    programme.Instant // finish with crews without limit
	InOrder     bool              // the crews finish the rooms in the order the job lists them
	Otherwise   programme.Instant // finish the other way: in order, or with every room open at once
	Likely      q.Minutes         // work of the critical path
	Deviation   q.Minutes         // of that work, three-point estimate
	Driving     []*Step           // what set the finish, from the start of the job
	Cures       []Cure            // in order of their end
	Needs       []DeliveryNeed    // one a delivery
	Interrupted q.Minutes         // taken off each day because people live there

	lastUse map[use]programme.Instant
}

// Step is one activity at one place of the job.
type Step struct {
	ID       string // hang-walls@B2
	Activity *library.Activity
	Scope    Scope
	Places   []*Place       // installed in it
	Minutes  Range          // person-minutes
	Known    bool           // false: another trade's work, no figure
	Stated   *job.TradeTime // what another trade says its part takes; nil: nothing
	Concerns bool           // false: nothing to do here; it stays in the network without work
	After    []StepLink
	Slot     programme.Slot
	Critical bool // on the longest path with crews without limit
	SetBy    *Step
	SetFor   string // what the wait after SetBy is for; empty: none
}

// StepLink is a step that must be finished, and an elapsed wait after it.
type StepLink struct {
	From *Step
	Wait q.Minutes
	For  string // component that asks for the wait
}

// Scope is what one step covers: a room, a storey, a test zone or the job.
type Scope struct {
	Kind  string // as in the activity table
	ID    string // room id, storey scope, zone id; empty: the job
	Name  string
	Rooms []*job.Room
}

// DeliveryNeed is when a delivery is first worked with.
type DeliveryNeed struct {
	Delivery *Delivery
	Step     *Step // nil: nothing of it is placed
	Late     bool  // the stated date is after that day
}

// programme plans the work. It is nil where the input has no schedule; found says why.
func (r *Results) programme(found *diag.List) *Programme {
	p := &Programme{Crews: crewsOf(r.Job)}
	p.calendar(r.Job)
	n := network{Context: r.Context, lib: r.Library, crews: p.Crews, scopes: r.scopes(), effort: r.effort, stated: r.tradeTime}
	r.checkTrades(found)
	n.build()
	if err := p.plan(&n, r.Job.State.Occupied); err != nil {
		found.Faultf(r.Job.Site.Pos, "correct the working times under site, or the firm's own activities", "the programme cannot be computed: %v", err)
		return nil
	}
	p.Cures = n.cured()
	p.uses(r.Deliveries)
	p.needs(r, found)
	return p
}

// plan schedules the network. Where people live in the house the rooms are taken in order, so that as few as possible are
// open at once (common practice, no source); else the way that ends first is taken, in order where both end alike.
func (p *Programme) plan(n *network, occupied bool) error {
	plans, err := n.schedules(p.Calendar, trial{Range.likely, true}, trial{Range.likely, false})
	if err != nil {
		return err
	}
	way := 0
	if !occupied && plans[1].Finish < plans[0].Finish {
		way = 1
	}
	p.InOrder = way == 0
	bounds, err := n.schedules(p.Calendar, trial{Range.low, p.InOrder}, trial{Range.high, p.InOrder})
	if err != nil {
		return err
	}
	chosen := plans[way]
	p.Finish, p.Otherwise = chosen.Finish, plans[1-way].Finish
	p.Low, p.High = bounds[0].Finish, bounds[1].Finish
	p.Steps, p.Earliest = n.placed(chosen), chosen.Earliest
	p.Likely, p.Deviation = chosen.Likely, chosen.Deviation
	for _, id := range chosen.Driving {
		p.Driving = append(p.Driving, n.byID[id])
	}
	return nil
}

// trial is one way to schedule a network: with which time of each step, and whether the rooms are taken in order.
type trial struct {
	time    func(Range) q.Minutes
	inOrder bool
}

// schedules computes programmes side by side. What keeps one from being computed lies in the network and keeps all.
func (n *network) schedules(cal programme.Calendar, trials ...trial) ([]programme.Plan, error) {
	errs := make([]error, len(trials))
	plans := parallel.Map(len(trials), func(i int) (plan programme.Plan) {
		plan, errs[i] = n.schedule(cal, trials[i].time, trials[i].inOrder)
		return plan
	})
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return plans, nil
}

func (r Range) low() q.Minutes    { return r.Low }
func (r Range) likely() q.Minutes { return r.Likely }
func (r Range) high() q.Minutes   { return r.High }

// calendar takes the job's working times. Where people live in the house half an hour a day goes into leaving it closed
// and dust-free (common practice, no source).
func (p *Programme) calendar(j *job.Job) {
	p.Calendar = programme.Weekdays
	if j.Site.DayStart > 0 {
		p.Calendar.DayStart = j.Site.DayStart
	}
	if j.Site.DayMinutes > 0 {
		p.Calendar.DayMinutes = j.Site.DayMinutes
	}
	if j.State.Occupied && p.Calendar.DayMinutes > 60 {
		p.Interrupted = 30
		p.Calendar.DayMinutes -= 30
	}
	if len(j.Site.WorkDays) > 0 {
		p.Calendar.Works = [7]bool{}
		for i, name := range []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"} {
			p.Calendar.Works[i] = slices.Contains(j.Site.WorkDays, name)
		}
	}
	if p.Start, p.Dated = ParseDate(j.Site.Start); !p.Dated {
		return
	}
	p.Calendar.FirstDay = p.Start.Weekday()
	p.Calendar.Closed = map[int]bool{}
	for _, text := range j.Site.Closed {
		if d, ok := ParseDate(text); ok {
			p.Calendar.Closed[int(d-p.Start)+1] = true
		}
	}
}

// DateOf gives the date of an instant and its minute of the day; only where the programme is Dated.
func (p *Programme) DateOf(t programme.Instant) (d Date, minute int) {
	day, minute := t.Day()
	return p.Start + Date(day-1), minute
}

// needs finds when each delivery is first worked with, and the ones that are due too late.
func (p *Programme) needs(r *Results, found *diag.List) {
	for _, d := range r.Deliveries {
		need := DeliveryNeed{Delivery: d}
		for _, s := range p.Steps {
			if s.takesMaterial() && overlap(s.Scope.Rooms, d.Rooms) {
				need.Step = s
				break
			}
		}
		if stated, ok := ParseDate(d.Date); ok && p.Dated && need.Step != nil {
			day, _ := p.DateOf(need.Step.Slot.Start)
			if need.Late = stated > day; need.Late {
				found.Openf(positionOf(r.Job, d.ID), d.ID, "move the delivery or the start of the work",
					"delivery %s is due on %s; %s in %s needs it on %s", d.ID, stated, need.Step.Activity.Title, need.Step.Scope.Name, day)
			}
		}
		p.Needs = append(p.Needs, need)
	}
}

// takesMaterial: what is placed in the step, or laid under a seal in the step that prepares the ground.
func (s *Step) takesMaterial() bool {
	return len(s.Places) > 0 || s.Activity.ID == prepare && s.Slot.Duration > 0
}

func positionOf(j *job.Job, delivery string) diag.Pos {
	for _, d := range j.Deliveries {
		if d.ID == delivery {
			return d.Pos
		}
	}
	return j.Pos
}

func overlap(a, b []*job.Room) bool {
	return slices.ContainsFunc(a, func(room *job.Room) bool { return slices.Contains(b, room) })
}
