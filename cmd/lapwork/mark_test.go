package main

import (
	"strings"
	"testing"

	"lapwork/generator/diag"
)

// TestMarkOfALongLine: the mark stands under its character, whatever is left out of the line before it.
func TestMarkOfALongLine(t *testing.T) {
	for _, c := range []struct {
		before, after string
		most          int // letters shown
	}{{"", "short", 5}, {"  a: ", "b", 6}, {strings.Repeat("ä", 5000), "b" + strings.Repeat("ö", 5000), mostShown + 2}, {"", strings.Repeat("x", 1<<20), mostShown + 1}} {
		var b strings.Builder
		printMark(&b, c.before+c.after, diag.Pos{Line: 7, Col: len(c.before) + 1})
		lines := strings.Split(b.String(), "\n")
		shown, mark := []rune(strings.TrimPrefix(lines[0], "\t7 | ")), strings.IndexByte(strings.TrimPrefix(lines[1], "\t  | "), '^')
		if want := []rune(c.after)[0]; mark < 0 || mark >= len(shown) || shown[mark] != want || len(shown) > c.most {
			t.Errorf("%d bytes: mark at %d of %d letters", len(c.before+c.after), mark, len(shown))
		}
	}
}
