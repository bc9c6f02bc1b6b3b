package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/templates"
	"lapwork/themes"
)

func newLibraryCheck() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check [DIR|ZIP|JOB]",
		Short: "List every finding of a library, with the line it stands on",
		Long: `Reads a library over the built-in one and lists what is wrong: types, units and names of every expression, ids that
lead nowhere, hand-worked examples that come out otherwise, details that can never answer or answer together with another,
acceptance values without a unit, drawings that do not fit their steps, texts that a language does not have yet; of a firm's
folder firm.yaml and its look as well: colours that cannot be read, templates that ask for what no page has. Without an
argument the built-in library.

fault  exit 1
open   exit 0, with --strict 3
note   worth knowing`,
		Example: "  lapwork library check firm\n  lapwork library check masonry-1.2.zip --strict\n  lapwork library check jobs/mill-lane",
		Args:    cobra.MaximumNArgs(1),
		RunE:    runLibraryCheck,
	}
	cmd.Flags().Bool("strict", false, "exit 3 while open points remain")
	cmd.Flags().Bool("json", false, "print the findings as JSON")
	return cmd
}

// libraryJSON is what check prints as JSON.
type libraryJSON struct {
	Statements int           `json:"statements"`
	Examples   int           `json:"examples"`
	Findings   []findingJSON `json:"findings"`
}

func runLibraryCheck(cmd *cobra.Command, args []string) error {
	var found diag.List
	layers, err := layersFor(cmd, args, &found)
	if err != nil {
		return failed(err)
	}
	var origins []string
	if len(args) > 0 {
		origins = []string{}
		for _, l := range layers[1:] {
			origins = append(origins, l.Name)
		}
	}
	lib := library.LoadLayers(layers, &found)
	lib.Audit(origins, &found)
	auditLanguages(lib, layers, origins, &found)
	if len(args) > 0 && has(args[0], "firm.yaml") && !has(args[0], "job.yaml") {
		flags, err := flagsOf(cmd.Root())
		if err != nil {
			return failed(err)
		}
		generator.CheckFirm(generator.Sources{Firm: openFolder(args[0]), FirmName: filepath.ToSlash(args[0]), Flags: flags, Templates: templates.FS, Theme: themes.FS}, lib, &found)
	}
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	report := libraryJSON{Findings: findingsJSON(found.Sorted())}
	for _, s := range lib.Statements {
		if origins == nil || inLayers(s.Origin, origins) {
			report.Statements++
			report.Examples += len(s.Examples)
		}
	}
	if v.GetBool("json") {
		err = writeJSON(cmd.OutOrStdout(), report)
	} else {
		printMarked(cmd.OutOrStdout(), found.Sorted(), layers)
		fmt.Fprintf(cmd.OutOrStdout(), "%s, %s: %s\n", plural(report.Statements, "detail"), plural(report.Examples, "hand-worked example"), counts(found.Sorted()))
	}
	switch {
	case err != nil:
		return failed(err)
	case found.Err() != nil:
		return exitError{code: exitFault}
	case v.GetBool("strict") && found.Count(diag.Open) > 0:
		return exitError{code: exitOpen}
	}
	return nil
}

// auditLanguages reports what is wrong or missing in every language that one of the audited layers has.
func auditLanguages(lib *library.Library, layers []library.Layer, origins []string, found *diag.List) {
	var at []lang.Layer
	for _, l := range layers {
		at = append(at, lang.Layer{Dir: l.Dir, FS: l.FS})
	}
	patterns, own := lang.Patterns(content.FS, found), at
	if origins != nil {
		own = at[1:]
	}
	for _, tag := range lang.Tags(own) {
		if c := lang.Load(tag, at, found); !c.English() {
			lib.AuditLanguage(c, ownTexts(lib, layers, origins), origins, patterns, found)
		}
	}
}

