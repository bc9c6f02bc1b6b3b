package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	calc "lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// summary is when the work ends and how sure that is.
func (w planWords) summary() []Figure {
	p := w.p
	var persons q.Minutes
	for _, s := range p.Steps {
		for _, n := range s.Slot.Needs {
			if n.Crew == "fitter" {
				persons += s.Slot.Duration * q.Minutes(n.Size)
			}
		}
	}
	out := []Figure{{Label: w.say("Start"), Value: w.moment(p.Steps[0].Slot.Start)}, {Label: w.say("Finish, other trades' time not counted"), Value: w.moment(p.Finish),
		Formula: w.say("levelled: each step at the first time its predecessors, their waits and its crews allow"), Status: w.say("computed")},
		{Label: w.say("Finish at the low and the high times"), Value: w.say("%s to %s", w.moment(p.Low), w.moment(p.High)),
			Formula: w.say("the same plan with every step at its low, then at its high time"), Status: w.say("common practice")},
		{Label: w.say("Finish with crews without limit"), Value: w.moment(p.Earliest), Formula: w.say("longest path of steps and waits"), Status: w.say("computed")},
		{Label: w.say("Work on the longest path"), Value: w.format.Minutes(p.Likely),
			Inputs: w.say("three-point estimate, standard deviation %s: (high − low)/6 of each step, steps independent", w.format.Minutes(p.Deviation)), Status: w.say("common practice")},
		{Label: w.say("Fitters' time"), Value: w.format.Minutes(persons), Inputs: w.say("all steps of the fitters times their persons"), Status: w.say("common practice")}}
	var crews []string
	for _, role := range []string{"fitter", "site-lead", "tester", "licensed", "other-trade"} {
		crews = append(crews, fmt.Sprintf("%d %s", p.Crews[role], w.crewName(role)))
	}
	return append(out, Figure{Label: w.say("Counted on"), Value: strings.Join(crews, ", "), Source: w.say("fitters as the firm states, else two; the others are usual numbers"), Status: w.say("common practice")})
}

// drivers is the chain that sets the end: each waits for the one before it, and says more where a crew or a cure makes it
// wait. Where a crew goes from step to step without a gap, one line stands for all.
func (w planWords) drivers() []string {
	var out []string
	chain := w.p.Driving
	for i := 0; i < len(chain); {
		j, role := w.run(chain, i)
		if j-i > 2 {
			out = append(out, w.say("%s to %s: the %s, %d steps one after the other, from %s to %s", w.moment(chain[i].Slot.Start),
				w.ending(chain[i].Slot.Start, chain[j-1].Slot.Finish), w.crewName(role), j-i, place(chain[i]), place(chain[j-1])))
			i = j
			continue
		}
		s := chain[i]
		from, to := w.moment(s.Slot.Start), w.ending(s.Slot.Start, s.Slot.Finish)
		if i > 0 && s.SetBy == chain[i-1] && s.Slot.SetBy != calc.SetByCrew && s.Slot.Lag == 0 {
			out = append(out, w.say("%s to %s: %s", from, to, place(s)))
		} else {
			out = append(out, w.say("%s to %s: %s. Set by: %s", from, to, place(s), w.setBy(s)))
		}
		i++
	}
	return out
}

func place(s *assess.Step) string { return s.Activity.Title + ", " + s.Scope.Name }

// run gives the end of a stretch of the chain on which one role works without a wait, at least once held up by itself.
func (w planWords) run(chain []*assess.Step, from int) (end int, role string) {
	for _, n := range chain[from].Slot.Needs {
		crews, to := 0, from+1
		for ; to < len(chain); to++ {
			s := chain[to]
			if !slices.ContainsFunc(s.Slot.Needs, func(o calc.Need) bool { return o.Crew == n.Crew }) || s.Slot.Lag > 0 || s.Slot.Duration == 0 {
				break
			}
			if s.Slot.SetBy == calc.SetByCrew {
				crews++
			}
		}
		if crews > 0 && to > end {
			end, role = to, n.Crew
		}
	}
	return end, role
}

