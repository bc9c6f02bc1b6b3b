package assess

import (
	"errors"
	"math"
	"slices"
	"strings"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// AirTest is a fan test with everything that follows from its readings.
type AirTest struct {
	Stated     job.FanTest
	Input      airtight.Input
	Result     airtight.Test
	Flow       airtight.Flow // at 50 Pa; only with a line
	Exponent   float64
	HasLine    bool
	Figures    []airtight.Measured // n50, qE50, qF50, as far as the sizes are known
	Areas      []airtight.LeakageArea
	Outcomes   []airtight.Outcome // the target first
	SizesHow   []SizeUsed         // where each size comes from
	Unrecorded []string           // what a report has to say and the readings do not
	Own        bool               // not by a tester: the tester's signed report prevails
}

// TestState is an opening of the air boundary and how it stands during a test by preparation methods 1 and 2.
type TestState struct {
	ID, What         string
	Room             *job.Room
	Method1, Method2 airtight.State
	Note             string
}

// TestSetting is what readings are analysed against.
type TestSetting struct {
	Sizes    surface.Totals // zero: only what the readings state
	Limits   []airtight.Limit
	Openings []TestState
	Format   q.Format
}

// ReadTest analyses the readings of a fan test after ISO 9972:2015. Faults in the file are added to found, and the test is
// then of no use.
func ReadTest(stated job.FanTest, with TestSetting, found *diag.List) AirTest {
	t := AirTest{Stated: stated, Own: stated.Role != "tester"}
	var own diag.List
	t.Input = airtight.ParseReadings(stated.Shown, stated.Readings, &own)
	found.Add(own.Sorted()...)
	if own.Err() != nil {
		return t
	}
	t.SizesHow = fillSizes(&t.Input.Building, with.Sizes, with.Format)
	if b := t.Input.Building; b.Volume == 0 && b.Envelope == 0 && b.Floor == 0 {
		found.Notef(diag.Pos{File: stated.Shown}, "", "neither volume nor area is stated: the flow can be given, no n50, qE50 or qF50")
	}
	var err error
	if t.Result, err = airtight.Analyse(t.Input, airtight.ISO9972(), with.Format); err != nil {
		found.Faultf(diag.Pos{File: stated.Shown}, "check the settings above the table", "%v", err)
		return t
	}
	if err = t.form(with.Limits); err != nil {
		found.Faultf(diag.Pos{File: stated.Shown}, "check the readings", "%v", err)
	}
	t.Unrecorded = append(t.Input.Setup.Missing(with.Format), t.unstatedOpenings(with)...)
	return t
}

// form forms the figures, areas and outcomes of a test that has a line.
func (t *AirTest) form(limits []airtight.Limit) error {
	var err error
	if t.Flow, err = t.Result.At(50); err != nil {
		if errors.Is(err, airtight.ErrNoLine) {
			return nil
		}
		return err
	}
	t.HasLine = true
	if t.Exponent, err = t.Result.Exponent(50); err != nil {
		return err
	}
	if t.Areas, err = t.Result.Areas(); err != nil {
		return err
	}
	for _, m := range Metrics50() {
		switch f, err := t.Result.Measure(m); {
		case err == nil:
			t.Figures = append(t.Figures, f)
		case !errors.Is(err, airtight.ErrMetric):
			return err
		}
	}
	for _, l := range limits {
		if l.Comparison == airtight.NotCompared {
			continue
		}
		f, err := t.Result.Measure(l.Metric)
		if errors.Is(err, airtight.ErrMetric) {
			continue // its size is not known; the page shows which are
		}
		if err != nil {
			return err
		}
		o, err := l.Judge(f)
		if err != nil {
			return err
		}
		t.Outcomes = append(t.Outcomes, o)
	}
	return nil
}

// SizeUsed is a size that a test's figures are formed with. How is empty where the readings state it; Own is then what the job
// has, where that is another figure.
type SizeUsed struct{ Name, Value, How, Own string }

// sizeApart is the share from which a size that the readings state is another one than the job's: what two people measure in
// one house. Own choice.
const sizeApart = 0.01

// fillSizes takes from the job what the readings do not state, and says where each size comes from.
func fillSizes(b *airtight.Building, own surface.Totals, f q.Format) []SizeUsed {
	var out []SizeUsed
	add := func(name string, stated, job float64, text func(float64) string, how string) float64 {
		switch {
		case stated > 0 && job > 0 && math.Abs(stated-job) > sizeApart*job:
			out = append(out, SizeUsed{Name: name, Value: text(stated), Own: text(job)})
		case stated > 0:
			out = append(out, SizeUsed{Name: name, Value: text(stated)})
		case job > 0:
			out = append(out, SizeUsed{Name: name, Value: text(job), How: how})
			return job
		}
		return stated
	}
	volume, area := func(x float64) string { return f.Volume(q.Volume(x)) }, func(x float64) string { return f.Area(q.Area(x)) }
	b.Volume = q.Volume(add("V", float64(b.Volume), float64(own.Volume), volume, own.VolumeHow))
	b.Envelope = q.Area(add("AE", float64(b.Envelope), float64(own.EnvelopeArea), area, own.EnvelopeHow))
	b.Floor = q.Area(add("AF", float64(b.Floor), float64(own.FloorArea), area, own.FloorHow))
	return out
}

// unstatedOpenings names the openings of the job whose state the readings do not record.
func (t *AirTest) unstatedOpenings(with TestSetting) []string {
	stated := t.Input.Setup.Openings
	if len(stated) == 0 {
		return nil // said already: none is recorded
	}
	var ids []string
	for _, o := range with.Openings {
		if !slices.ContainsFunc(stated, func(s airtight.OpeningState) bool { return s.ID == o.ID }) {
			ids = append(ids, o.ID)
		}
	}
	if len(ids) == 0 {
		return nil
	}
	return []string{with.Format.Says("the state of %s", several(ids))}
}

// tests analyses the tests kept with the job: an interim one is held against its share of the target.
func (r *Results) tests(a Air, found *diag.List) []AirTest {
	var out []AirTest
	for _, stated := range r.Job.Tests {
		share := 1.0
		if stated.Kind == job.InterimTest {
			share = InterimShare
		}
		format := q.FormatFor(r.Job.Language)
		format.Say = r.Lang.Say
		with := TestSetting{Sizes: a.Sizes, Openings: a.Openings, Format: format,
			Limits: []airtight.Limit{a.Target.AsLimit(r.Job.Target.Source, share)}}
		if a.Limit != nil {
			with.Limits = append(with.Limits, *a.Limit)
		}
		t := ReadTest(stated, with, found)
		t.report(found)
		out = append(out, t)
	}
	return out
}

// report adds what somebody has to settle about a test.
func (t AirTest) report(found *diag.List) {
	if t.Result.Verdict >= airtight.Invalid {
		found.Openf(t.Stated.Pos, t.Stated.File, "test again; the page says which rule is not kept", "%s test: %v", t.Stated.Kind, t.Result.Verdict)
	}
	if t.Stated.Kind != job.BaselineTest && len(t.Outcomes) > 0 && t.Outcomes[0].Decision < airtight.PassClose && t.Result.Verdict < airtight.Invalid {
		found.Openf(t.Stated.Pos, t.Stated.File, "leak search, repair, test again", "%s test: the target is not shown to be met", t.Stated.Kind)
	}
	if len(t.Unrecorded) > 0 {
		found.Openf(t.Stated.Pos, t.Stated.File, "add the lines to the file of readings", "%s test: not recorded: %s", t.Stated.Kind, strings.Join(t.Unrecorded, "; "))
	}
	for _, i := range t.Input.Setup.Expired() {
		found.Openf(i.Pos, t.Stated.File, "have it calibrated, and the test repeated or accepted by the tester", "%s test: the calibration of %s had run out on %s", t.Stated.Kind, i.Name, i.Due)
	}
}

// TestOpenings lists every opening of the air boundary with how it stands during a test, room by room.
func TestOpenings(m *surface.Model, tables *library.AirTables) []TestState {
	var out []TestState
	add := func(id, item, serves string, room *job.Room) {
		t := tables.Openings.Find(item)
		if t == nil {
			return
		}
		out = append(out, TestState{ID: id, What: whatOpening(t, serves), Room: room, Method1: t.Method1, Method2: t.Method2, Note: t.Note})
	}
	for _, room := range m.Rooms {
		for _, s := range room.Surfaces {
			if !s.AirBoundary {
				continue
			}
			for _, o := range s.Openings {
				add(string(o.ID), o.Kind, "", room.Room)
			}
			for _, p := range s.Penetrations {
				add(string(p.ID), p.Item, p.Serves, room.Room)
			}
		}
	}
	return out
}

func whatOpening(t *library.TestOpening, serves string) string {
	if serves == "" {
		return t.Title
	}
	return t.Title + ", " + serves
}
