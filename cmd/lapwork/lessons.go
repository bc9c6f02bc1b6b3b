package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/lang"
	"lapwork/generator/record"
)

func newLessons() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "lessons JOB...",
		Short: "Put what was recorded in jobs beside what was planned: minutes, waste, defects, leakage",
		Long: `Reads jobs with their records and prints two tables as CSV: the jobs, and the kinds of junction over all of them with
defects, planned minutes, answers of the leak search and leakage. They say which rate, waste or workmanship figure of the
firm's tables to correct. With --out the tables are written as lessons.csv and as a page, lessons.html, which looks as
the firm of the first job has it. They are in the language of the first job, or in that of --lang.`,
		Example: `  lapwork lessons jobs/*
  lapwork lessons jobs/mill-lane jobs/quarry-house --out reports
  lapwork lessons jobs/* --lang de --out reports`,
		Args: cobra.MinimumNArgs(1),
		RunE: runLessons,
	}
	cmd.Flags().String("out", "", "the folder to write lessons.csv and lessons.html into; it must be there")
	cmd.Flags().String("lang", "", "tag of the language to say it in: de (default: that of the first job)")
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
	var texts *lang.Catalogue
	tag := v.GetString("lang")
	for i, arg := range args {
		src, _, err := sources(cmd, []string{arg})
		if err != nil {
			return failed(err)
		}
		if i == 0 && tag != "" { // before a job is computed: a language that is not there is a slip of the command line
			if texts, err = generator.TextsIn(src, tag); err != nil {
				return failed(err)
			}
		}
		r, report, err := generator.ComputeIn(cmd.Context(), generator.Options{Sources: src, Version: Version}, tag)
		if err != nil {
			return faults(cmd, report.Findings, err)
		}
		if i == 0 {
			look, tag = src, r.Job.Language
			if texts == nil {
				texts = generator.Texts(src, r.Job)
			}
		}
		journal, notes := record.Load(src.Job)
		for _, f := range notes.Sorted() {
			fmt.Fprintln(cmd.ErrOrStderr(), plainLines(f.String()))
		}
		results, journals = append(results, r), append(journals, journal)
	}
	lessons := generator.Learn(results, journals)
	table, err := lessons.CSV(texts)
	if err != nil {
		return failed(err)
	}
	out := v.GetString("out")
	if out == "" {
		_, err = cmd.OutOrStdout().Write(table)
		return failed(err)
	}
	page, err := lessons.Page(look, texts)
	if err != nil {
		return failed(err)
	}
	return failed(writeLessons(cmd.OutOrStdout(), out, table, page))
}

// writeLessons writes both files into a folder that is there, each whole or not at all.
func writeLessons(w io.Writer, dir string, table, page []byte) error {
	if _, err := os.Stat(dir); err != nil {
		return err
	}
	csv, html := filepath.Join(dir, "lessons.csv"), filepath.Join(dir, "lessons.html")
	if err := errors.Join(writeFile(csv, table), writeFile(html, page)); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "%s and %s\n", csv, html)
	return err
}
