package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/diag"
)

// findingJSON is a finding as --json prints it.
type findingJSON struct {
	Level string   `json:"level"`
	File  string   `json:"file,omitempty"`
	Line  int      `json:"line,omitempty"`
	Col   int      `json:"col,omitempty"`
	Item  string   `json:"item,omitempty"`
	Text  string   `json:"text"`
	Hint  string   `json:"hint,omitempty"`
	See   []string `json:"see,omitempty"`
}

func findingsJSON(found []diag.Finding) []findingJSON {
	out := []findingJSON{}
	for _, f := range found {
		j := findingJSON{Level: f.Level.String(), File: f.Pos.File, Line: f.Pos.Line, Col: f.Pos.Col, Item: f.Item, Text: f.Msg, Hint: f.Hint}
		for _, p := range f.See {
			j.See = append(j.See, p.String())
		}
		out = append(out, j)
	}
	return out
}

// writeJSON prints a value for another program.
func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// printFindings lists findings, faults first in file order; what stands at many places of a room is one.
func printFindings(w io.Writer, found []diag.Finding, levels ...diag.Level) {
	gathered := diag.Gather(found)
	for _, level := range levels {
		for _, g := range gathered {
			if g.Level == level {
				fmt.Fprintln(w, g)
			}
		}
	}
}

// counts sums findings in words, as they are listed: "2 faults, 1 open point, 3 notes".
func counts(found []diag.Finding) string {
	var n [3]int
	for _, g := range diag.Gather(found) {
		n[g.Level]++
	}
	return fmt.Sprintf("%s, %s, %s", plural(n[diag.Fault], "fault"), plural(n[diag.Open], "open point"), plural(n[diag.Note], "note"))
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// progress shows stages on a terminal and nothing when piped.
func progress(cmd *cobra.Command) generator.Progress {
	out, ok := cmd.ErrOrStderr().(*os.File)
	if !ok {
		return nil
	}
	if info, err := out.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	return func(stage string) {
		fmt.Fprintf(out, "\r%s%s", stage, strings.Repeat(" ", max(0, 40-len(stage))))
		if stage == "" {
			fmt.Fprint(out, "\r")
		}
	}
}
