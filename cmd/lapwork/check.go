package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/diag"
)

func newCheck() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check [JOB]",
		Short: "List every finding with its place and what to change",
		Long: `Reads the job, derives and computes everything a pack would show, and writes nothing.

fault  wrong data: exit 1
open   needs a person: exit 0, with --strict 3
note   worth knowing`,
		Example: `  lapwork check jobs/mill-lane
  lapwork check jobs/mill-lane --strict    exit 3 while a point is open
  lapwork check --json                     for another program`,
		Args: cobra.MaximumNArgs(1),
		RunE: runCheck,
	}
	cmd.Flags().Bool("strict", false, "exit 3 while open points remain")
	cmd.Flags().Bool("json", false, "print the findings as JSON")
	return cmd
}

func runCheck(cmd *cobra.Command, args []string) error {
	src, v, err := sources(cmd, args)
	if err != nil {
		return failed(err)
	}
	report, err := generator.Check(cmd.Context(), generator.Options{Sources: src, Version: Version, Progress: progress(cmd)})
	if err != nil && countLevel(report.Findings, diag.Fault) == 0 {
		return failed(err)
	}
	if v.GetBool("json") {
		if err := writeJSON(cmd.OutOrStdout(), struct {
			Findings []findingJSON `json:"findings"`
		}{findingsJSON(report.Findings)}); err != nil {
			return failed(err)
		}
	} else {
		printFindings(cmd.OutOrStdout(), report.Findings, diag.Fault, diag.Open, diag.Note)
		fmt.Fprintln(cmd.OutOrStdout(), counts(report.Findings))
	}
	switch {
	case err != nil:
		return exitError{code: exitFault}
	case v.GetBool("strict") && countLevel(report.Findings, diag.Open) > 0:
		return exitError{code: exitOpen}
	}
	return nil
}
