package jobfile

import (
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"lapwork/generator/diag"
)

// near is didYouMean for names of the job itself. Where nobody would read it, or the names are too many to compare, it
// does not search: a broken job of thousands of rooms has to be answered too.
func near[V any](r *reader, word string, known map[string]V, otherwise string) string {
	if r.reported >= maxFindings || len(known) > 500 {
		return "check the spelling"
	}
	return didYouMean(word, slices.Collect(maps.Keys(known)), otherwise)
}

// didYouMean gives a hint for an unknown word: the nearest known one, or all of them when none is near.
func didYouMean(word string, known []string, otherwise string) string {
	best, bestDistance := "", 3                   // the nearest of those that differ by two letters at most
	sorted := slices.Sorted(slices.Values(known)) // of two as near, the first by name
	for _, k := range sorted {
		if d := diag.Distance(word, k); d < bestDistance && d <= max(1, len(k)/3) && d < len(k) {
			best, bestDistance = k, d
		}
	}
	if best != "" {
		return "did you mean \"" + best + "\"?"
	}
	const most = 24
	if len(sorted) > most {
		sorted = append(sorted[:most:most], "…")
	}
	return otherwise + strings.Join(sorted, ", ")
}

// clip shortens hostile text before it goes into a finding.
func clip(text string) string {
	const most = 60
	text = strings.ToValidUTF8(strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f {
			return ' '
		}
		return c
	}, text), "?")
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "…"
}
