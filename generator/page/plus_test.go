package page

import (
	"strings"
	"testing"

	_ "lapwork/generator/lawtest"

	"pgregory.net/rapid"
)

// TestPlainPlus: in place and by the library's replacement the same text comes out.
func TestPlainPlus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"&#43;", "&#43", "#43;", "&", "&#4", "+", "W1", "é", ""}), 0, 20).Draw(t, "pieces"), "")
		if got, want := string(plainPlus([]byte(text))), strings.ReplaceAll(text, "&#43;", "+"); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	})
}
