package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/record"
)

// packOf is the name under which tablets keep records of the job in folder dir. Only the reference is read: records are
// taken in while the job's data are being changed.
func packOf(dir string) (string, error) {
	file := filepath.Join(dir, "job.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		return "", err
	}
	var job struct {
		Reference yaml.Node `yaml:"reference"`
	}
	if err := yaml.Unmarshal(data, &job); err != nil {
		return "", fmt.Errorf("%s: %w", file, err)
	}
	if job.Reference.Kind != yaml.ScalarNode || job.Reference.Value == "" {
		return "", fmt.Errorf("%s: the job has no reference\n\thint: lapwork check %s", file, dir)
	}
	return record.PackID(job.Reference.Value), nil
}

// plain takes control characters out of a text from a tablet, which could otherwise drive the terminal.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, text)
}

// plainLines does so and keeps line ends and tabs.
func plainLines(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) && r != '\n' && r != '\t' {
			return ' '
		}
		return r
	}, text)
}

// onTerminal tells whether w shows text to a person.
func onTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
