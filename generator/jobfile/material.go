package jobfile

import (
	"maps"
	"slices"
	"strings"
	"unicode"
)

// materialID is the id of a material. Who writes a word instead, "osb" or "gypsum-board", is shown the materials that are
// called so.
var materialID = scalar("the id of a material", schema{Type: "string", Pattern: plainName.pattern.String()},
	func(r *reader, text string) (string, string, string) {
		id, wrong, hint := known("a material", func(k Known) Set { return k.Materials })(r, text)
		if wrong != "" && len(r.known.MaterialNames) > 0 && strings.HasPrefix(hint, "one of: ") {
			hint = "one of: " + strings.Join(called(text, r.known.MaterialNames), "; ")
		}
		return id, wrong, hint
	})

// called lists the names, with their ids, that have most of the words of a text in them; the first of all where none has any.
func called(text string, names map[string]string) []string {
	const most = 24
	best, out := 0, []string(nil)
	words := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return !unicode.IsLetter(c) })
	for _, id := range slices.Sorted(maps.Keys(names)) {
		n, name := 0, strings.ToLower(names[id])
		for _, w := range words {
			if len(w) >= 3 && strings.Contains(name, w) {
				n++
			}
		}
		if n > best {
			best, out = n, nil
		}
		if n == best {
			out = append(out, id+" "+names[id])
		}
	}
	if len(out) > most {
		out = append(out[:most:most], "…")
	}
	return out
}
