package pack

import (
	"fmt"

	"lapwork/generator/job"
)

// RecordSheet is the empty sheet of a fan test, to be filled in by pen or on the tablet.
type RecordSheet struct {
	Fields   []string       // one line each, by pen
	Settings []SheetSetting // figures typed once
	Openings []SheetOpening
	Steps    []SheetStep
	Keep     []string // how the readings come into the job
}

// SheetSetting is a figure of the weather or the test.
type SheetSetting struct{ Label, Unit, Key string }

// SheetOpening is one opening whose state has to be recorded.
type SheetOpening struct {
	ID, What, Method1, Method2, Note string
	Key                              string // record key
}

// SheetStep is one step of the fan; Aim is the pressure aimed at.
type SheetStep struct {
	Direction, Phase, Aim    string
	PressureKey, FlowKey     string
	PressureLabel, FlowLabel string // empty FlowLabel: the fan is sealed
}

// recordSheet lists every opening of the air boundary and the steps of both directions.
func (a *assembler) recordSheet() *RecordSheet {
	s := &RecordSheet{Fields: []string{a.say("Date and time"), a.say("Tester"), a.say("May issue the report, by what right"),
		a.say("Fan, calibrated on, due on"), a.say("Gauge, calibrated on, due on"), a.say("Volume, areas: who measured them")},
		Keep: []string{a.say("Typed on a tablet: lapwork gather JOB FILE --readings tests/interim.csv writes the file of readings."),
			a.say("By pen: copy the figures into a file of readings in the job's folder, such as tests/interim.csv."),
			a.say("Name it in job.yaml: tests: [{file: tests/interim.csv, kind: interim, by: ..., role: ...}]"),
			a.say("See the result at once: lapwork readings tests/interim.csv")}}
	labels := map[string]string{"preparation": a.say("Preparation method, 1, 2 or 3"), "inside temperature": a.say("Inside temperature"), "inside humidity": a.say("Inside humidity"),
		"outside temperature": a.say("Outside temperature"), "outside humidity": a.say("Outside humidity"), "air pressure": a.say("Air pressure"),
		"ground wind": a.say("Wind near the ground"), "beaufort": a.say("Wind, Beaufort")}
	for _, x := range TestSettings() {
		unit := x.Unit
		if unit == "C" {
			unit = "°C"
		}
		s.Settings = append(s.Settings, SheetSetting{labels[x.Name], unit, x.Key})
	}
	for _, o := range a.Air.Openings {
		s.Openings = append(s.Openings, SheetOpening{ID: o.ID, What: o.What, Method1: a.word(string(o.Method1)), Method2: a.word(string(o.Method2)), Note: o.Note, Key: TestStateKey(o.ID)})
	}
	for _, x := range TestSteps() {
		step := SheetStep{Direction: a.word(x.Direction), Phase: a.word(x.Phase), Aim: a.say("fan sealed"), PressureKey: x.PressureKey, PressureLabel: "Pa"}
		if x.FlowKey != "" {
			step.Phase, step.Aim, step.FlowKey, step.FlowLabel = a.say("step"), fmt.Sprintf("%s Pa", x.Phase), x.FlowKey, "m³/h"
		}
		s.Steps = append(s.Steps, step)
	}
	return s
}

// tested tells whether such a test is kept with the job.
func (a *assembler) tested(kind job.TestKind) bool {
	for _, t := range a.Job.Tests {
		if t.Kind == kind {
			return true
		}
	}
	return false
}