// notes says what the programme rests on.
func (w planWords) notes() []Note {
	p := w.p
	out := w.assembler.notes(diag.Open, func(item string) bool {
		return slices.ContainsFunc(p.Needs, func(n assess.DeliveryNeed) bool { return n.Delivery.ID == item })
	})
	note := func(text, hint string) { out = append(out, Note{Level: "note", Text: text, Hint: hint}) }
	note(w.say("Working times are common practice; no measured data stand behind them."), w.say("Note real times on the first room and compare."))
	if missing := p.Untimed(); len(missing) > 0 {
		note(w.say("No time is stated for other trades' work, which counts nothing here: %s.", strings.Join(missing, ", ")), sentence(w.say("agree it with them and state it under trade-times")))
	}
	if slices.ContainsFunc(p.Steps, func(s *assess.Step) bool { return s.Activity.ID == "early-strips" && s.Slot.Duration > 0 }) {
		note(w.say("Early strips have no slack: the frame or floor trade builds over them. Agree their day first."), "")
	}
	if !p.Dated {
		note(w.say("The job states no start: days are numbered, day 1 is taken as a Monday, closed days are not counted."), sentence(w.say("state start under site")))
	}
	if gap := w.CalendarGap(); gap != "" {
		note(w.say("There is no calendar file: %s.", gap), "")
	}
	switch {
	case p.InOrder && w.Job.State.Occupied:
		text := w.say("People live here: the rooms are taken in the order the job lists them, so that few are open at once.")
		if p.Otherwise < p.Finish {
			text += w.say(" With every room open at once the work would end %s.", w.moment(p.Otherwise))
		}
		note(text, "")
	case p.InOrder:
		note(w.say("The crews take the rooms in the order the job lists them, and go on to the next while one cures."), "")
	default:
		note(w.say("The crews go through all rooms step by step; taking the rooms one after the other would end %s.", w.moment(p.Otherwise)), "")
	}
	if p.Interrupted > 0 {
		note(w.say("Each day is %s shorter: the rooms are left closed and dust-free.", w.format.Minutes(p.Interrupted)), "")
	}
	if p.Crews["fitter"] == 1 {
		note(w.say("One fitter: hanging ceilings and fixing battens are counted 2.2 times as long as for two. Blown insulation and what is too heavy or too high for one need a second person."), "")
	}
	note(w.say("The plan is one that works, not the shortest there can be. It is wrong from the first day on which something takes longer: waits count from the real end of a step, not from the planned one."), "")
	note(w.say("Waits are those of the component table for what was chosen. Below 10 °C count them double (common practice). The product's own sheet wins."), "")
	return out
}

// mostRooms is how many rows of rooms stand in one chart; of more there is a chart for each storey.
const mostRooms = 24

// roomChart shows when there is work in each room, or on each storey of many rooms, and the steps that concern more than one.
func (w planWords) roomChart() *Drawing {
	d := drawing.Schedule{Words: w.words(), Label: w.axis()}
	if steps := w.byRoom(); len(steps) <= mostRooms {
		d.Title, d.Desc = w.say("When there is work in each room"), w.say("One row a room, then the steps that concern several rooms. Times are in the tables below.")
		d.Rows = w.roomRows(steps, w.Job.Rooms)
	} else {
		d.Title, d.Desc = w.say("When there is work on each storey"), w.say("One row a storey, then the steps that concern several rooms. Times are in the tables below.")
		for _, st := range w.Job.Storeys {
			var all []*assess.Step
			for _, room := range w.on(st) {
				all = append(all, steps[room]...)
			}
			sorting.StableFunc(all, func(x, y *assess.Step) int { return cmp.Compare(x.Slot.Start, y.Slot.Start) })
			d.Rows = w.withRow(d.Rows, st.Name, all)
		}
	}
	for _, s := range w.wide() {
		if s.Slot.Duration > 0 {
			d.Rows = append(d.Rows, drawing.TaskRow{Name: place(s), Bars: w.bar(nil, s), Hold: s.Activity.Hold})
		}
	}
	if len(d.Rows) == 0 {
		return nil
	}
	return &Drawing{SVG: svg.Render("programme", d), Title: d.Title, Caption: w.say("Bars are work, gaps are waits or other rooms' turn. Diamonds are hold points.")}
}

