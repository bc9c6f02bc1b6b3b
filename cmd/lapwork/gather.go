package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lapwork/generator/diag"
	"lapwork/generator/record"
)

func newGather() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "gather JOB [FILE...]",
		Short: "Take in records exported by tablets, and show how they stand",
		Long: `Merges exports into the job's records folder. Nothing there is ever overwritten: the same record twice is one, two
different ones for one check both stay and are shown. The order of the files does not matter, and gathering one again
changes nothing. What a file holds counts, not its name. Without FILE it shows what is there.

A file with a fault is refused whole and the others are kept; the exit code is then 1. A photo that is too large is left
out, its record stays.

A fan test typed on the sheet of a tablet comes home with the rest. --readings writes the last one into a file of
readings inside the job's folder, for lapwork readings and for tests: in job.yaml; another file there is left as it is.`,
		Example: `  lapwork gather jobs/mill-lane ~/Downloads/26-014-*.json
  lapwork gather jobs/mill-lane --readings tests/interim.csv
  lapwork gather jobs/mill-lane --json`,
		Args: cobra.MinimumNArgs(1),
		RunE: runGather,
	}
	cmd.Flags().Bool("json", false, "print the result as JSON")
	cmd.Flags().String("readings", "", "write the fan test that was typed last to this .csv file inside the job's folder")
	return cmd
}

// gathered is what one run did and what stands afterwards.
type gathered struct {
	files    []gatheredFile
	journal  record.Journal
	findings []diag.Finding
	faults   int
}

// gatheredFile is one export.
type gatheredFile struct {
	File    string `json:"file"`
	Refused bool   `json:"refused"`
	New     int    `json:"new"`
	Known   int    `json:"known"`
	Photos  int    `json:"photos"`
}

func runGather(cmd *cobra.Command, args []string) error {
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	dir, err := jobFolder(args[0])
	if err != nil {
		return failed(err)
	}
	g, err := gather(dir, args[1:], time.Now())
	if err != nil {
		for _, f := range g.files {
			f.print(cmd.OutOrStdout())
		}
		return failed(err)
	}
	if v.GetBool("json") {
		err = writeJSON(cmd.OutOrStdout(), g.json())
	} else {
		g.print(cmd.OutOrStdout())
	}
	if err == nil {
		err = typedTest(cmd, args[0], dir, v.GetString("readings"), g.journal.Records, v.GetBool("json"))
	}
	if err != nil {
		return failed(err)
	}
	if g.faults > 0 {
		return exitError{exitFault, plural(g.faults, "file") + " refused; the others are kept"}
	}
	return nil
}

// gather takes files into the job in folder dir, one after the other, and reads what stands then.
func gather(dir string, files []string, now time.Time) (gathered, error) {
	var g gathered
	id, err := packOf(dir)
	if err != nil {
		return g, err
	}
	store := record.At(dir)
	if err := store.Sweep(now.Add(-24 * time.Hour)); err != nil && len(files) > 0 {
		return g, fmt.Errorf("%w\n\thint: make the job's folder writable; nothing was taken in", err)
	}
	var found diag.List
	for _, name := range files {
		one, more, err := gatherFile(store, record.Terms{Pack: id, Now: now}, name)
		if err != nil {
			return g, fmt.Errorf("%s was not taken in whole: %w\n\thint: make room, or the job's folder writable, and gather the same files again: what is there already is not kept twice", name, err)
		}
		g.files = append(g.files, one)
		found.Add(more.Sorted()...)
		if one.Refused {
			g.faults++
		}
	}
	journal, more := record.Load(openFolder(dir))
	photos := record.CheckPhotos(openFolder(dir), journal)
	found.Add(more.Sorted()...)
	found.Add(photos.Sorted()...)
	g.journal, g.findings = journal, found.Sorted()
	return g, nil
}

