package assess

import (
	"math"
	"strconv"

	"lapwork/generator/job"
	"lapwork/generator/library"
)

// The checks of the plan that hold a fan test against the job's target.
const (
	interimResult = "QA-32"
	finalResult   = "QA-40"
)

// wideRange is what the number of a check of a storey, zone or job may be: of a fan test the job's own target.
func (r *Results) wideRange(qa *library.QACheck) library.Range {
	switch qa.ID {
	case interimResult:
		return targetRange(r.Job.Target, InterimShare)
	case finalResult:
		return targetRange(r.Job.Target, 1)
	}
	return qa.Range
}

// targetRange is a share of the target as a range, to four decimals.
func targetRange(t job.Target, share float64) library.Range {
	if t.Value <= 0 {
		return library.Range{}
	}
	unit := "m³/(h·m²)"
	if t.Kind == job.N50 {
		unit = "1/h"
	}
	return library.Range{Unit: unit, High: strconv.FormatFloat(math.Round(t.Value*share*1e4)/1e4, 'f', -1, 64)}
}
