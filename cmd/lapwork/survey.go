package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/jobfile"
	"lapwork/generator/lang"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
	"lapwork/templates"
	"lapwork/themes"
)

func newSurvey() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "survey FILE",
		Short: "Make job data of a building model or a room list",
		Long: `Reads gbXML, IFC or a room list (CSV, XLSX), alone or in a zip container, finds the rooms with the surfaces that
carry the layer and their openings, and writes them as a new job folder. With --into a job it changes only what the
file says otherwise than at the last survey: what people changed or added stays, rooms keep their ids.

What was understood, assumed, put right and left out is printed, and stands in survey.html beside the job. What a file
cannot know (layer, substrate, framing) is assumed: each assumption is a line under assumed: in job.yaml, and an open
point of the job until somebody takes it out. The report is in the language of the job or of --lang; how the columns of a
list were understood, what was left out and what a merge changed stay English.`,
		Example: `  lapwork survey house.gbxml --out jobs/mill-lane
  lapwork survey rooms.xlsx --look              only look, write nothing
  lapwork survey house.gbxml --into jobs/mill-lane`,
		Args: cobra.ExactArgs(1),
		RunE: runSurvey,
	}
	cmd.Flags().String("out", "lapwork-job", "the new job folder to write, absent or empty")
	cmd.Flags().String("into", "", "the job folder to bring the survey into")
	cmd.Flags().Int("usual-height", 2500, "mm, of rooms that state no height")
	cmd.Flags().String("lang", "", "tag of the language of the report and of a new job: de (default: that of the job, or English)")
	cmd.Flags().Bool("look", false, "only look, write nothing")
	cmd.Flags().Bool("json", false, "print the report as JSON")
	return cmd
}

