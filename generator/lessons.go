package generator

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/lang"
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
	Causes           []Caused // by their words
	Leaks, Tight     int      // of the leak search, by its records
	Expected         float64  // m³/h at 50 Pa in the jobs with an interim test
	Apportioned      float64  // the same, the test's flow divided as the budget expects it
}

// Caused is how often a cause was named.
type Caused struct {
	Cause string
	Times int
}

// Timed is what was recorded of the time that a kind took.
type Timed struct {
	Places   int
	Planned  q.Minutes // for those places
	Recorded float64   // person-minutes
}

// lessonWords writes lessons in a language; figures are those of a list, with a point, or of a page.
type lessonWords struct {
	texts  *lang.Catalogue // nil: English
	number func(x float64, digits int) string
}

func (w lessonWords) say(pattern string, values ...any) string {
	return w.texts.Say(pattern, values...)
}

// waste is the share of sheet that does not lie on a surface.
func (w lessonWords) waste(layer, sheet q.Area) string {
	if sheet <= 0 {
		return ""
	}
	return w.number(100*(1-float64(layer)/float64(sheet)), 1)
}

// ratio is what a rate of the table is to be multiplied by; empty: nothing was timed.
func (w lessonWords) ratio(t Timed) string {
	if t.Planned <= 0 || t.Recorded <= 0 {
		return ""
	}
	return w.number(t.Recorded/float64(t.Planned), 2)
}

// causes says how often each cause was named: "method 2, weather 1". A tablet records the word of its own language; one that is
// no word of ours stands as it is.
func (w lessonWords) causes(list []Caused) string {
	var out []string
	for _, c := range list {
		word := c.Cause
		if w.texts.Has(word) {
			word = w.texts.Text(word)
		}
		out = append(out, fmt.Sprintf("%s %d", word, c.Times))
	}
	return strings.Join(out, ", ")
}

// lessonTable is one table as text, for the file and the page alike.
type lessonTable struct {
	Title string
	Head  []string
	Rows  [][]string
}

// jobHead and kindHead stand over the columns.
var (
	jobHead = []string{"job", "name", "minutes planned", "minutes recorded", "day sheets", "layer m2", "sheet planned m2", "sheet as measured m2", "strips measured", "bought m2", "bought as measured m2",
		"waste planned %", "waste as measured %", "interim test m3/h at 50 Pa", "budget m3/h at 50 Pa"}
	kindHead = []string{"kind", "statement", "jobs", "places", "length m", "minutes planned", "places timed", "minutes planned for those", "minutes recorded for those", "recorded to planned",
		"defects", "open", "defects per 100 places", "causes", "leaks found", "tight", "budget m3/h at 50 Pa", "test, apportioned m3/h at 50 Pa"}
)

func (w lessonWords) tables(l Lessons) []lessonTable {
	jobs := lessonTable{Title: w.say("Jobs"), Head: w.head(jobHead)}
	for _, j := range l.Jobs {
		jobs.Rows = append(jobs.Rows, w.job(j))
	}
	kinds := lessonTable{Title: w.say("Kinds of junction"), Head: w.head(kindHead)}
	for _, k := range l.Kinds {
		kinds.Rows = append(kinds.Rows, w.kind(k))
	}
	return []lessonTable{jobs, kinds}
}

func (w lessonWords) head(names []string) []string {
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = w.texts.Text(name)
	}
	return out
}

func (w lessonWords) job(j JobLesson) []string {
	leak := ""
	if j.Tested {
		leak = w.number(j.Leak, 0)
	}
	return []string{j.Reference, j.Name, w.number(float64(j.PlannedMinutes), 0), w.number(j.DayMinutes, 0), strconv.Itoa(j.Days), w.number(float64(j.Layer), 1),
		w.number(float64(j.PlannedSheet), 1), w.number(float64(j.MeasuredSheet), 1), strconv.Itoa(j.Measured), w.number(float64(j.Bought), 1), w.number(float64(j.BoughtMeasured), 1),
		w.waste(j.Layer, j.PlannedSheet), w.waste(j.Layer, j.MeasuredSheet), leak, w.number(j.Expected, 0)}
}

func (w lessonWords) kind(k KindLesson) []string {
	rate := ""
	if k.Places > 0 {
		rate = w.number(100*float64(k.Defects)/float64(k.Places), 1)
	}
	return []string{k.Title, k.Statement, strconv.Itoa(k.Jobs), strconv.Itoa(k.Places), w.number(float64(k.Length), 1), w.number(float64(k.Minutes), 0), strconv.Itoa(k.Timed.Places),
		w.number(float64(k.Timed.Planned), 0), w.number(k.Timed.Recorded, 0), w.ratio(k.Timed), strconv.Itoa(k.Defects), strconv.Itoa(k.Open), rate, w.causes(k.Causes),
		strconv.Itoa(k.Leaks), strconv.Itoa(k.Tight), w.number(k.Expected, 1), w.number(k.Apportioned, 1)}
}

// CSV writes both tables behind one another, each with its title on a line of its own, said in a language; nil: in English.
// Figures keep their point.
func (l Lessons) CSV(texts *lang.Catalogue) ([]byte, error) {
	words := lessonWords{texts.Quiet(), func(x float64, digits int) string { return strconv.FormatFloat(x, 'f', digits, 64) }}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	for i, t := range words.tables(l) {
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

// lessonsView is what the page of lessons shows: each list in parts that fit an upright sheet, the names in front of each.
type lessonsView struct{ Lists []lessonList }

type lessonList struct {
	Title string
	Parts []lessonTable
}

// jobParts and kindParts are the columns of each part beside the first.
var (
	jobParts  = [][]int{{1, 2, 3, 4}, {5, 6, 7, 8}, {9, 10, 11, 12}, {13, 14}}
	kindParts = [][]int{{1, 2, 3, 4, 5}, {6, 7, 8, 9}, {10, 11, 12, 13}, {14, 15, 16, 17}}
)

func (w lessonWords) view(l Lessons) lessonsView {
	var v lessonsView
	for i, t := range w.tables(l) {
		list := lessonList{Title: t.Title}
		for _, columns := range [][][]int{jobParts, kindParts}[i] {
			if part := t.part(columns); len(part.Rows) > 0 {
				list.Parts = append(list.Parts, part)
			}
		}
		v.Lists = append(v.Lists, list)
	}
	return v
}

// part is a table's first column with some of the others, less the rows of which these say nothing.
func (t lessonTable) part(columns []int) lessonTable {
	pick := func(row []string) []string {
		out := []string{row[0]}
		for _, c := range columns {
			out = append(out, row[c])
		}
		return out
	}
	out := lessonTable{Title: t.Title, Head: pick(t.Head)}
	for _, row := range t.Rows {
		picked := pick(row)
		if slices.ContainsFunc(picked[1:], func(cell string) bool { return strings.Trim(cell, "0.,") != "" }) {
			out.Rows = append(out.Rows, picked)
		}
	}
	return out
}

// Page renders both tables as one page that needs nothing beside it, said in a language, as the firm's pages look.
func (l Lessons) Page(src Sources, texts *lang.Catalogue) ([]byte, error) {
	look, err := sheetLook(src)
	if err != nil {
		return nil, err
	}
	words := lessonWords{texts, q.FormatFor(texts.Tag()).Number}
	return page.RenderSheet(page.Sheet{Name: "lessons", View: words.view(l), Lang: texts}, look)
}
