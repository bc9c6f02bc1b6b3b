package pack

import (
	"fmt"

	"lapwork/generator/job"
)

// RecordSheet is the empty sheet of a fan test, to be filled in by pen or on the tablet.
type RecordSheet struct {
	Fields   []string // one line each, by pen
	Openings []SheetOpening
	Steps    []SheetStep
	Keep     []string // how the readings come into the job
}

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

// aims are the steps offered: from 60 Pa down in steps of 10 Pa, one more than the five that ISO 9972:2015 5.3.4 asks for
// (from memory).
var aims = []int{60, 50, 40, 30, 20, 10}

// recordSheet lists every opening of the air boundary and the steps of both directions.
func (a *assembler) recordSheet() *RecordSheet {
	s := &RecordSheet{Fields: []string{a.say("Date and time"), a.say("Tester"), a.say("May issue the report, by what right"), a.say("Preparation method 1, 2 or 3"),
		a.say("Fan, calibrated on, due on"), a.say("Gauge, calibrated on, due on"), a.say("Inside °C and %% RH"), a.say("Outside °C and %% RH"), a.say("Air pressure hPa"),
		a.say("Wind near the ground m/s, Beaufort"), a.say("Volume, areas: who measured them")},
		Keep: []string{a.say("Copy the figures into a file of readings in the job's folder, such as tests/interim.csv."),
			a.say("Name it in job.yaml: tests: [{file: tests/interim.csv, kind: interim, by: ..., role: ...}]"),
			a.say("See the result at once: lapwork readings tests/interim.csv")}}
	for _, o := range a.Air.Openings {
		s.Openings = append(s.Openings, SheetOpening{ID: o.ID, What: o.What, Method1: a.word(string(o.Method1)), Method2: a.word(string(o.Method2)), Note: o.Note, Key: "air/state/" + o.ID})
	}
	for _, direction := range []string{"under", "over"} {
		s.Steps = append(s.Steps, a.sheetStep(direction, "before", a.say("fan sealed"), false))
		for _, aim := range aims {
			s.Steps = append(s.Steps, a.sheetStep(direction, fmt.Sprint(aim), fmt.Sprintf("%d Pa", aim), true))
		}
		s.Steps = append(s.Steps, a.sheetStep(direction, "after", a.say("fan sealed"), false))
	}
	return s
}

func (a *assembler) sheetStep(direction, phase, aim string, flow bool) SheetStep {
	key := "air/" + direction + "/" + phase
	s := SheetStep{Direction: a.word(direction), Phase: a.word(phase), Aim: aim, PressureKey: key + "/Pa", PressureLabel: "Pa"}
	if flow {
		s.Phase, s.FlowKey, s.FlowLabel = a.say("step"), key+"/flow", "m³/h"
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
