package record_test

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"testing"

	"lapwork/generator/record"

	"pgregory.net/rapid"
)

// TestSealIsOfCanonicalText: for any words, the seal is the hash of the canonical text of the same lines (RFC 8785 as far as
// Canonical goes), which the tablet computes again.
func TestSealIsOfCanonicalText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.SampledFrom([]rune("a\"\\<>&\u2028\u00a0\ufffd\x00\t\n ")))).AsAny()
		lines := make([]record.Line, rapid.IntRange(0, 4).Draw(t, "lines"))
		for i := range lines {
			lines[i] = record.Line{Key: words.Draw(t, "key").(string), Text: words.Draw(t, "text").(string), Unit: words.Draw(t, "unit").(string)}
		}
		text, err := record.Canonical(lines)
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(text)
		if got, want := record.Seal(lines), hex.EncodeToString(sum[:]); got != want {
			t.Errorf("seal %s, canonical text %s has %s", got, text, want)
		}
	})
}

// TestFolded: any text folds as the tablet folds it, by the regular expressions of pack.js.
func TestFolded(t *testing.T) {
	runs, ends := regexp.MustCompile(`[ \t\n\r\f]+`), regexp.MustCompile(`^ | $`)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("ab \t\n\r\f\u00a0é"))).Draw(t, "text")
		if got, want := record.Folded(text), ends.ReplaceAllString(runs.ReplaceAllString(text, " "), ""); got != want {
			t.Errorf("%q folds to %q, on the tablet to %q", text, got, want)
		}
	})
}
