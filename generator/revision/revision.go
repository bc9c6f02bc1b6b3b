// Package revision tells builds apart. A fingerprint compares views inside one build or between two builds of one program
// version and is never stored in a record; a revision is printed and signed. hashstructure lives here only.
package revision

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strconv"

	"github.com/mitchellh/hashstructure/v2"

	"lapwork/generator/sorting"
)

// Fingerprint is a hash of a value's exported fields; positions, tagged hash:"ignore", do not count. Nil and empty
// slices hash alike, and a renamed type changes it, so it is no lasting id.
func Fingerprint(view any) (string, error) {
	h, err := hashstructure.Hash(view, hashstructure.FormatV2, nil)
	if err != nil {
		return "", fmt.Errorf("fingerprint of %T: %w", view, err)
	}
	return fmt.Sprintf("%016x", h), nil
}

// Sealed is one statement's key and seal.
type Sealed struct{ Key, Seal string }

// Of gives the revision of a pack: the issue number, 0 where it is not issued, and the first 12 digits of the SHA-256
// over all seals in key order.
func Of(issue int, seals []Sealed) string {
	sorted := slices.Clone(seals)
	sorting.Func(sorted, func(a, b Sealed) int { return cmp.Or(cmp.Compare(a.Key, b.Key), cmp.Compare(a.Seal, b.Seal)) })
	h := sha256.New()
	for _, s := range sorted {
		writeField(h, s.Key)
		writeField(h, s.Seal)
	}
	return strconv.Itoa(issue) + "-" + hex.EncodeToString(h.Sum(nil))[:12]
}

// writeField writes a length and the text, so that no two lists of fields give the same bytes. A hash never fails to
// take them.
func writeField(w io.Writer, text string) {
	if _, err := fmt.Fprintf(w, "%d:%s", len(text), text); err != nil {
		panic("revision: a hash refused a write: " + err.Error())
	}
}
