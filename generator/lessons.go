package generator

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/job"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"
)

// Lessons is what several jobs teach, so that tables of rates, waste and workmanship can be corrected.
type Lessons struct {
	Jobs  []JobLesson
	Kinds []KindLesson // by title
}

// JobLesson is one job: planned beside recorded.
type JobLesson struct {
	Reference, Name string
	PlannedMinutes  q.Minutes // person-minutes of its junctions and strips
	DayMinutes      float64   // at the layer, summed over the day sheets
	Days            int       // day sheets
	Layer           q.Area    // net
	PlannedSheet    q.Area    // to be cut
	MeasuredSheet   q.Area    // the same with what was measured on site in place of what was drawn
	Measured        int       // strips measured
	Bought          q.Area
	Tested          bool    // an interim test with a line
	Leak, Expected  float64 // m³/h at 50 Pa: of the test, and of the budget
}

// KindLesson is one kind of junction over all jobs.
type KindLesson struct {
	Title, Statement string
	Jobs, Places     int
	Length           q.Length
	Minutes          q.Minutes // planned
	Defects, Open    int
	Causes           string  // "method 2, weather 1"
	Leaks, Tight     int     // of the leak search, by its records
	Expected         float64 // m³/h at 50 Pa in the jobs with an interim test
	Apportioned      float64 // the same, the test's flow divided as the budget expects it
}

// waste is the share of sheet that does not lie on a surface.
func waste(layer, sheet q.Area) string {
	if sheet <= 0 {
		return ""
	}
	return strconv.FormatFloat(100*(1-float64(layer)/float64(sheet)), 'f', 1, 64)
}

// learner collects lessons job by job.
type learner struct {
	out    Lessons
	kinds  map[string]*KindLesson
	causes map[string]map[string]int
}

// Learn puts the results of jobs beside what was recorded in them. The order of the jobs does not matter but for that of
// their rows.
func Learn(jobs []*assess.Results, journals []record.Journal) Lessons {
	l := learner{kinds: map[string]*KindLesson{}, causes: map[string]map[string]int{}}
	for i, r := range jobs {
		l.job(r, journals[i])
	}
	for title, k := range l.kinds {
		k.Causes = counted(l.causes[title])
		l.out.Kinds = append(l.out.Kinds, *k)
	}
	slices.SortFunc(l.out.Kinds, func(a, b KindLesson) int { return cmp.Compare(a.Title, b.Title) })
	return l.out
}

