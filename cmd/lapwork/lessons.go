package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/record"
)

func newLessons() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "lessons JOB...",
		Short: "Put what was recorded in jobs beside what was planned: minutes, waste, defects, leakage",
		Long: `Reads jobs with their records and prints two tables as CSV: the jobs, and the kinds of junction over all of them with
defects, planned minutes, answers of the leak search and leakage. They say which rate, waste or workmanship figure of the
firm's tables to correct. With --out the tables are written as lessons.csv and as a page, lessons.html, which looks as
the firm of the first job has it.`,
		Example: `  lapwork lessons jobs/*
  lapwork lessons jobs/mill-lane jobs/quarry-house --out reports`,
		Args: cobra.MinimumNArgs(1),
		RunE: runLessons,
	}
	cmd.Flags().String("out", "", "the folder to write lessons.csv and lessons.html into; it must be there")
	return cmd
}

func runLessons(cmd *cobra.Command, args []string) error {
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	var results []*assess.Results
	var journals []record.Journal
	var look generator.Sources
	for i, arg := range args {
		src, _, err := sources(cmd, []string{arg})
		if err != nil {
			return failed(err)
		}
		if i == 0 {
			look = src
		}
		r, report, err := generator.Compute(cmd.Context(), generator.Options{Sources: src, Version: Version})
		if err != nil {
			return faults(cmd, report.Findings, err)
		}
		journal, notes := record.Load(src.Job)
		for _, f := range notes.Sorted() {
			fmt.Fprintln(cmd.ErrOrStderr(), plainLines(f.String()))
		}
		results, journals = append(results, r), append(journals, journal)
	}
	lessons := generator.Learn(results, journals)
	table, err := lessons.CSV()
	if err != nil {
		return failed(err)
	}
	out := v.GetString("out")
	if out == "" {
		_, err = cmd.OutOrStdout().Write(table)
		return failed(err)
	}
	page, err := lessons.Page(look)
	if err != nil {
		return failed(err)
	}
	for name, data := range map[string][]byte{"lessons.csv": table, "lessons.html": page} {
		if err := os.WriteFile(filepath.Join(out, name), data, 0o644); err != nil {
			return failed(err)
		}
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s and %s\n", filepath.Join(out, "lessons.csv"), filepath.Join(out, "lessons.html"))
	return nil
}
