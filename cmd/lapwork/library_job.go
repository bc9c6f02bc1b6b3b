package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/generator"
)

func newLibraryCoverage() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "coverage [JOB]",
		Short: "Show which detail answers each kind of junction of a job",
		Long: `One line for each kind of junction and each detail that answers it, with the layer the detail comes from. Kinds that no
detail answers come first.`,
		Example: "  lapwork library coverage jobs/mill-lane\n  lapwork library coverage --strict    exit 3 while a kind has no detail",
		Args:    cobra.MaximumNArgs(1),
		RunE:    runLibraryCoverage,
	}
	cmd.Flags().Bool("strict", false, "exit 3 while a kind of junction has no detail")
	cmd.Flags().Bool("json", false, "print the table as JSON")
	return cmd
}

func runLibraryCoverage(cmd *cobra.Command, args []string) error {
	src, v, err := sources(cmd, args)
	if err != nil {
		return failed(err)
	}
	results, report, err := generator.Compute(cmd.Context(), generator.Options{Sources: src, Version: Version, Progress: progress(cmd)})
	if err != nil {
		return faults(cmd, report.Findings, err)
	}
	rows := generator.Coverage(results)
	if v.GetBool("json") {
		err = writeJSON(cmd.OutOrStdout(), rows)
	} else {
		err = printCoverage(cmd.OutOrStdout(), rows)
	}
	switch {
	case err != nil:
		return failed(err)
	case v.GetBool("strict") && generator.Gaps(rows) > 0:
		return exitError{code: exitOpen}
	}
	return nil
}

func printCoverage(w io.Writer, rows []generator.Covered) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "edge\titem\tsurfaces\tplaces\tdetail\tfrom\tas at")
	from, places := map[string]int{}, 0
	for _, r := range rows {
		item := strings.Trim(r.Item+", "+r.Part, ", ")
		surfaces := strings.TrimSuffix(r.SurfaceA+" to "+r.SurfaceB, " to ")
		detail := r.Statement
		if detail == "" {
			detail = "NO DETAIL"
		} else if r.Open > 0 {
			detail += fmt.Sprintf(" (%d open)", r.Open)
		}
		places += r.Places
		from[r.Origin] += r.Places
		fmt.Fprintf(table, "%s\t%s\t%s\t%d\t%s\t%s\t%s\n", r.Edge, plain(item), surfaces, r.Places, detail, r.Origin, plain(r.Example[0]))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	gaps := plural(generator.Gaps(rows), "place") + " without a detail"
	if generator.Gaps(rows) == 0 {
		gaps = "no gap"
	}
	_, err := fmt.Fprintf(w, "%s, %s: %s\n", plural(len(rows), "line"), plural(places, "place"), gaps)
	return err
}

func newLibraryPreview() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "preview",
		Short: "Write a site of every detail, with drawings, a job's figures and the source",
		Long: `Writes a folder to open by double-click: every detail of the job's library with its drawing, its steps with the figures
of the job's first place that uses it, its hand-worked examples and its coloured source, and the table of coverage. The
folder must be new and appears whole or not at all.`,
		Example: "  lapwork library preview\n  lapwork library preview --job jobs/mill-lane --out details",
		Args:    cobra.NoArgs,
		RunE:    runLibraryPreview,
	}
	cmd.Flags().String("job", "", "the job whose library and figures are shown (default: the embedded demo)")
	cmd.Flags().String("out", "lapwork-details", "the folder to write")
	return cmd
}

func runLibraryPreview(cmd *cobra.Command, _ []string) error {
	src, err := jobFlag(cmd)
	if err != nil {
		return failed(err)
	}
	v, err := settings(cmd, "") // the firm's out is that of its packs
	if err != nil {
		return failed(err)
	}
	out := v.GetString("out")
	if _, err := os.Lstat(out); !errors.Is(err, fs.ErrNotExist) {
		return failed(fmt.Errorf("%s exists\n\thint: name a new folder with --out; nothing was written", out))
	}
	report, err := generator.Preview(cmd.Context(), generator.Options{Sources: src, Out: out, Version: Version, Progress: progress(cmd)})
	if err != nil {
		return faults(cmd, report.Findings, err)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s: %d pages; open %s/index.html\n", out, report.Pages, out)
	return nil
}

// jobFlag gives the sources of the job named by --job, or of the demo.
func jobFlag(cmd *cobra.Command) (generator.Sources, error) {
	var args []string
	job, err := cmd.Flags().GetString("job")
	if err != nil {
		return generator.Sources{}, err
	}
	if job != "" {
		args = []string{job}
	}
	src, _, err := sources(cmd, args)
	return src, err
}
