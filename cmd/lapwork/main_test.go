package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"lapwork": main})
}

// The commands as a user types them. LAPWORK_* of the machine does not reach the scripts.
func TestScripts(t *testing.T) {
	repo, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join(repo, "testdata", "script"),
		UpdateScripts: os.Getenv("UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			env.Setenv("JOBS", filepath.Join(repo, "testdata", "jobs"))
			env.Setenv("SURVEY", filepath.Join(repo, "testdata", "survey"))
			env.Setenv("LIBRARIES", filepath.Join(repo, "testdata", "libraries"))
			return nil
		},
	})
}
