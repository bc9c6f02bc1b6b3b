package generator

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/pack"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
	"lapwork/generator/sorting"
)

// learner collects lessons job by job.
type learner struct {
	out    Lessons
	kinds  map[string]*KindLesson // by the id of the kind
	causes map[string]map[string]int
}

// Learn puts the results of jobs beside what was recorded in them. The order of the jobs does not matter but for that of
// their rows.
func Learn(jobs []*assess.Results, journals []record.Journal) Lessons {
	l := learner{kinds: map[string]*KindLesson{}, causes: map[string]map[string]int{}}
	for i, r := range jobs {
		l.job(r, journals[i])
	}
	for kind, k := range l.kinds {
		k.Causes = counted(l.causes[kind])
		l.out.Kinds = append(l.out.Kinds, *k)
	}
	sorting.Func(l.out.Kinds, func(a, b KindLesson) int {
		return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.Statement, b.Statement))
	})
	return l.out
}

func counted(n map[string]int) []Caused {
	var out []Caused
	for _, cause := range slices.Sorted(maps.Keys(n)) {
		out = append(out, Caused{cause, n[cause]})
	}
	return out
}

func (l *learner) job(r *assess.Results, j record.Journal) {
	t := TallyOf(r)
	one := JobLesson{Reference: r.Job.Reference, Name: r.Job.Name, Layer: t.Layer, PlannedSheet: t.Sheet, Bought: t.Bought, BoughtMeasured: boughtAsMeasured(r)}
	seen := map[string]bool{}
	for _, p := range r.Places {
		k := l.kind(p)
		k.Places++
		k.Length += p.Record.Length
		k.Minutes += p.Minutes.Likely
		one.PlannedMinutes += p.Minutes.Likely
		if kind := assess.KindID(p); !seen[kind] {
			seen[kind] = true
			k.Jobs++
		}
	}
	l.records(r, record.Latest(j.Records), &one)
	l.times(r, record.Latest(j.Records))
	l.leakage(r, &one)
	l.out.Jobs = append(l.out.Jobs, one)
}

func (l *learner) kind(p *assess.Place) *KindLesson {
	kind := assess.KindID(p)
	k := l.kinds[kind]
	if k == nil {
		k = &KindLesson{Title: assess.Kind(p)}
		if p.Answered() {
			k.Statement = string(p.Chosen.Statement.ID)
		}
		l.kinds[kind], l.causes[kind] = k, map[string]int{}
	}
	return k
}

// records counts defects, minutes, strips as measured and answers of the leak search.
func (l *learner) records(r *assess.Results, latest []record.Record, one *JobLesson) {
	closed := map[string]bool{}
	for _, x := range latest {
		if x.Kind == record.Defect && x.Of != "" {
			closed[x.Of] = true
		}
	}
	cuts := map[string]record.Record{}
	for _, x := range latest {
		switch {
		case x.Kind == record.Day:
			one.Days++
			if n, err := strconv.ParseFloat(x.Fields["minutes"], 64); err == nil {
				one.DayMinutes += n
			}
		case x.Kind == record.Cut:
			cuts[x.Place] = x
		case x.Kind == record.Defect && x.Of == "":
			l.defect(r, x, closed[x.ID])
		case x.Kind == record.Tick && strings.HasPrefix(x.Check, pack.LeakKey):
			l.searched(x)
		}
	}
	one.MeasuredSheet = one.PlannedSheet
	for _, layout := range r.Layouts {
		for _, c := range layout.Cuts {
			x, ok := cuts[c.ID]
			if !ok {
				continue
			}
			mm, _ := x.ClearLength()
			one.Measured++
			drawn := pack.ClearLength(layout, c)
			one.MeasuredSheet += c.RollWidth.Metres().Times((q.MM(mm) - drawn).Metres())
		}
	}
}

