package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/diag"
)

func newMoisture() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "moisture [JOB]",
		Short: "Check each build-up for condensed water by the monthly method",
		Long: `Computes every build-up between heated rooms and outside or unheated air: temperatures and vapour pressures month
by month, condensed and drying water, the inside surface, the U-value, and what the answer is worth. Where the moisture
storage of every layer is known it also simulates the years hour by hour, through the weather file (.epw) that the job
names as its climate or through smoothed monthly means. A build-up that is
not proven keeps hanging locked until the job records who accepts it.

Exit 1 on wrong data; with --strict 3 while a build-up is neither proven nor accepted.`,
		Example: `  lapwork moisture jobs/mill-lane
  lapwork moisture jobs/mill-lane --json   every figure, for another program
  lapwork moisture                         the demo job`,
		Args: cobra.MaximumNArgs(1),
		RunE: runMoisture,
	}
	cmd.Flags().Bool("strict", false, "exit 3 while a build-up is neither proven nor accepted")
	cmd.Flags().Bool("json", false, "print the results as JSON")
	return cmd
}

func runMoisture(cmd *cobra.Command, args []string) error {
	src, v, err := sources(cmd, args)
	if err != nil {
		return failed(err)
	}
	report, err := generator.Moisture(cmd.Context(), generator.Options{Sources: src, Version: Version, Progress: progress(cmd)})
	if err != nil {
		return readingFaults(cmd, report.Findings, err)
	}
	if v.GetBool("json") {
		err = writeJSON(cmd.OutOrStdout(), moistureOf(report))
	} else {
		printFindings(cmd.ErrOrStderr(), report.Findings, diag.Fault)
		printMoisture(cmd.OutOrStdout(), report)
	}
	if err != nil {
		return failed(err)
	}
	if v.GetBool("strict") {
		for _, c := range report.Checks.Checks {
			if c.Open() {
				return exitError{code: exitOpen}
			}
		}
	}
	return nil
}

// printMoisture writes one paragraph a build-up: verdict, method and scope, then how to close it.
func printMoisture(w io.Writer, r generator.MoistureReport) {
	for i, c := range r.Checks.Checks {
		v := r.Verdicts[i]
		fmt.Fprintf(w, "%s: %s: %s\n\t%s: %s\n", c.BuildUp.ID, c.Outcome.Word(), v.Verdict, v.Method, v.Scope)
		if c.U > 0 {
			fmt.Fprintf(w, "\tU %.2g W/(m²·K)\n", float64(c.U))
		}
		if s := c.Reserve; s != nil && s.Dry > 0 {
			fmt.Fprintf(w, "\tdrying reserve of %.0f g/m²: months until dry: %d\n", 1000*float64(s.Water), s.Dry)
		}
		printRun(w, c)
		if c.Open() {
			fmt.Fprintf(w, "\thint: %s\n", c.WayOut())
		}
	}
	if len(r.Checks.Checks) == 0 {
		fmt.Fprintln(w, "no build-up stands between a heated room and outside or unheated air")
	}
}
