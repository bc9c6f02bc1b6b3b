package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	calc "lapwork/generator/calc/programme"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/sorting"
)

// ProgrammeRoom is the work of one room in order of its start.
type ProgrammeRoom struct {
	Room Link
	Rows []ProgrammeRow
}

// ProgrammeWeek is the working days of one week, Monday first: what hangs on the wall.
type ProgrammeWeek struct {
	Week string   // "week 2, from Mon 23 Mar 2026"
	Of   []string // what its work is of, as in ProgrammeWork
	Days []ProgrammeDay
}

// ProgrammeDay is what each crew does on one working day.
type ProgrammeDay struct {
	Day   string // "day 3, Wed 18 Mar 2026"
	Crews []ProgrammeCrew
}

// ProgrammeCrew is one crew's day.
type ProgrammeCrew struct {
	Crew string // "fitters (2)"
	Work []ProgrammeWork
}

// ProgrammeWork is what one crew does at one stretch.
type ProgrammeWork struct {
	Time, Text string // "07:30–09:12", "Tape laps, B2 Back bedroom"
	Of         string // id of its room or name of its storey; empty: of no storey alone
}

// StoreyChart is the steps of one storey, drawn.
type StoreyChart struct {
	Storey string // its name
	Drawing
}

// ProgrammeDate is a hold point or a delivery with its date.
type ProgrammeDate struct{ When, What, Place, Who, Note string }

// ProgrammeCure is what must be left alone until when.
type ProgrammeCure struct {
	Until, Use, Step, Place, Material, Placed, Wait string
	Places                                          []string // junction ids; none where they are not known yet
}

// CalendarFile is the calendar beside the pages, where there is one.
const CalendarFile = "programme.ics"

// programmePage is the programme; without one, the page says so.
func (a *assembler) programmePage() Page {
	v := &Programme{}
	if p := a.Results.Programme; p != nil {
		w := planWords{a, p}
		v.Summary, v.Critical, v.Notes = w.summary(), w.drivers(), w.notes()
		v.Chart, v.Charts = w.roomChart(), w.storeyCharts()
		v.Rows, v.Rooms = w.rows(w.wide()), w.rooms()
		v.Weeks, v.Holds, v.Deliveries, v.Cures = w.weeks(), w.holds(), w.deliveries(), w.cures()
		if a.CalendarGap() == "" {
			v.File = CalendarFile
		}
	} else {
		v.Notes = []Note{{Level: "open", Text: a.say("The programme could not be computed: the findings say why.")}}
	}
	return Page{Path: "programme.html", Kind: KindProgramme, Title: a.say("Programme"), Where: a.say("Programme"), Programme: v}
}

// planWords writes a programme in words.
type planWords struct {
	*assembler
	p *assess.Programme
}

// moment is a time of the programme: "Mon 16 Mar 07:30", or "day 1 07:30" where the job states no start.
func (w planWords) moment(t calc.Instant) string {
	day, minute := t.Day()
	return strings.ReplaceAll(w.day(day, false), " ", "\u00a0") + " " + clock(minute) // a narrow column has the day on one line, the hour below
}

// ending is the end of what began at another time: of the same day the hour alone.
func (w planWords) ending(from, to calc.Instant) string {
	first, _ := from.Day()
	if last, minute := to.Day(); last == first {
		return clock(minute)
	}
	return w.moment(to)
}

func clock(minute int) string { return fmt.Sprintf("%02d:%02d", minute/60, minute%60) }

var (
	weekdays = [7]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}
	months   = [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
)

// day writes a day number, with its date where there is one.
func (w planWords) day(day int, long bool) string {
	number := w.say("day %d", day)
	if !w.p.Dated {
		return number
	}
	d := w.p.Start + assess.Date(day-1)
	if long {
		return number + ", " + w.date(d, true)
	}
	return w.date(d, false)
}

// date writes a day as people of the pack's language do.
func (a *assembler) date(d assess.Date, year bool) string {
	y, m, day := d.Civil()
	text := fmt.Sprintf("%s %d%s %s", a.word(weekdays[d.Weekday()]), day, lang.DayStop(a.Job.Language), a.word(months[m-1]))
	if year {
		text += fmt.Sprintf(" %d", y)
	}
	return text
}

// shown: a step that says something on the page. One without work in this job stays in the network only.
func shown(s *assess.Step) bool {
	return s.Concerns && (s.Slot.Duration > 0 || s.Activity.Hold != "" || !s.Known)
}

// byRoom gives the steps of each room in order of their start.
func (w planWords) byRoom() map[*job.Room][]*assess.Step {
	out := map[*job.Room][]*assess.Step{}
	for _, s := range w.p.Steps {
		if s.Scope.Kind == "room" {
			out[s.Scope.Rooms[0]] = append(out[s.Scope.Rooms[0]], s)
		}
	}
	return out
}