// defect counts a defect with the kind of its place. One that a check of several places opened names none of them: all are of
// one kind.
func (l *learner) defect(r *assess.Results, x record.Record, closed bool) {
	p := r.Place(x.Place)
	if places := r.PlacesOf(x.Check); p == nil && len(places) > 0 {
		p = r.Place(places[0])
	}
	if p == nil {
		return
	}
	k := l.kind(p)
	k.Defects++
	if !closed {
		k.Open++
	}
	if x.Cause != "" {
		l.causes[assess.KindID(p)][x.Cause]++
	}
}

// times puts what was timed beside the plan for the same places: several entries of one kind in one room add up, and none of
// them counts more places than there are.
func (l *learner) times(r *assess.Results, latest []record.Record) {
	type work struct{ room, kind string }
	places, minutes := map[work]int{}, map[work]float64{}
	for _, x := range latest {
		n, err := strconv.ParseFloat(x.Value, 64)
		if x.Kind != record.Work || err != nil {
			continue
		}
		at := work{x.Place, x.Fields["kind"]}
		all := r.PlannedFor(job.RoomID(at.room), library.StatementID(at.kind))
		done, err := strconv.Atoi(x.Fields["places"])
		if err != nil {
			done = all.Places
		}
		places[at] = min(all.Places, places[at]+done)
		minutes[at] += n
	}
	for at, n := range places {
		k := l.ofStatement(r, library.StatementID(at.kind))
		if n == 0 || k == nil { // another job's kind, or a room that has none of it
			continue
		}
		k.Timed.Places += n
		k.Timed.Planned += r.PlannedFor(job.RoomID(at.room), library.StatementID(at.kind)).Of(n).Minutes
		k.Timed.Recorded += minutes[at]
	}
}

// ofStatement is the kind of a statement that the job uses; nil: it does not.
func (l *learner) ofStatement(r *assess.Results, id library.StatementID) *KindLesson {
	for _, p := range r.Places {
		if p.Answered() && p.Chosen.Statement.ID == id {
			return l.kind(p)
		}
	}
	return nil
}

// boughtAsMeasured is the sheet that a job buys with its cutting plan as measured.
func boughtAsMeasured(r *assess.Results) q.Area {
	sum := q.Area(0)
	for _, d := range r.Deliveries {
		for _, s := range d.Sheets {
			for _, b := range s.Buy {
				sum += q.Area(float64(s.Width.Metres().Times(b.Length.Metres())) * float64(b.Count))
			}
		}
	}
	return sum
}

// searched counts an answer of the leak search: yes is tight, no leaks. Its key names the kind after the room; in earlier
// packs the kind's title stood there.
func (l *learner) searched(x record.Record) {
	_, kind, _ := strings.Cut(strings.TrimPrefix(x.Check, pack.LeakKey), " ")
	k := l.kinds[kind]
	if k == nil {
		k = l.titled(kind)
	}
	switch {
	case k == nil:
	case x.Value == "no":
		k.Leaks++
	case x.Value == "yes":
		k.Tight++
	}
}

// titled is the kind of a title, or nil.
func (l *learner) titled(title string) *KindLesson {
	for _, k := range l.kinds {
		if k.Title == title {
			return k
		}
	}
	return nil
}

// leakage divides the flow of the last interim test over the kinds as the budget expects it. One test cannot tell kinds
// apart; over jobs with different mixtures the sums can.
func (l *learner) leakage(r *assess.Results, one *JobLesson) {
	for _, t := range r.Air.Tests {
		if t.Stated.Kind == job.InterimTest && t.HasLine {
			one.Tested, one.Leak = true, float64(t.Flow.Value)*3600
		}
	}
	one.Expected = float64(r.Air.Budget.Sum.Expected) * 3600
	if !one.Tested || one.Expected <= 0 {
		return
	}
	for _, s := range r.Air.Spots {
		k := l.kinds[s.Kind]
		if k == nil {
			k = &KindLesson{Title: s.Title}
			l.kinds[s.Kind], l.causes[s.Kind] = k, map[string]int{}
		}
		flow := float64(s.Flows.Expected) * 3600
		k.Expected += flow
		k.Apportioned += flow * one.Leak / one.Expected
	}
}
