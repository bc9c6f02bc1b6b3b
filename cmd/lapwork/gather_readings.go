package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/record"
)

// typedTest writes the fan test that tablets recorded into file, or says how to; quiet keeps standard output for JSON.
func typedTest(cmd *cobra.Command, job, dir, file string, records []record.Record, quiet bool) error {
	out := cmd.OutOrStdout()
	if quiet {
		out = cmd.ErrOrStderr()
	}
	typed, ok := generator.ReadingsFromRecords(records, nil)
	switch {
	case !ok && file == "":
		return nil
	case !ok:
		return errors.New("no fan test was typed on a tablet\n\thint: its sheet stands on the page Airtightness")
	case file == "":
		fmt.Fprintf(out, "fan test typed on %s, %s: lapwork gather %s --readings tests/NAME.csv writes it\n", typed.Day, plural(typed.Steps, "step"), job)
		return nil
	}
	openings, err := openingsOf(cmd, job)
	if err != nil {
		return err
	}
	typed, _ = generator.ReadingsFromRecords(records, openings)
	if err := writeReadings(dir, file, typed.Text); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s: fan test of %s, %s; see it with: lapwork readings %s --job %s\n", file, typed.Day, plural(typed.Steps, "step"), filepath.ToSlash(filepath.Join(job, file)), job)
	return nil
}

// openingsOf gives the openings of the job's air boundary.
func openingsOf(cmd *cobra.Command, job string) ([]assess.TestState, error) {
	src, _, err := sources(cmd, []string{job})
	if err != nil {
		return nil, err
	}
	results, report, err := generator.Compute(cmd.Context(), generator.Options{Sources: src, Version: Version})
	if err != nil {
		return nil, fmt.Errorf("the job has faults, so its openings are not known: %s\n\thint: see them with: lapwork check %s", counts(report.Findings), job)
	}
	return results.Air.Openings, nil
}

// writeReadings writes a new file inside the job's folder. The same text once more is no change; another stays.
func writeReadings(dir, file string, text []byte) (err error) {
	if filepath.Ext(file) != ".csv" || !filepath.IsLocal(file) {
		return fmt.Errorf("--readings %s: name a .csv file inside the job's folder, such as tests/interim.csv", file)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, root.Close()) }()
	if kept, err := root.ReadFile(file); err == nil {
		if bytes.Equal(kept, text) {
			return nil
		}
		return fmt.Errorf("%s holds something else, and stays\n\thint: choose another name", file)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := root.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	return root.WriteFile(file, text, 0o644)
}