// wide gives the steps that concern more than one room.
func (w planWords) wide() []*assess.Step {
	return slices.DeleteFunc(slices.Clone(w.p.Steps), func(s *assess.Step) bool { return s.Scope.Kind == "room" })
}

func (w planWords) rows(steps []*assess.Step) []ProgrammeRow {
	var out []ProgrammeRow
	for _, s := range steps {
		if shown(s) {
			out = append(out, ProgrammeRow{Activity: s.Activity.Title, Place: s.Scope.Name, Start: w.moment(s.Slot.Start),
				Finish: w.ending(s.Slot.Start, s.Slot.Finish), Work: w.work(s), Crew: w.crewOf(s), SetBy: w.setBy(s), Hold: s.Activity.Hold})
		}
	}
	return out
}

func (w planWords) rooms() []ProgrammeRoom {
	var out []ProgrammeRoom
	steps := w.byRoom()
	for _, room := range w.Job.Rooms {
		rows := w.rows(steps[room])
		if len(rows) > 0 {
			out = append(out, ProgrammeRoom{w.roomLink(room), rows})
		}
	}
	return out
}

// work is a step's person-minutes; another trade's are nobody's guess.
func (w planWords) work(s *assess.Step) string {
	if !s.Known {
		return w.say("other trade, no figure")
	}
	if s.Stated != nil {
		return w.say("%s on site, says %s", w.format.Minutes(s.Slot.Duration), s.Stated.By)
	}
	text := w.format.Minutes(s.Minutes.Likely)
	if s.Minutes.Low != s.Minutes.High {
		text += w.say(" (%s to %s)", w.format.Minutes(s.Minutes.Low), w.format.Minutes(s.Minutes.High))
	}
	return text
}

// crewOf is who does a step as it is planned: one alone where the other is busy. A step without time shows the table's crew.
func (w planWords) crewOf(s *assess.Step) string {
	if s.Slot.Duration == 0 {
		return w.crew(s.Activity)
	}
	var parts []string
	for _, n := range s.Slot.Needs {
		parts = append(parts, fmt.Sprintf("%d %s", n.Size, w.people(n.Size, n.Crew)))
	}
	return strings.Join(parts, " + ")
}

// setBy says what a step waits for.
func (w planWords) setBy(s *assess.Step) string {
	if s.SetBy == nil {
		return w.say("start of the job")
	}
	by := s.SetBy.Activity.Title
	if s.SetBy.Scope.ID != s.Scope.ID {
		by += ", " + s.SetBy.Scope.Name
	}
	switch {
	case s.Slot.SetBy == calc.SetByCrew:
		return w.say("%s free after %s", w.crewName(shared(s, s.SetBy)), by)
	case s.Slot.Lag > 0:
		return fmt.Sprintf("%s + %s, %s", by, w.waiting(s.Slot.Lag), short(s.SetFor))
	}
	return by
}

// shared is the role that two steps both take; the first by name.
func shared(s, t *assess.Step) string {
	for _, n := range s.Slot.Needs {
		if slices.ContainsFunc(t.Slot.Needs, func(o calc.Need) bool { return o.Crew == n.Crew }) {
			return n.Crew
		}
	}
	return ""
}

func (w planWords) crewName(role string) string {
	return w.people(w.p.Crews[role], role)
}

// weeks lists every working day with what each crew does on it, by weeks. A job without a start begins on a Monday.
func (w planWords) weeks() []ProgrammeWeek {
	offset := 0
	if w.p.Dated {
		offset = w.p.Start.Weekday()
	}
	var out []ProgrammeWeek
	current := -1
	for i, steps := range w.byDay() {
		crews := w.crewsOn(i+1, steps)
		if len(crews) == 0 {
			continue
		}
		if n := (i + offset) / 7; n != current {
			current = n
			name := w.say("Week %d", n+1)
			if w.p.Dated {
				name += ", " + w.date(w.p.Start+assess.Date(7*n-offset), true)
			}
			out = append(out, ProgrammeWeek{Week: name})
		}
		out[len(out)-1].add(ProgrammeDay{w.day(i+1, true), crews})
	}
	return out
}

func (v *ProgrammeWeek) add(d ProgrammeDay) {
	v.Days = append(v.Days, d)
	for _, crew := range d.Crews {
		for _, work := range crew.Work {
			if !slices.Contains(v.Of, work.Of) {
				v.Of = append(v.Of, work.Of)
			}
		}
	}
}

