package main

import (
	"os"
	"path/filepath"
	"testing"
)

// A file of readings is written once, never outside the folder and never over another.
func TestWriteReadings(t *testing.T) {
	dir := t.TempDir()
	for _, tt := range []struct {
		file, text string
		ok         bool
	}{
		{"tests/a.csv", "one\n", true}, {"tests/a.csv", "one\n", true}, {"tests/a.csv", "two\n", false}, {"../a.csv", "one\n", false},
		{"/a.csv", "one\n", false}, {"job.yaml", "one\n", false}, {"b.csv", "", true},
	} {
		if err := writeReadings(dir, tt.file, []byte(tt.text)); (err == nil) != tt.ok {
			t.Errorf("%s: %v", tt.file, err)
		}
	}
	if text, err := os.ReadFile(filepath.Join(dir, "tests", "a.csv")); err != nil || string(text) != "one\n" {
		t.Errorf("%q, %v", text, err)
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(dir), "a.csv")); err == nil {
		t.Error("written outside the folder")
	}
}
