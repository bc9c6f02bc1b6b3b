package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/library"
)

func newLibraryDraft() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "draft ID",
		Short: "Begin a detail of your own in the firm's library",
		Long: `Writes library/ID.md into the firm's folder: a skeleton with a word on each key, or with --from a copy of another detail
that replaces it. Where the folder has no firm.yaml yet, one to begin with as well. Never overwrites.`,
		Example: "  lapwork library draft our-wall-foot\n  lapwork library draft our-ceiling --from wall-ceiling --firm firm",
		Args:    cobra.ExactArgs(1),
		RunE:    runLibraryDraft,
	}
	cmd.Flags().String("from", "", "the detail to copy and to replace")
	return cmd
}

func runLibraryDraft(cmd *cobra.Command, args []string) error {
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	firm := v.GetString("firm")
	if firm == "" {
		firm = "firm"
	}
	var text string
	from := library.StatementID(v.GetString("from"))
	if from != "" {
		if text, err = currentText(firm, from); err != nil {
			return failed(err)
		}
	}
	draft, err := library.Draft(library.StatementID(args[0]), from, text)
	if err != nil {
		return failed(err)
	}
	file := filepath.Join(firm, "library", args[0]+".md")
	if err := writeNew(file, draft); err != nil {
		return failed(err)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s: change it, then: lapwork library check %s\n", file, firm)
	if has(firm, "firm.yaml") || has(firm, "library.yaml") { // the second is a library to share, and no firm's folder
		return nil
	}
	sheet := filepath.Join(firm, "firm.yaml")
	if err := writeNew(sheet, firmDraft); err != nil {
		return failed(err)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s: say there who you are; a folder counts as a firm's by it\n", sheet)
	return nil
}

// firmDraft is a firm.yaml to begin with.
const firmDraft = `# What the firm keeps for all of its jobs. Every key with a word on each: lapwork schema firm
name: Name of the firm
# contact: telephone and hours
# crew: 2
# settings: {lap_mm: 120}      # a job sets them for one surface so: settings: [{for: B2-W3, values: {lap_mm: 120}}]
# look: {accent: "#2f5d50", logo: mark.svg, footer: line at the foot of every page}
# commands: {strict: yes}      # flags of the program where the command line does not say
`

// currentText gives the file of the statement that answers to an id in the firm's layers. Faults of other files are left
// to check.
func currentText(firm string, id library.StatementID) (string, error) {
	src := generator.Sources{Content: content.FS}
	if has(firm, "firm.yaml") {
		src.Firm, src.FirmName = openFolder(firm), filepath.ToSlash(firm)
	}
	var found diag.List
	lib := library.LoadLayers(generator.Layers(src, &found), &found)
	s := lib.Statement(id)
	if s == nil {
		return "", fmt.Errorf("there is no detail %q\n\thint: list them with: lapwork library list", id)
	}
	if s.ID != id {
		return "", fmt.Errorf("%s is replaced by %s of %s\n\thint: --from %s", id, s.ID, s.Origin, s.ID)
	}
	return s.Text, nil
}

// writeNew writes a file that is not there yet.
func writeNew(file, text string) (err error) {
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s exists\n\thint: change it, or take another id; nothing was written", file)
	}
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	_, err = io.WriteString(f, text)
	return err
}

func newLibraryDiff() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "diff A B",
		Short: "Show what differs between two versions of a detail",
		Long: `A and B are files, or ID@LAYER: wall-ceiling@built-in, wall-ceiling@firm, wall-ceiling@job, or @ the name of a pinned
library. Shown are the keys of the front matter and the steps that differ, old (-) before new (+).`,
		Example: "  lapwork library diff wall-ceiling@built-in our-ceiling@firm --job jobs/mill-lane\n  lapwork library diff old.md new.md",
		Args:    cobra.ExactArgs(2),
		RunE:    runLibraryDiff,
	}
	cmd.Flags().String("job", "", "the job whose layers are meant (default: the embedded demo)")
	cmd.Flags().Bool("json", false, "print the differences as JSON")
	return cmd
}

func runLibraryDiff(cmd *cobra.Command, args []string) error {
	src, err := jobFlag(cmd)
	if err != nil {
		return failed(err)
	}
	var found, layered diag.List
	layers := generator.Layers(src, &layered)
	lib := library.LoadLayers(layers, &layered) // for its site questions; its own faults are those of check
	var sides [2]*library.Statement
	for i, arg := range args {
		text, file, err := versionOf(arg, layers)
		if err != nil {
			return failed(err)
		}
		sides[i] = lib.Parse(text, file, &found)
	}
	if err := found.Err(); err != nil {
		return faults(cmd, found.Sorted(), err)
	}
	changes := library.Differences(sides[0], sides[1])
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	if v.GetBool("json") {
		if changes == nil {
			changes = []library.Change{}
		}
		return failed(writeJSON(cmd.OutOrStdout(), changes))
	}
	printDifferences(cmd.OutOrStdout(), changes)
	if len(changes) > 0 && sides[0].ID == sides[1].ID && sides[0].Revision == sides[1].Revision {
		fmt.Fprintf(cmd.OutOrStdout(), "both are revision %d: raise it where the meaning changed\n", sides[0].Revision)
	}
	return nil
}

// versionOf reads a version of a detail: a file, or ID@LAYER.
func versionOf(arg string, layers []library.Layer) (text, file string, err error) {
	id, name, inLayer := strings.Cut(arg, "@")
	if !inLayer || filepath.Ext(arg) == ".md" {
		data, err := os.ReadFile(arg)
		if errors.Is(err, fs.ErrNotExist) {
			return "", "", fmt.Errorf("there is no file %s\n\thint: name a .md file, or ID@LAYER as wall-ceiling@built-in", arg)
		}
		return string(data), filepath.ToSlash(arg), err
	}
	var names []string
	for _, l := range layers {
		if l.Name == name {
			if text, file, ok := l.Find(library.StatementID(id)); ok {
				return text, file, nil
			}
			return "", "", fmt.Errorf("the layer %s has no detail %s", name, id)
		}
		names = append(names, l.Name)
	}
	return "", "", fmt.Errorf("there is no layer %s\n\thint: layers here: %s", name, strings.Join(names, ", "))
}

func printDifferences(w io.Writer, changes []library.Change) {
	key := ""
	for _, c := range changes {
		if c.Key != key {
			fmt.Fprintln(w, c.Key)
			key = c.Key
		}
		if c.Old != "" {
			fmt.Fprintln(w, "  - "+plain(c.Old))
		}
		if c.New != "" {
			fmt.Fprintln(w, "  + "+plain(c.New))
		}
	}
	if len(changes) == 0 {
		fmt.Fprintln(w, "no difference")
	}
}