// byDay are the steps of each day up to the last.
func (w planWords) byDay() [][]*assess.Step {
	last, _ := w.p.Finish.Day()
	out := make([][]*assess.Step, last)
	for _, s := range w.p.Steps {
		first, _ := s.Slot.Start.Day()
		end, _ := s.Slot.Finish.Day()
		for day := first; day <= min(end, last); day++ {
			out[day-1] = append(out[day-1], s)
		}
	}
	return out
}

func (w planWords) crewsOn(day int, steps []*assess.Step) []ProgrammeCrew {
	var out []ProgrammeCrew
	for _, role := range job.Roles {
		if work := w.crewDay(steps, day, role); len(work) > 0 {
			out = append(out, ProgrammeCrew{fmt.Sprintf("%s (%d)", w.crewName(role), w.p.Crews[role]), work})
		}
	}
	return out
}

// crewDay lists what a crew does of the steps of a day.
func (w planWords) crewDay(steps []*assess.Step, day int, role string) []ProgrammeWork {
	var out []ProgrammeWork
	for _, s := range steps {
		i := slices.IndexFunc(s.Slot.Needs, func(n calc.Need) bool { return n.Crew == role })
		if i < 0 || s.Slot.Duration == 0 {
			continue
		}
		start, end, ok := w.p.Calendar.Part(day, s.Slot.Start, s.Slot.Finish)
		if !ok {
			continue
		}
		_, from := start.Day()
		_, to := end.Day()
		text := s.Activity.Title + ", " + s.Scope.Name
		if n := s.Slot.Needs[i].Size; n < w.p.Crews[role] {
			text += w.say(" (%d of them)", n)
		}
		switch {
		case start > s.Slot.Start && end < s.Slot.Finish:
			text += w.say(", goes on")
		case start > s.Slot.Start:
			text += w.say(", to its end")
		case end < s.Slot.Finish:
			text += w.say(", begun")
		}
		out = append(out, ProgrammeWork{clock(from) + "–" + clock(to), text, of(s.Scope)})
	}
	sorting.StableFunc(out, func(x, y ProgrammeWork) int { return strings.Compare(x.Time, y.Time) })
	return out
}

// of names the room or the storey that a step is of.
func of(s assess.Scope) string {
	switch s.Kind {
	case "room":
		return string(s.Rooms[0].ID)
	case "storey":
		return s.Name
	}
	return ""
}

// holds are the hold points with the time at which the work before each is done; what a hold means stands at its first.
func (w planWords) holds() []ProgrammeDate {
	var out []ProgrammeDate
	told := map[string]bool{}
	for _, s := range w.p.ByFinish() {
		h := w.Library.Holds.Find(s.Activity.Hold)
		if h == nil || !s.Concerns {
			continue
		}
		row := ProgrammeDate{When: w.moment(s.Slot.Finish), What: h.ID + " " + s.Activity.Title, Place: s.Scope.Name, Who: w.roles(h.Signs)}
		if !told[h.ID] {
			told[h.ID], row.Note = true, h.Release
		}
		out = append(out, row)
	}
	return out
}

// deliveries are the days on which material is first needed, and those stated for it.
func (w planWords) deliveries() []ProgrammeDate {
	var out []ProgrammeDate
	for _, n := range w.p.Needs {
		d := ProgrammeDate{When: w.say("not needed"), What: w.say("Delivery %s", n.Delivery.ID), Place: n.Delivery.Name, Who: w.say("no date stated")}
		if n.Step != nil {
			d.When = w.moment(n.Step.Slot.Start)
			d.Note = w.say("for %s, %s", n.Step.Activity.Title, n.Step.Scope.Name)
		}
		if stated, ok := assess.ParseDate(n.Delivery.Date); ok {
			d.Who = w.say("on site %s", w.date(stated, true))
		}
		if n.Late {
			d.Note = w.say("too late %s", d.Note)
		}
		out = append(out, d)
	}
	return out
}

// cures is what may be loaded, covered or sealed when, first to last.
func (w planWords) cures() []ProgrammeCure {
	var out []ProgrammeCure
	for _, c := range w.p.Cures {
		row := ProgrammeCure{Until: w.moment(c.Until), Use: w.clockUse(c.Use), Step: c.Step.Activity.Title, Place: c.Step.Scope.Name, Places: c.Places, Material: short(c.Component.Name),
			Placed: w.moment(c.Step.Slot.Finish), Wait: w.waiting(c.Wait)}
		if c.How != "" {
			row.Wait += " (" + c.How + ")"
		}
		out = append(out, row)
	}
	return out
}

// short is a component's name where the work is told, without what it says in brackets; the materials say all of it.
func short(name string) string {
	before, _, _ := strings.Cut(name, " (")
	return before
}
