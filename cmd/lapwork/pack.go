package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/diag"
)

func newPack() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pack [JOB]",
		Short: "Write the offline pack of a job (no JOB: the embedded demo)",
		Long: `Writes the pack as a folder to open by double-click, and inside it the whole pack as one self-contained file for
tablets. The folder appears whole or not at all. Only an earlier pack is ever replaced.`,
		Example: `  lapwork pack                       the demo job, into ./lapwork-pack
  lapwork pack jobs/mill-lane        a job of yours
  lapwork pack jobs/mill-lane --out /media/stick/mill-lane
  lapwork pack jobs/mill-lane --handover      for the client, at the end`,
		Args: cobra.MaximumNArgs(1),
		RunE: runPack,
	}
	cmd.Flags().String("out", "lapwork-pack", "the folder to write")
	cmd.Flags().Bool("handover", false, "put the handover first: what was built, by whom, and what is open")
	cmd.Flags().Bool("json", false, "print the report as JSON")
	return cmd
}

// packJSON is the report of pack as --json prints it.
type packJSON struct {
	Out      string        `json:"out"`
	Revision string        `json:"revision"`
	Pages    int           `json:"pages"`
	Files    int           `json:"files"`
	Bytes    int           `json:"bytes"`
	Findings []findingJSON `json:"findings"`
}

func runPack(cmd *cobra.Command, args []string) error {
	src, v, err := sources(cmd, args)
	if err != nil {
		return failed(err)
	}
	out := v.GetString("out")
	report, err := generator.Generate(cmd.Context(), generator.Options{Sources: src, Out: out, Version: Version, Handover: v.GetBool("handover"), Progress: progress(cmd)})
	if v.GetBool("json") {
		if jsonErr := writeJSON(cmd.OutOrStdout(), packJSON{out, report.Revision, report.Pages, report.Files, report.Bytes,
			findingsJSON(report.Findings)}); jsonErr != nil {
			return failed(jsonErr)
		}
		if err != nil {
			return exitError{code: exitFault}
		}
		return nil
	}
	if err != nil {
		return faults(cmd, report.Findings, err)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s: %d pages, %d files, %.1f MB, revision %s\n", out, report.Pages, report.Files,
		float64(report.Bytes)/1e6, report.Revision)
	fmt.Fprintf(cmd.OutOrStdout(), "open %s/index.html on a computer, %s/%s on a tablet\n", out, out, report.Single)
	if n := countLevel(report.Findings, diag.Open); n > 0 {
		fmt.Fprintf(cmd.OutOrStdout(), "%s: marked on their pages; list them with: lapwork check\n", plural(n, "open point"))
	}
	return nil
}

// faults prints every fault of the input, or the error where it is another one, and ends with code 1.
func faults(cmd *cobra.Command, found []diag.Finding, err error) error {
	if countLevel(found, diag.Fault) == 0 {
		return failed(err)
	}
	printFindings(cmd.ErrOrStderr(), found, diag.Fault)
	return exitError{exitFault, counts(found) + "; nothing was written"}
}

func countLevel(found []diag.Finding, level diag.Level) int {
	n := 0
	for _, g := range diag.Gather(found) {
		if g.Level == level {
			n++
		}
	}
	return n
}
