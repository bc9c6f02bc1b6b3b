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
	Verdicts []pack.Verdict    // in the order of Checks, as the pack's pages show them
	Stores   [][]assess.Stored // in the order of Checks
	Findings []diag.Finding
}

// Moisture checks the build-ups of a job.
func Moisture(ctx context.Context, o Options) (MoistureReport, error) {
	results, report, err := compute(ctx, o)
	if err != nil {
		return MoistureReport{Findings: report.Findings}, err
	}
	out := MoistureReport{Checks: &results.Moisture, Verdicts: pack.MoistureVerdicts(results), Findings: report.Findings}
	for _, c := range results.Moisture.Checks {
		out.Stores = append(out.Stores, results.Stored(c))
	}
	return out, nil
}
