package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/lang"
)

func newChanges() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "changes OLD NEW",
		Short: "Print what a new issue of a job adds and takes away, room by room",
		Long: `Compares two folders of one job, such as two issues of it: layer, sheet, tape and fitting time of each room that
differs, and of the whole, and who ordered it. The sheet is for the client; prices stand in it only where the job or the
firm states them. With --out it is written as a page to print and sign, in the
job's language and as the firm's pages look.`,
		Example: `  lapwork changes jobs/mill-lane-issue-1 jobs/mill-lane
  lapwork changes jobs/mill-lane-issue-1 jobs/mill-lane --out variation-2.html`,
		Args: cobra.ExactArgs(2),
		RunE: runChanges,
	}
	cmd.Flags().String("out", "", "a new HTML file to write the sheet into")
	cmd.Flags().Bool("json", false, "print the differences as JSON")
	return cmd
}

// issueJSON is one issue of a job as --json prints it.
type issueJSON struct {
	Name    string `json:"name"`
	Issue   int    `json:"issue"`
	Date    string `json:"date"`
	By      string `json:"by"`
	Reason  string `json:"reason"`
	Ordered string `json:"ordered"`
	tallyJSON
}

func newIssueJSON(i generator.IssueTally) issueJSON {
	return issueJSON{i.Reference + " " + i.Name, i.Issue.Number, i.Issue.Date, i.Issue.By, i.Issue.Reason, i.Issue.Ordered, newTallyJSON(i.Tally)}
}

func runChanges(cmd *cobra.Command, args []string) error {
	var issues [2]generator.IssueTally
	var src generator.Sources
	var texts *lang.Catalogue
	for i, arg := range args {
		var err error
		if src, _, err = sources(cmd, []string{arg}); err != nil {
			return failed(err)
		}
		results, report, err := generator.Compute(cmd.Context(), generator.Options{Sources: src, Version: Version})
		if err != nil {
			return faults(cmd, report.Findings, err)
		}
		issues[i], texts = generator.IssueOf(results), generator.Texts(src, results.Job)
	}
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	if out := v.GetString("out"); out != "" {
		return failed(writeVariation(out, generator.VariationOf(issues[0], issues[1], texts), src, texts))
	}
	if v.GetBool("json") {
		return failed(writeJSON(cmd.OutOrStdout(), struct {
			Old   issueJSON        `json:"old"`
			New   issueJSON        `json:"new"`
			Rooms []roomChangeJSON `json:"rooms"`
		}{newIssueJSON(issues[0]), newIssueJSON(issues[1]), newRoomChangesJSON(generator.Changes(issues[0].Tally, issues[1].Tally))}))
	}
	return failed(printVariation(cmd.OutOrStdout(), generator.VariationOf(issues[0], issues[1], nil)))
}

// writeVariation writes the sheet as a page of its own, to print and sign; it replaces nothing.
func writeVariation(name string, v generator.Variation, src generator.Sources, texts *lang.Catalogue) error {
	page, err := generator.VariationPage(v, src, texts)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("%w\n\thint: name a new file with --out; nothing was written", err)
	}
	if _, err := f.Write(page); err != nil {
		return errors.Join(err, f.Close())
	}
	return f.Close()
}

// printVariation writes the sheet as text.
func printVariation(w io.Writer, v generator.Variation) error {
	fmt.Fprintf(w, "%s\n%s to %s, by %s: %s\n", v.Job, v.Old, v.New, v.By, v.Reason)
	if v.Ordered != "" {
		fmt.Fprintf(w, "ordered: %s\n", v.Ordered)
	}
	fmt.Fprintln(w)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "room\t\tlayer\tsheet\ttape\tfitting\tcost of fitting")
	for _, r := range append(v.Rooms, v.Sum) {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", r.Room, r.What, r.Layer, r.Sheet, r.Tape, r.Fitting, r.Wages)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "\nrolls %s, finish %s\n", v.Rolls, v.Finish)
	for _, m := range v.Money {
		fmt.Fprintf(w, "%s: %s to %s, %s\n", m.What, m.Old, m.New, m.Change)
	}
	for _, n := range v.Notes {
		fmt.Fprintln(w, n)
	}
	return nil
}
