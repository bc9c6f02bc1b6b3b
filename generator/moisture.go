package generator

import (
	"context"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/pack"
)

// MoistureReport is the moisture checks of a job.
type MoistureReport struct {
	Checks   *assess.Moisture
	Verdicts []pack.Verdict // in the order of Checks, as the pack's pages show them
	Findings []diag.Finding
}

// Moisture checks the build-ups of a job.
func Moisture(ctx context.Context, o Options) (MoistureReport, error) {
	results, report, err := compute(ctx, o)
	if err != nil {
		return MoistureReport{Findings: report.Findings}, err
	}
	return MoistureReport{Checks: &results.Moisture, Verdicts: pack.MoistureVerdicts(results), Findings: report.Findings}, nil
}