func (w planWords) roomRows(steps map[*job.Room][]*assess.Step, rooms []*job.Room) []drawing.TaskRow {
	var out []drawing.TaskRow
	for _, room := range rooms {
		out = w.withRow(out, string(room.ID)+" "+room.Name, steps[room])
	}
	return out
}

// withRow puts what takes time of these steps in a row of its own.
func (w planWords) withRow(rows []drawing.TaskRow, name string, steps []*assess.Step) []drawing.TaskRow {
	row := drawing.TaskRow{Name: name}
	for _, s := range steps {
		if s.Slot.Duration > 0 {
			row.Bars = w.bar(row.Bars, s)
		}
	}
	if len(row.Bars) > 0 {
		rows = append(rows, row)
	}
	return rows
}

func (w planWords) on(st *job.Storey) []*job.Room {
	return slices.DeleteFunc(slices.Clone(w.Job.Rooms), func(r *job.Room) bool { return r.Storey != st })
}

// storeyCharts show the steps of each storey, one bar a room, after its rooms where they are too many for the chart of all.
func (w planWords) storeyCharts() []StoreyChart {
	rooms := w.byRoom()
	steps := map[onStorey][]*assess.Step{}
	for _, s := range w.p.Steps {
		if (s.Scope.Kind == "room" || s.Scope.Kind == "storey") && s.Slot.Duration > 0 {
			at := onStorey{s.Scope.Rooms[0].Storey, s.Activity}
			steps[at] = append(steps[at], s)
		}
	}
	var out []StoreyChart
	for _, st := range w.Job.Storeys {
		if len(rooms) > mostRooms {
			r := drawing.Schedule{Words: w.words(), Title: w.say("%s, room by room", st.Name), Label: w.axis(), Desc: w.say("One row a room. Times are in the tables below."), Rows: w.roomRows(rooms, w.on(st))}
			if len(r.Rows) > 0 {
				out = append(out, StoreyChart{st.Name, Drawing{SVG: svg.Render(anchor("programme-rooms-"+string(st.ID)), r), Title: r.Title}})
			}
		}
		d := drawing.Schedule{Words: w.words(), Title: w.say("%s, step by step", st.Name), Label: w.axis(), Desc: w.say("One row a step, one bar a room. Times are in the tables below.")}
		for _, act := range w.Library.Activities.All() {
			row := drawing.TaskRow{Name: act.Title, Hold: act.Hold}
			for _, s := range steps[onStorey{st, act}] {
				row.Bars = w.bar(row.Bars, s)
			}
			if len(row.Bars) > 0 {
				d.Rows = append(d.Rows, row)
			}
		}
		if len(d.Rows) > 0 {
			out = append(out, StoreyChart{st.Name, Drawing{SVG: svg.Render(anchor("programme-"+string(st.ID)), d), Title: d.Title, Caption: w.say("The diamond is the hold point at the end of the last room's step.")}})
		}
	}
	return out
}

// onStorey is an activity on a storey.
type onStorey struct {
	storey   *job.Storey
	activity *library.Activity
}

func (w planWords) axis() string {
	if !w.p.Dated {
		return w.say("Working days")
	}
	return w.say("Working days from %s", w.date(w.p.Start, true))
}

// touching is how near two bars are drawn as one, in days.
const touching = 0.02

// bar adds a step's time to the bars of a row in order of start.
func (w planWords) bar(bars []drawing.Span, s *assess.Step) []drawing.Span {
	from, to := w.p.Calendar.Days(s.Slot.Start), w.p.Calendar.Days(s.Slot.Finish)
	if n := len(bars) - 1; n >= 0 && from <= bars[n].To+touching {
		bars[n].To = max(bars[n].To, to)
		return bars
	}
	return append(bars, drawing.Span{From: from, To: to})
}
