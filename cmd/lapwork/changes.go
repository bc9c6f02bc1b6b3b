package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/generator"
	q "lapwork/generator/quantity"
)

func newChanges() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "changes OLD NEW",
		Short: "Print what a new issue of a job adds and takes away, room by room",
		Long: `Compares two folders of one job, such as two issues of it: layer, sheet, tape and fitting time of each room that
differs, and of the whole. The sheet is for the client; prices stand in it only where the job states them.`,
		Example: "  lapwork changes jobs/mill-lane-issue-1 jobs/mill-lane",
		Args:    cobra.ExactArgs(2),
		RunE:    runChanges,
	}
	cmd.Flags().Bool("json", false, "print the differences as JSON")
	return cmd
}

// issue is one issue of a job with its tally.
type issue struct {
	Name   string `json:"name"`
	Issue  int    `json:"issue"`
	Date   string `json:"date"`
	By     string `json:"by"`
	Reason string `json:"reason"`
	generator.Tally
}

func runChanges(cmd *cobra.Command, args []string) error {
	var issues [2]issue
	for i, arg := range args {
		src, _, err := sources(cmd, []string{arg})
		if err != nil {
			return failed(err)
		}
		results, report, err := generator.Compute(cmd.Context(), generator.Options{Sources: src, Version: Version})
		if err != nil {
			return faults(cmd, report.Findings, err)
		}
		issues[i] = issue{Name: results.Job.Reference + " " + results.Job.Name, Tally: generator.TallyOf(results)}
		if is := results.Job.Issue; is != nil {
			issues[i].Issue, issues[i].Date, issues[i].By, issues[i].Reason = is.Number, is.Date, is.By, is.Reason
		}
	}
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	changes := generator.Changes(issues[0].Tally, issues[1].Tally)
	if v.GetBool("json") {
		return failed(writeJSON(cmd.OutOrStdout(), struct {
			Old   issue                  `json:"old"`
			New   issue                  `json:"new"`
			Rooms []generator.RoomChange `json:"rooms"`
		}{issues[0], issues[1], changes}))
	}
	return failed(printChanges(cmd.OutOrStdout(), issues[0], issues[1], changes))
}

// printChanges writes the variation sheet.
func printChanges(w io.Writer, before, after issue, changes []generator.RoomChange) error {
	fmt.Fprintf(w, "%s\nissue %d of %s to issue %d of %s, by %s: %s\n\n", after.Name, before.Issue, before.Date, after.Issue, after.Date, after.By, after.Reason)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "room\t\tlayer\tsheet\ttape\tfitting")
	var none generator.RoomTally
	for _, c := range changes {
		was, now, what := &none, &none, "changed"
		switch {
		case c.Old == nil:
			now, what = c.New, "added"
		case c.New == nil:
			was, what = c.Old, "removed"
		default:
			was, now = c.Old, c.New
		}
		id := now.Room
		if c.New == nil {
			id = was.Room
		}
		fmt.Fprintf(table, "%s\t%s\t%s\n", id, what, differences(was.Layer, now.Layer, was.Sheet, now.Sheet, was.Tape, now.Tape, was.Minutes.Likely, now.Minutes.Likely))
	}
	fmt.Fprintf(table, "all\t\t%s\n", differences(before.Layer, after.Layer, before.Sheet, after.Sheet, before.Tape, after.Tape,
		before.Minutes.Likely, after.Minutes.Likely))
	if err := table.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\nrolls %d to %d, finish %s to %s\n", before.Rolls, after.Rolls, before.Finish, after.Finish)
	return err
}

func differences(l0, l1, s0, s1 q.Area, t0, t1 q.Length, m0, m1 q.Minutes) string {
	f := q.English
	sign := func(x float64) string {
		if x > 0 {
			return "+"
		}
		return ""
	}
	minutes := f.Minutes(m1 - m0)
	if m1 < m0 {
		minutes = "−" + f.Minutes(m0-m1)
	}
	return fmt.Sprintf("%s%s\t%s%s\t%s%s\t%s%s", sign(float64(l1-l0)), f.Area(l1-l0), sign(float64(s1-s0)), f.Area(s1-s0),
		sign(float64(t1-t0)), f.Metres(t1-t0), sign(float64(m1-m0)), minutes)
}
