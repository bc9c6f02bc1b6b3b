package generator

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/airtight"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// TabletTest is a fan test as somebody typed it on the sheet of a tablet.
type TabletTest struct {
	Day   string // of its last figure, by the tablet's clock
	Steps int    // with the fan running, complete
	Text  []byte // a file of readings
}

// ReadingsFromRecords puts the fan test that tablets recorded last into a file of readings, as lapwork readings and job.yaml
// take it. Earlier days are earlier tests and left out. What is not complete, and openings that do not stand as the sheet
// lists them, become remarks for a person to finish. ok is false where nothing was recorded.
func ReadingsFromRecords(records []record.Record, openings []assess.TestState) (t TabletTest, ok bool) {
	typed, day := map[string]record.Record{}, ""
	latest := record.Latest(records)
	for _, r := range latest {
		if strings.HasPrefix(r.Check, pack.TestPrefix) && r.Kind == record.Reading {
			day = max(day, dayOf(r))
		}
	}
	photos := map[string]bool{}
	for _, r := range latest {
		switch {
		case !strings.HasPrefix(r.Check, pack.TestPrefix) || dayOf(r) != day:
		case r.Kind == record.Photo:
			photos[r.Check] = true
		case r.Kind == record.Reading || r.Kind == record.Tick:
			typed[r.Check] = r
		}
	}
	if day == "" {
		return t, false
	}
	s := readingsFile{typed: typed, photos: photos}
	s.remark("Typed on a tablet on %s. Look it through before it counts.", day)
	s.about(openings)
	t.Day, t.Steps = day, s.table()
	t.Text = s.out.Bytes()
	return t, true
}

func dayOf(r record.Record) string { return r.At[:min(len(r.At), len("2026-05-04"))] }

// readingsFile is the file as it is written.
type readingsFile struct {
	typed  map[string]record.Record
	photos map[string]bool
	out    bytes.Buffer
}

// row writes a row; a cell that holds a comma is quoted.
func (s *readingsFile) row(cells ...string) {
	for i, c := range cells {
		cells[i] = strings.Join(strings.Fields(c), " ")
	}
	w := csv.NewWriter(&s.out)
	if err := w.Write(cells); err != nil {
		panic("generator: a buffer refuses a row: " + err.Error())
	}
	w.Flush()
}

func (s *readingsFile) remark(format string, args ...any) {
	s.out.WriteString("# " + strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " ") + "\n")
}

// about writes when, by whom and in which state.
func (s *readingsFile) about(openings []assess.TestState) {
	last := record.Record{}
	for _, r := range s.typed {
		if r.At > last.At || r.At == last.At && r.Check > last.Check {
			last = r
		}
	}
	if len(last.At) >= len("2026-05-04T14:20") {
		s.row("date", strings.Replace(last.At[:len("2026-05-04T14:20")], "T", " ", 1))
	}
	if last.Who != "" {
		s.row("tester", last.Who)
	}
	for _, x := range pack.TestSettings() {
		if r, ok := s.typed[x.Key]; ok {
			s.setting(x, r.Value)
		}
	}
	for _, o := range openings {
		s.opening(o)
	}
}

func (s *readingsFile) setting(x pack.TestSetting, value string) {
	switch {
	case x.Unit != "":
		s.row(x.Name, value, x.Unit)
	case x.Name == "preparation" && value == "3":
		s.remark("preparation, 3, write here which document asks for it")
	default:
		s.row(x.Name, value)
	}
}

// opening writes the state of an opening: as the sheet lists it for the preparation method, where somebody ticked that.
func (s *readingsFile) opening(o assess.TestState) {
	key := pack.TestStateKey(o.ID)
	r, ticked := s.typed[key]
	state := map[string]airtight.State{"1": o.Method1, "2": o.Method2}[s.typed[pack.TestPreparationKey].Value]
	stands := []airtight.State{airtight.Open, airtight.Closed, airtight.Sealed}
	if !ticked || r.Value != "yes" || !slices.Contains(stands, state) {
		s.remark("opening, %s: write open, closed or sealed (%s)", o.ID, o.What)
		return
	}
	cells := []string{"opening", o.ID, string(state)}
	if s.photos[key] {
		cells = append(cells, "photo")
	}
	s.row(cells...)
}

// table writes the readings and counts the complete steps.
func (s *readingsFile) table() (steps int) {
	s.row("direction", "phase", "pressure [Pa]", "flow [m3/h]")
	for _, x := range pack.TestSteps() {
		p, hasP := s.typed[x.PressureKey]
		f, hasF := s.typed[x.FlowKey]
		switch {
		case !hasP && !hasF:
		case x.FlowKey == "":
			s.row(x.Direction, x.Phase, p.Value)
		case hasP && hasF:
			s.row(x.Direction, "step", p.Value, f.Value)
			steps++
		default:
			s.remark("%s, step at %s Pa: pressure %q, flow %q: one of the two is missing", x.Direction, x.Phase, p.Value, f.Value)
		}
	}
	return steps
}