func runSurvey(cmd *cobra.Command, args []string) (err error) {
	into, err := cmd.Flags().GetString("into")
	if err != nil {
		return err
	}
	src := generator.Sources{Content: content.FS, Templates: templates.FS, Theme: themes.FS}
	v, err := settings(cmd, "")
	if into != "" && err == nil {
		src, v, err = sources(cmd, []string{into})
	}
	if err != nil {
		return failed(err)
	}
	file, err := os.Open(args[0])
	if err != nil {
		return failed(err)
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	info, err := file.Stat()
	if err != nil {
		return failed(err)
	}
	o := generator.SurveyOptions{Sources: src, Name: args[0], Data: file, Size: info.Size(), Height: q.MM(v.GetInt("usual-height"))}
	if o.Texts, err = surveyTexts(src, v.GetString("lang")); err != nil {
		return failed(err)
	}
	report, err := generator.Survey(cmd.Context(), o)
	if err != nil && report.Survey == nil {
		return failed(err)
	}
	wrote := ""
	if err == nil && !v.GetBool("look") {
		wrote = v.GetString("out")
		if into != "" {
			wrote = src.JobDir
			err = mergeFiles(wrote, report)
		} else {
			err = newJob(wrote, report)
		}
		if err != nil {
			return failed(err)
		}
	}
	if v.GetBool("json") {
		if jsonErr := writeJSON(cmd.OutOrStdout(), surveyOf(report, wrote)); jsonErr != nil {
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
	printSurvey(cmd.OutOrStdout(), report)
	if wrote != "" {
		fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, report in %s\n", wrote, plural(len(report.Files), "file"), filepath.Join(wrote, surveyReport))
		fmt.Fprintf(cmd.OutOrStdout(), "next: lapwork check %s\n", wrote)
	}
	return nil
}

// surveyTexts are the texts of the language asked for, or else of the job that the survey is brought into; nil: English.
func surveyTexts(src generator.Sources, tag string) (*lang.Catalogue, error) {
	if tag == "" && src.Job != nil {
		tag = generator.LanguageOf(src)
	}
	if tag == "" {
		return nil, nil
	}
	return generator.TextsIn(src, tag)
}

// surveyReport is the report page beside the job.
const surveyReport = "survey.html"

// printSurvey prints the summary: sums, what differs, what was assumed and left out, findings.
func printSurvey(w io.Writer, r generator.SurveyReport) {
	s := r.Survey
	fmt.Fprintf(w, "%s: %s\n", s.Source.Name, s.Source.Format)
	for _, c := range s.Building.Columns {
		fmt.Fprintln(w, "  "+c)
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, line := range r.Sums() {
		fmt.Fprintf(table, "  %s\t%s\n", line[0], line[1])
	}
	for _, f := range s.Figures {
		if f.Space == nil {
			fmt.Fprintf(table, "  %s stated\t%.2f %s, computed %.2f %s (%+.1f %%)\n", f.What, f.Stated, f.Unit, f.Computed, f.Unit, 100*f.Off())
		}
	}
	if err := table.Flush(); err != nil {
		return // the terminal is gone
	}
	list := func(title string, lines []string) {
		if len(lines) > 0 {
			fmt.Fprintf(w, "%s:\n  %s\n", title, strings.Join(lines, "\n  "))
		}
	}
	var changes, left []string
	for _, c := range r.Changes {
		changes = append(changes, fmt.Sprintf("%s %s: %s", c.Room, c.Kind, c.What))
	}
	for _, l := range s.Skipped {
		left = append(left, l.What+": "+l.Reason)
	}
	if r.Merged && len(changes) == 0 {
		changes = []string{"none"}
	}
	list("differences to the job", changes)
	list("assumed", survey.InEnglish(s.Guessed))
	list("put right", survey.InEnglish(s.Repairs))
	list("left out", left)
	printFindings(w, r.Findings, diag.Open, diag.Note)
	fmt.Fprintln(w, counts(r.Findings))
}

// newJob writes a job folder whole or not at all; dir must be absent or empty.
func newJob(dir string, r generator.SurveyReport) error {
	entries, err := os.ReadDir(dir)
	if err == nil && len(entries) > 0 {
		return fmt.Errorf("%s is not empty\n\thint: name a new folder with --out, or bring the survey into that job with --into; nothing was written", dir)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	parent := filepath.Dir(filepath.Clean(dir))
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return err
	}
	tmp, err := os.MkdirTemp(parent, ".survey-")
	if err != nil {
		return err
	}
	if err := errors.Join(fill(tmp, r), os.Chmod(tmp, 0o755)); err != nil {
		return errors.Join(err, os.RemoveAll(tmp))
	}
	if entries != nil {
		if err := os.Remove(dir); err != nil {
			return errors.Join(err, os.RemoveAll(tmp))
		}
	}
	if err := os.Rename(tmp, dir); err != nil {
		return errors.Join(err, os.RemoveAll(tmp))
	}
	return nil
}

func fill(dir string, r generator.SurveyReport) error {
	for _, f := range r.Files {
		if err := writeFile(filepath.Join(dir, filepath.FromSlash(f.Path)), f.Data); err != nil {
			return err
		}
	}
	return errors.Join(writeFile(filepath.Join(dir, "job.schema.json"), jobfile.Schema()), writeFile(filepath.Join(dir, surveyReport), r.Page))
}

// mergeFiles writes the changed files of a job, each whole or not at all.
func mergeFiles(dir string, r generator.SurveyReport) error {
	for _, f := range r.Files {
		if err := writeFile(filepath.Join(dir, filepath.FromSlash(f.Path)), f.Data); err != nil {
			return err
		}
	}
	return writeFile(filepath.Join(dir, surveyReport), r.Page)
}

// writeFile puts a file in place of what is there, by a neighbour that takes its name.
func writeFile(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(name), ".survey-*")
	if err != nil {
		return err
	}
	_, err = tmp.Write(data)
	if err = errors.Join(err, tmp.Chmod(0o644), tmp.Close()); err == nil {
		err = os.Rename(tmp.Name(), name)
	}
	if err != nil {
		return errors.Join(err, os.Remove(tmp.Name()))
	}
	return nil
}
