package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/library"
)

func newLibrary() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "library",
		Short: "Write, check and share details: the method statements of the junctions",
		Long: `A detail is one Markdown file. Layers: built-in, the libraries that firm.yaml pins, the firm's own (firm/library), the
job's own (library/ in the job). A detail takes the place of one of a lower layer only by saying so: replaces.`,
		Args: cobra.NoArgs,
	}
	cmd.AddCommand(newLibraryCheck(), newLibraryList(), newLibraryCoverage(), newLibraryPreview(), newLibraryDraft(), newLibraryDiff(), newLibraryPin(), newLibraryTexts())
	return cmd
}

// layersFor gives the layers that a command line names: of a job, of a firm's folder, of a library's folder or zip over
// the built-in one, or the built-in one alone.
func layersFor(cmd *cobra.Command, args []string, found *diag.List) ([]library.Layer, error) {
	src := generator.Sources{Content: content.FS}
	if len(args) == 0 {
		return generator.Layers(src, found), nil
	}
	at := args[0]
	if has(at, "job.yaml") || filepath.Base(at) == "job.yaml" {
		src, _, err := sources(cmd, args)
		if err != nil {
			return nil, err
		}
		return generator.Layers(src, found), nil
	}
	if has(at, "firm.yaml") {
		src.Firm, src.FirmName = openFolder(at), filepath.ToSlash(at)
		return generator.Layers(src, found), nil
	}
	b, err := openBundle(at, found)
	if err != nil {
		return nil, err
	}
	return append(generator.Layers(src, found), b.Layer(filepath.ToSlash(at))), nil
}

// openBundle opens the library at a path of the machine.
func openBundle(at string, found *diag.List) (library.Bundle, error) {
	abs, err := filepath.Abs(at)
	if err != nil {
		return library.Bundle{}, err
	}
	b, err := library.OpenBundle(openFolder(filepath.Dir(abs)), filepath.Base(abs), found)
	if errors.Is(err, fs.ErrNotExist) {
		return b, fmt.Errorf("there is no %s\n\thint: name a job, a folder with library/, or a .zip of one", at)
	}
	return b, err
}

func has(dir, file string) bool {
	info, err := os.Stat(filepath.Join(dir, file))
	return err == nil && !info.IsDir()
}

// printMarked lists findings with the source line and a mark under the place, faults first.
func printMarked(w io.Writer, found []diag.Finding, layers []library.Layer) {
	for level := diag.Fault; level <= diag.Note; level++ {
		for _, f := range found {
			if f.Level != level {
				continue
			}
			head, rest, more := strings.Cut(f.String(), "\n")
			fmt.Fprintln(w, plainLines(head))
			if line, ok := sourceLine(layers, f.Pos); ok {
				printMark(w, line, f.Pos)
			}
			if more {
				fmt.Fprintln(w, plainLines(rest))
			}
		}
	}
}

// mostShown is how many bytes of a line are shown on each side of a mark.
const mostShown = 160

// printMark writes a line of a file, of a long one what is near the mark, and points at a byte of it.
func printMark(w io.Writer, line string, at diag.Pos) {
	number, marked := fmt.Sprint(at.Line), at.Col >= 1 && at.Col <= len(line)+1
	before, after := "", line
	if marked {
		before, after = line[:at.Col-1], line[at.Col-1:]
	}
	if len(before) > mostShown {
		before = "…" + strings.ToValidUTF8(before[len(before)-mostShown:], "")
	}
	if len(after) > mostShown {
		after = strings.ToValidUTF8(after[:mostShown], "") + "…"
	}
	fmt.Fprintf(w, "\t%s | %s\n", number, plain(before+after))
	if marked {
		fmt.Fprintf(w, "\t%s | %s^\n", strings.Repeat(" ", len(number)), strings.Repeat(" ", utf8.RuneCountInString(before)))
	}
}

// sourceLine finds the line that a finding is about in the layers it was read from.
func sourceLine(layers []library.Layer, at diag.Pos) (string, bool) {
	if at.Line < 1 {
		return "", false
	}
	for _, l := range layers {
		name := at.File
		if l.Dir != "" {
			rest, inside := strings.CutPrefix(at.File, strings.TrimSuffix(path.Clean(l.Dir), "/")+"/")
			if !inside {
				continue
			}
			name = rest
		}
		text, err := fs.ReadFile(l.FS, path.Clean(name))
		if err != nil {
			continue
		}
		if lines := strings.Split(string(text), "\n"); at.Line <= len(lines) {
			return strings.TrimSuffix(lines[at.Line-1], "\r"), true
		}
	}
	return "", false
}
