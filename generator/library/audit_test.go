package library

import (
	"testing"

	"lapwork/generator/diag"
)

// The built-in library has no finding in a closer look either.
func TestBuiltInLibraryAudit(t *testing.T) {
	l := builtin(t)
	var found diag.List
	l.Audit(nil, &found)
	for _, f := range found.Sorted() {
		t.Error(f)
	}
}