// gatherFile takes in one file. An error is trouble with the job's folder; trouble with the file is a finding.
func gatherFile(store *record.Store, terms record.Terms, name string) (gatheredFile, diag.List, error) {
	one := gatheredFile{File: name}
	var found diag.List
	data, err := readExport(name)
	if err != nil {
		one.Refused = true
		found.Faultf(diag.Pos{File: name}, "name an export of a tablet", "%v", err)
		return one, found, nil
	}
	export, read := record.Parse(name, data)
	for _, f := range read.Sorted() {
		if f.Level == diag.Fault { // gaps and missing photos are judged over all files, below
			found.Add(f)
		}
	}
	if found.Err() == nil {
		var more diag.List
		export, more = terms.Admit(name, export)
		found.Add(more.Sorted()...)
	}
	if found.Err() != nil {
		one.Refused = true
		return one, found, nil
	}
	kept, err := store.Add(export)
	one.New, one.Known, one.Photos = len(kept.Records), kept.Known, kept.Photos
	return one, found, err
}

// readExport reads a file up to one byte more than an export may have, so that a larger one is refused as such.
func readExport(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(f, record.MaxBytes+1))
	if closing := f.Close(); err == nil {
		err = closing
	}
	return data, err
}

// print shows what became of one file.
func (f gatheredFile) print(w io.Writer) {
	if f.Refused {
		fmt.Fprintf(w, "%s: refused\n", f.File)
		return
	}
	fmt.Fprintf(w, "%s: %s new, %d known, %s new\n", f.File, plural(f.New, "record"), f.Known, plural(f.Photos, "photo"))
}

// print shows the result for a person.
func (g gathered) print(w io.Writer) {
	for _, f := range g.files {
		f.print(w)
	}
	for _, f := range g.findings {
		fmt.Fprintln(w, plainLines(f.String()))
	}
	for _, c := range record.Conflicts(g.journal.Records) {
		fmt.Fprintf(w, "%s: tablets differ\n", plain(c.Check))
		for _, r := range c.Records {
			fmt.Fprintf(w, "\t%s tablet %s, %s: %s\n", r.At, r.Dev[:6], plain(r.Who), plain(wordOf(r)))
		}
	}
	for _, head := range record.Heads(g.journal.Records) {
		fmt.Fprintf(w, "tablet %s, %s: to number %d, %s\n", head.Dev[:6], plain(head.Who), head.Seq, head.At)
	}
	fmt.Fprintf(w, "%s: %s, %s\n", record.Folder, plural(len(g.journal.Records), "record"), plural(len(g.journal.Photos), "photo"))
}

// wordOf is what a tick or reading says.
func wordOf(r record.Record) string {
	text := r.Value
	if r.Unit != "" {
		text += " " + r.Unit
	}
	if len(r.But) > 0 {
		text += " but " + strings.Join(r.But, ", ")
	}
	return text
}

// gatherJSON is the result as --json prints it.
type gatherJSON struct {
	Files     []gatheredFile  `json:"files"`
	Records   int             `json:"records"`
	Photos    int             `json:"photos"`
	Tablets   []record.Record `json:"tablets"` // the last record of each
	Latest    []record.Record `json:"latest"`
	Conflicts []conflictJSON  `json:"conflicts"`
	Findings  []findingJSON   `json:"findings"`
}

// conflictJSON is a check on which tablets differ.
type conflictJSON struct {
	Check   string          `json:"check"`
	Kind    record.Kind     `json:"kind"`
	Records []record.Record `json:"records"`
}

func (g gathered) json() gatherJSON {
	rs := g.journal.Records
	out := gatherJSON{Files: append([]gatheredFile{}, g.files...), Records: len(rs), Photos: len(g.journal.Photos),
		Tablets: append([]record.Record{}, record.Heads(rs)...), Latest: append([]record.Record{}, record.Latest(rs)...),
		Conflicts: []conflictJSON{}, Findings: findingsJSON(g.findings)}
	for _, c := range record.Conflicts(rs) {
		out.Conflicts = append(out.Conflicts, conflictJSON(c))
	}
	return out
}
