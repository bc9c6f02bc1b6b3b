package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/pack"
)

func newReadings() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "readings FILE",
		Short: "Analyse the readings of a fan test after ISO 9972",
		Long: `Reads pressures and flows from a CSV file, takes off the zero-flow pressures, brings the flows to the reference
state, puts a line through each direction and says whether the test is valid and what it shows. With a job the sizes
that the file does not state come from it, and the result is held against its target.

The file: settings, a line each (volume, 412, m3), then a table (direction, phase, pressure [Pa], flow [m3/h]).
Directions are under and over, phases before, step and after. Semicolons with decimal commas are read too.`,
		Example: `  lapwork readings tests/final.csv
  lapwork readings tests/interim.csv --job jobs/mill-lane --kind interim
  lapwork readings tests/final.csv --limit no-minimum --json`,
		Args: cobra.ExactArgs(1),
		RunE: runReadings,
	}
	cmd.Flags().String("job", "", "the job whose sizes and target count")
	cmd.Flags().String("kind", "final", "baseline, interim (held against 0.8 of the target) or final")
	cmd.Flags().String("limit", "", "id of a row of the table of limits to hold the result against")
	cmd.Flags().String("by", "", "who read it")
	cmd.Flags().Bool("tester", false, "an independent tester read it; else it counts as the firm's own reading")
	cmd.Flags().Bool("json", false, "print the result as JSON")
	return cmd
}

func runReadings(cmd *cobra.Command, args []string) error {
	flags := cmd.Flags()
	jobDir, err := flags.GetString("job")
	if err != nil {
		return err
	}
	src := generator.Sources{Content: content.FS}
	v, err := settings(cmd, "")
	if jobDir != "" && err == nil {
		src, v, err = sources(cmd, []string{jobDir})
	}
	if err != nil {
		return failed(err)
	}
	kind := job.TestKind(v.GetString("kind"))
	if kind != job.BaselineTest && kind != job.InterimTest && kind != job.FinalTest {
		return fmt.Errorf("--kind %s: write baseline, interim or final", kind)
	}
	text, err := os.ReadFile(args[0])
	if err != nil {
		return failed(fmt.Errorf("%w\n\thint: name a CSV file of readings", err))
	}
	test := job.FanTest{File: filepath.Base(args[0]), Shown: args[0], Readings: text, Kind: kind, By: v.GetString("by")}
	if v.GetBool("tester") {
		test.Role = "tester"
	}
	report, err := generator.Readings(cmd.Context(), generator.ReadingsOptions{Sources: src, Test: test, Limit: v.GetString("limit")})
	if v.GetBool("json") {
		if jsonErr := writeJSON(cmd.OutOrStdout(), readingsOf(report)); jsonErr != nil {
			return failed(jsonErr)
		}
		if err != nil {
			return exitError{code: exitFault}
		}
		return nil
	}
	if err != nil {
		return readingFaults(cmd, report.Findings, err)
	}
	printFindings(cmd.ErrOrStderr(), report.Findings, diag.Note)
	if err := printSheet(cmd.OutOrStdout(), report.Sheet); err != nil {
		return failed(err)
	}
	if jobDir != "" && !report.Kept {
		fmt.Fprintf(cmd.OutOrStdout(), "\nto keep it with the job: copy it to %s and add to job.yaml\n  tests: [{file: tests/%s, kind: %s, by: ...}]\n",
			filepath.ToSlash(filepath.Join(jobDir, "tests", test.File)), test.File, kind)
	}
	return nil
}

// readingFaults prints every fault of the readings and ends with code 1.
func readingFaults(cmd *cobra.Command, found []diag.Finding, err error) error {
	if countLevel(found, diag.Fault) == 0 {
		return failed(err)
	}
	printFindings(cmd.ErrOrStderr(), found, diag.Fault)
	return exitError{exitFault, counts(found)}
}

// printSheet writes a test result sheet: validity and residuals first, then the figures with their bands.
func printSheet(w io.Writer, s pack.FanTest) error {
	fmt.Fprintf(w, "%s: test result sheet\n%s: %s (%s)\n", s.Title, s.Validity.Item, s.Validity.Verdict, s.Validity.Method)
	for _, b := range s.Breaches {
		fmt.Fprintf(w, "  %s %s\n\t%s\n", b.Item, b.Text, b.Hint)
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	for _, series := range s.Series {
		fmt.Fprintf(t, "\n%s\n", series.Title)
		for _, f := range series.Facts {
			fmt.Fprintf(t, "  %s: %s\n", f.Label, strings.TrimSpace(f.Value+" "+f.Unit))
		}
		fmt.Fprintln(t, "no\tPa\tm³/h\toff the line\t")
		for _, p := range series.Points {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t\n", p.No, p.Pressure, p.Flow, p.Off)
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w)
	for _, list := range [][]pack.Figure{s.Figures, s.Areas} {
		for _, f := range list {
			fmt.Fprintf(w, "%s: %s, %s\n", f.Label, strings.TrimSpace(f.Value+" "+f.Unit), f.Formula)
		}
	}
	for _, size := range s.Sizes {
		fmt.Fprintln(w, size)
	}
	for _, o := range s.Outcomes {
		fmt.Fprintf(w, "%s, %s: %s\n", o.Method, o.Item, o.Verdict)
	}
	for _, list := range [][]pack.Term{s.Setup, s.Openings} {
		for _, x := range list {
			fmt.Fprintf(w, "%s: %s\n", x.Name, x.Text)
		}
	}
	if s.Unrecorded != "" {
		fmt.Fprintf(w, "Not recorded: %s\n", s.Unrecorded)
	}
	if s.Prevails != "" {
		fmt.Fprintln(w, s.Prevails)
	}
	return nil
}
