package jobfile

import (
	"strings"
	"testing"
)

// A word in the place of an id is answered with the materials that are called so, by most of its words.
func TestMaterialsByName(t *testing.T) {
	names := map[string]string{"MAT-01": "gypsum plasterboard", "MAT-03": "gypsum fibreboard", "MAT-07": "OSB", "MAT-14": "mineral wool", "MAT-16": "wood-fibre board"}
	for text, want := range map[string]string{"osb": "MAT-07 OSB", "Gypsum-board": "MAT-01 gypsum plasterboard, MAT-03 gypsum fibreboard", "mineral wool 160": "MAT-14 mineral wool",
		"x": "MAT-01 gypsum plasterboard, MAT-03 gypsum fibreboard, MAT-07 OSB, MAT-14 mineral wool, MAT-16 wood-fibre board"} {
		if got := strings.Join(called(text, names), ", "); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}
