package jobfile

import (
	"bytes"
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write the shipped schema and the wanted findings anew")

const shipped = "../../content/schema/job.schema.json"

func TestSchemaIsCurrent(t *testing.T) {
	if *update {
		if err := os.WriteFile(shipped, Schema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(shipped)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, Schema()) {
		t.Error("content/schema/job.schema.json is behind the keys; run this test with -update")
	}
}
