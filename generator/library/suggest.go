package library

import (
	"fmt"
	"slices"
	"strings"
)

// mostListed is how many words a hint lists: a table such as the activities fits, since who writes a detail may have nothing
// else to look them up in.
const mostListed = 60

// suggest gives a hint naming the known word nearest to what was written, or listing them when none is near.
func suggest(written string, known []string) string {
	best, at := "", len(written)/2+1
	for _, k := range known {
		if d := distance(written, k); d < at {
			best, at = k, d
		}
	}
	switch {
	case best != "":
		return fmt.Sprintf("did you mean %q?", best)
	case len(known) == 0:
		return ""
	case len(known) <= mostListed:
		return "known here: " + strings.Join(known, ", ")
	}
	return ""
}

// distance is the Levenshtein distance of two words in bytes.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		last := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := last
			if a[i] != b[j] {
				change++
			}
			last = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// oneOf reports whether word is among known.
func oneOf(word string, known []string) bool { return slices.Contains(known, word) }
