package generator

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/airtight"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/pack"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// ReadingsOptions is a file of fan-test readings and what it is held against.
type ReadingsOptions struct {
	Sources // Job nil: no job, then sizes and limit come from the file and the option only
	Test    job.FanTest
	Limit   string // id of a row of the table of limits; empty: none
}

// ReadingsReport is the result of a file of readings.
type ReadingsReport struct {
	Test     assess.AirTest
	Sheet    pack.FanTest // the same as the pack's page shows it
	Kept     bool         // the job names the file already
	Findings []diag.Finding
}

// Readings analyses fan-test readings: with the sizes and the target of a job where one is given.
func Readings(_ context.Context, o ReadingsOptions) (ReadingsReport, error) {
	var found diag.List
	report := ReadingsReport{}
	with := assess.TestSetting{Format: q.English}
	err := o.setting(&with, &report, &found)
	if err == nil {
		report.Test = assess.ReadTest(o.Test, with, &found)
		if err = found.Err(); err == nil {
			report.Sheet = pack.TestSheet(report.Test, with.Format, nil)
		}
	}
	report.Findings = found.Sorted()
	return report, err
}

// setting gathers what the readings are held against.
func (o ReadingsOptions) setting(with *assess.TestSetting, report *ReadingsReport, found *diag.List) error {
	if o.Job == nil {
		air := library.LoadAir(Layers(o.Sources, found), found)
		return withLimit(with, air, o.Limit, found)
	}
	lib, j, _ := load(o.Sources, found)
	if found.Err() != nil || j == nil {
		return found.Err()
	}
	model := surface.Derive(j, found)
	if found.Err() != nil {
		return found.Err()
	}
	with.Format, with.Sizes = q.FormatFor(j.Language), assess.SizesOf(j, model.Total)
	with.Openings = assess.TestOpenings(model, &lib.Air)
	target, err := assess.TargetOf(j, with.Sizes)
	if err != nil {
		return err
	}
	share := 1.0
	if o.Test.Kind == job.InterimTest {
		share = assess.InterimShare
	}
	with.Limits = []airtight.Limit{target.AsLimit(j.Target.Source, share)}
	for _, t := range j.Tests {
		report.Kept = report.Kept || bytes.Equal(t.Readings, o.Test.Readings)
	}
	return withLimit(with, lib.Air, cmp.Or(o.Limit, j.Target.Limit), found)
}

// withLimit adds a row of the table of limits.
func withLimit(with *assess.TestSetting, air library.AirTables, id string, found *diag.List) error {
	if id == "" {
		return found.Err()
	}
	l, ok := air.Limit(id)
	if !ok {
		return fmt.Errorf("there is no limit %q in the table of limits\n\thint: known: %s", id, strings.Join(air.LimitIDs(), ", "))
	}
	with.Limits = append(with.Limits, l)
	return found.Err()
}