func inLayers(origin string, origins []string) bool {
	for _, o := range origins {
		if o == origin {
			return true
		}
	}
	return false
}

func newLibraryList() *cobra.Command {
	cmd := &cobra.Command{
		Use:     "list [DIR|ZIP|JOB]",
		Short:   "List the details with the layer each comes from",
		Example: "  lapwork library list\n  lapwork library list jobs/mill-lane",
		Args:    cobra.MaximumNArgs(1),
		RunE:    runLibraryList,
	}
	cmd.Flags().Bool("json", false, "print the list as JSON")
	return cmd
}

// detailJSON is a detail as list prints it.
type detailJSON struct {
	ID         string `json:"id"`
	Title      string `json:"title"`
	Group      string `json:"group"`
	Revision   int    `json:"revision"`
	Priority   int    `json:"priority"`
	When       string `json:"when"`
	Origin     string `json:"origin"`
	Edition    string `json:"edition,omitempty"`
	Replaces   string `json:"replaces,omitempty"`
	Deprecated string `json:"deprecated,omitempty"`
	Hash       string `json:"hash"`
}

func runLibraryList(cmd *cobra.Command, args []string) error {
	var found diag.List
	layers, err := layersFor(cmd, args, &found)
	if err != nil {
		return failed(err)
	}
	lib := library.LoadLayers(layers, &found)
	if found.Err() != nil {
		return faults(cmd, found.Sorted(), found.Err())
	}
	var rows []detailJSON
	for _, s := range lib.Statements {
		rows = append(rows, detailJSON{string(s.ID), s.Title, s.Group, s.Revision, s.Priority, s.When.Source, s.Origin, s.Edition,
			string(s.Replaces), s.Deprecated.String(), s.Hash})
	}
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	if v.GetBool("json") {
		return failed(writeJSON(cmd.OutOrStdout(), rows))
	}
	table := tabwriter.NewWriter(cmd.OutOrStdout(), 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "detail\tgroup\trevision\tfrom\ttext\ttitle")
	for _, r := range rows {
		from := r.Origin
		if r.Replaces != "" {
			from += ", replaces " + r.Replaces
		}
		if r.Deprecated != "" {
			from += ", deprecated"
		}
		fmt.Fprintf(table, "%s\t%s\t%d\t%s\t%s\t%s\n", r.ID, r.Group, r.Revision, from, r.Hash, plain(r.Title))
	}
	return failed(table.Flush())
}

func newLibraryPin() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pin DIR|ZIP",
		Short: "Print a library's hash, and the lines that pin it in firm.yaml",
		Long: `The hash is over names and content of library.yaml, library/*.md and tables/*.csv; a folder and its zip have the same
one. A library that no longer has the hash it was pinned with is refused.`,
		Example: "  lapwork library pin firm/libraries/masonry.zip",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			var found diag.List
			b, err := openBundle(args[0], &found)
			if err == nil {
				err = found.Err()
			}
			if err != nil {
				return failed(err)
			}
			return printPin(cmd, cmd.OutOrStdout(), b, args[0])
		},
	}
	cmd.Flags().Bool("json", false, "print it as JSON")
	return cmd
}

func printPin(cmd *cobra.Command, w io.Writer, b library.Bundle, at string) error {
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	if v.GetBool("json") {
		return failed(writeJSON(w, struct {
			Name    string `json:"name"`
			Version string `json:"version,omitempty"`
			Hash    string `json:"hash"`
		}{b.Name, b.Version, b.Hash}))
	}
	from := filepath.ToSlash(at)
	if _, inside, ok := strings.Cut("/"+from, "/firm/"); ok {
		from = inside
	} else {
		from = "libraries/" + filepath.Base(at)
	}
	fmt.Fprintf(w, "# %s\nlibraries:\n  - from: %s   # inside the firm's folder\n    hash: %s\n", plain(strings.TrimSpace(b.Name+" "+b.Version)), from, b.Hash)
	return nil
}
