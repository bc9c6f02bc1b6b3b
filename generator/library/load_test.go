package library

import (
	"os"
	"sync"
	"testing"

	"lapwork/generator/diag"
)

var loadBuiltin = sync.OnceValues(func() (*Library, []diag.Finding) {
	var found diag.List
	l := Load(os.DirFS("../../content"), nil, nil, &found)
	return l, found.Sorted()
})

// builtin loads the library that ships with the program; a finding in it fails the test.
func builtin(t testing.TB) *Library {
	t.Helper()
	l, found := loadBuiltin()
	for _, f := range found {
		t.Error(f)
	}
	if t.Failed() {
		t.FailNow()
	}
	return l
}

func TestBuiltInLibraryHasNoFindings(t *testing.T) {
	l := builtin(t)
	if len(l.Statements) < 60 {
		t.Errorf("%d statements, the catalogue has 50 and the added situations", len(l.Statements))
	}
}