func counted(n map[string]int) string {
	var out []string
	for cause, times := range n {
		out = append(out, fmt.Sprintf("%s %d", cause, times))
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

func (l *learner) job(r *assess.Results, j record.Journal) {
	t := TallyOf(r)
	one := JobLesson{Reference: r.Job.Reference, Name: r.Job.Name, Layer: t.Layer, PlannedSheet: t.Sheet, Bought: t.Bought}
	seen := map[string]bool{}
	for _, p := range r.Places {
		k := l.kind(p)
		k.Places++
		k.Length += p.Record.Length
		k.Minutes += p.Minutes.Likely
		one.PlannedMinutes += p.Minutes.Likely
		if !seen[k.Title] {
			seen[k.Title] = true
			k.Jobs++
		}
	}
	l.records(r, record.Latest(j.Records), &one)
	l.leakage(r, &one)
	l.out.Jobs = append(l.out.Jobs, one)
}

func (l *learner) kind(p *assess.Place) *KindLesson {
	title := assess.Kind(p)
	k := l.kinds[title]
	if k == nil {
		k = &KindLesson{Title: title}
		if p.Answered() {
			k.Statement = string(p.Chosen.Statement.ID)
		}
		l.kinds[title], l.causes[title] = k, map[string]int{}
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

func (l *learner) defect(r *assess.Results, x record.Record, closed bool) {
	p := r.Place(x.Place)
	if p == nil {
		return
	}
	k := l.kind(p)
	k.Defects++
	if !closed {
		k.Open++
	}
	if x.Cause != "" {
		l.causes[k.Title][x.Cause]++
	}
}

// searched counts an answer of the leak search: yes is tight, no leaks. Its key names the kind after the place.
func (l *learner) searched(x record.Record) {
	_, title, _ := strings.Cut(strings.TrimPrefix(x.Check, pack.LeakKey), " ")
	k := l.kinds[title]
	switch {
	case k == nil:
	case x.Value == "no":
		k.Leaks++
	case x.Value == "yes":
		k.Tight++
	}
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
		k := l.kinds[s.Title]
		if k == nil {
			k = &KindLesson{Title: s.Title}
			l.kinds[s.Title], l.causes[s.Title] = k, map[string]int{}
		}
		flow := float64(s.Flows.Expected) * 3600
		k.Expected += flow
		k.Apportioned += flow * one.Leak / one.Expected
	}
}

// lessonTable is one table as text, for the file and the page alike.
type lessonTable struct {
	Title string
	Head  []string
	Rows  [][]string
}

func (l Lessons) tables() []lessonTable {
	f := func(x float64, digits int) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	jobs := lessonTable{Title: "Jobs", Head: []string{"job", "name", "minutes planned", "minutes recorded", "day sheets", "layer m2", "sheet planned m2", "sheet as measured m2", "strips measured", "bought m2",
		"waste planned %", "waste as measured %", "interim test m3/h at 50 Pa", "budget m3/h at 50 Pa"}}
	for _, j := range l.Jobs {
		leak := ""
		if j.Tested {
			leak = f(j.Leak, 0)
		}
		jobs.Rows = append(jobs.Rows, []string{j.Reference, j.Name, f(float64(j.PlannedMinutes), 0), f(j.DayMinutes, 0), strconv.Itoa(j.Days), f(float64(j.Layer), 1),
			f(float64(j.PlannedSheet), 1), f(float64(j.MeasuredSheet), 1), strconv.Itoa(j.Measured), f(float64(j.Bought), 1), waste(j.Layer, j.PlannedSheet), waste(j.Layer, j.MeasuredSheet), leak, f(j.Expected, 0)})
	}
	kinds := lessonTable{Title: "Kinds of junction", Head: []string{"kind", "statement", "jobs", "places", "length m", "minutes planned", "defects", "open", "defects per 100 places", "causes", "leaks found", "tight", "budget m3/h at 50 Pa", "test, apportioned m3/h at 50 Pa"}}
	for _, k := range l.Kinds {
		rate := ""
		if k.Places > 0 {
			rate = f(100*float64(k.Defects)/float64(k.Places), 1)
		}
		kinds.Rows = append(kinds.Rows, []string{k.Title, k.Statement, strconv.Itoa(k.Jobs), strconv.Itoa(k.Places), f(float64(k.Length), 1), f(float64(k.Minutes), 0), strconv.Itoa(k.Defects),
			strconv.Itoa(k.Open), rate, k.Causes, strconv.Itoa(k.Leaks), strconv.Itoa(k.Tight), f(k.Expected, 1), f(k.Apportioned, 1)})
	}
	return []lessonTable{jobs, kinds}
}

// CSV writes both tables behind one another, each with its title on a line of its own.
func (l Lessons) CSV() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	for i, t := range l.tables() {
		if i > 0 {
			if err := w.Write([]string{""}); err != nil {
				return nil, err
			}
		}
		if err := w.WriteAll(append([][]string{{t.Title}, t.Head}, safe(t.Rows)...)); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// safe puts an apostrophe before what a spreadsheet would compute.
func safe(rows [][]string) [][]string {
	for _, row := range rows {
		for i, cell := range row {
			if strings.ContainsAny(cell[:min(1, len(cell))], "=+@\t\r") || strings.HasPrefix(cell, "-") && strings.Trim(cell, "-0123456789.") != "" {
				row[i] = "'" + cell
			}
		}
	}
	return rows
}

// lessonsView is what the page of lessons shows.
type lessonsView struct{ Tables []lessonTable }

// Page renders both tables as one page that needs nothing beside it, as the firm's pages look.
func (l Lessons) Page(src Sources) ([]byte, error) {
	look, err := sheetLook(src)
	if err != nil {
		return nil, err
	}
	return page.RenderSheet(page.Sheet{Name: "lessons", View: lessonsView{l.tables()}}, look)
}
