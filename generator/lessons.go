package generator

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"lapwork/generator/page"
	q "lapwork/generator/quantity"
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
	Bought          q.Area    // in whole rolls
	BoughtMeasured  q.Area    // the same with the cutting plan as measured
	Tested          bool      // an interim test with a line
	Leak, Expected  float64   // m³/h at 50 Pa: of the test, and of the budget
}

// KindLesson is one kind of junction over all jobs.
type KindLesson struct {
	Title, Statement string
	Jobs, Places     int
	Length           q.Length
	Minutes          q.Minutes // planned
	Timed            Timed
	Defects, Open    int
	Causes           string  // "method 2, weather 1"
	Leaks, Tight     int     // of the leak search, by its records
	Expected         float64 // m³/h at 50 Pa in the jobs with an interim test
	Apportioned      float64 // the same, the test's flow divided as the budget expects it
}

// Timed is what was recorded of the time that a kind took.
type Timed struct {
	Places   int
	Planned  q.Minutes // for those places
	Recorded float64   // person-minutes
}

// waste is the share of sheet that does not lie on a surface.
func waste(layer, sheet q.Area) string {
	if sheet <= 0 {
		return ""
	}
	return strconv.FormatFloat(100*(1-float64(layer)/float64(sheet)), 'f', 1, 64)
}

// ratio is what a rate of the table is to be multiplied by; empty: nothing was timed.
func (t Timed) ratio() string {
	if t.Planned <= 0 || t.Recorded <= 0 {
		return ""
	}
	return strconv.FormatFloat(t.Recorded/float64(t.Planned), 'f', 2, 64)
}

// lessonTable is one table as text, for the file and the page alike.
type lessonTable struct {
	Title string
	Head  []string
	Rows  [][]string
}

func (l Lessons) tables() []lessonTable {
	f := func(x float64, digits int) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	jobs := lessonTable{Title: "Jobs", Head: []string{"job", "name", "minutes planned", "minutes recorded", "day sheets", "layer m2", "sheet planned m2", "sheet as measured m2", "strips measured", "bought m2", "bought as measured m2",
		"waste planned %", "waste as measured %", "interim test m3/h at 50 Pa", "budget m3/h at 50 Pa"}}
	for _, j := range l.Jobs {
		leak := ""
		if j.Tested {
			leak = f(j.Leak, 0)
		}
		jobs.Rows = append(jobs.Rows, []string{j.Reference, j.Name, f(float64(j.PlannedMinutes), 0), f(j.DayMinutes, 0), strconv.Itoa(j.Days), f(float64(j.Layer), 1),
			f(float64(j.PlannedSheet), 1), f(float64(j.MeasuredSheet), 1), strconv.Itoa(j.Measured), f(float64(j.Bought), 1), f(float64(j.BoughtMeasured), 1), waste(j.Layer, j.PlannedSheet), waste(j.Layer, j.MeasuredSheet), leak, f(j.Expected, 0)})
	}
	kinds := lessonTable{Title: "Kinds of junction", Head: []string{"kind", "statement", "jobs", "places", "length m", "minutes planned", "places timed", "minutes planned for those", "minutes recorded for those", "recorded to planned", "defects", "open", "defects per 100 places", "causes", "leaks found", "tight", "budget m3/h at 50 Pa", "test, apportioned m3/h at 50 Pa"}}
	for _, k := range l.Kinds {
		rate := ""
		if k.Places > 0 {
			rate = f(100*float64(k.Defects)/float64(k.Places), 1)
		}
		kinds.Rows = append(kinds.Rows, []string{k.Title, k.Statement, strconv.Itoa(k.Jobs), strconv.Itoa(k.Places), f(float64(k.Length), 1), f(float64(k.Minutes), 0), strconv.Itoa(k.Timed.Places), f(float64(k.Timed.Planned), 0), f(k.Timed.Recorded, 0), k.Timed.ratio(), strconv.Itoa(k.Defects),
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
