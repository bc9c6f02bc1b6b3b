package library

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/diag"
)

// mostListed is how many words a hint lists: a table such as the activities fits, since who writes a detail may have nothing
// else to look them up in.
const mostListed = 60

// suggest gives a hint naming the known word nearest to what was written, or listing them when none is near.
func suggest(written string, known []string) string {
	best, at := "", len(written)/2+1
	for _, k := range known {
		if d := diag.Distance(written, k); d < at {
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

// oneOf reports whether word is among known.
func oneOf(word string, known []string) bool { return slices.Contains(known, word) }
