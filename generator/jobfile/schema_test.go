package jobfile

import (
	"bytes"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
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

// part compiles a part of the schema with an implementation of draft 2020-12 that is not ours.
func part(t *testing.T, pointer string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.json" + pointer)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance reads YAML the way an editor's schema checker does (YAML 1.2 core: yes and dates are text).
func instance(t *testing.T, text []byte) any {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	return plainValue(doc.Content[0])
}

func plainValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			out[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return out
	case yaml.SequenceNode:
		out := []any{}
		for _, item := range n.Content {
			out = append(out, plainValue(item))
		}
		return out
	}
	if n.Style == 0 && n.Value == "null" || n.Tag == "!!null" {
		return nil
	}
	if n.Style == 0 && (n.Value == "true" || n.Value == "false") {
		return n.Value == "true"
	}
	if f, err := strconv.ParseFloat(n.Value, 64); err == nil && n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) == 0 {
		return f
	}
	return n.Value
}

func TestSchemaAcceptsTheDemo(t *testing.T) {
	const demo = "../../content/demo"
	job, further, firm := part(t, ""), part(t, "#/$defs/part"), part(t, "#/$defs/firm")
	err := filepath.WalkDir(demo, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(file) != ".yaml" {
			return err
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		s := map[string]*jsonschema.Schema{"job.yaml": job, "firm.yaml": firm}[filepath.Base(file)]
		if s == nil {
			s = further
		}
		if err := s.Validate(instance(t, text)); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// What is wrong by its shape alone the schema sees too; names that lead nowhere, sums and tables only the reader does.
func TestSchemaRejectsWrongShapes(t *testing.T) {
	s := part(t, "")
	shape := map[string]bool{"bad-unknown-keys": true, "bad-wrong-types": true, "bad-dates": true, "bad-words": true,
		"bad-empty": true, "bad-files": true, "bad-absurd-sizes": true, "bad-objects": true, "bad-no-unit": true,
		"bad-circle": true, "bad-attic": true,
		"bad-dangling": false, "bad-twice": false, "bad-bare-faces": false, "bad-tables": false}
	for name, wrong := range shape {
		text, err := os.ReadFile(filepath.Join(jobs, name, "job.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		if name == "bad-twice" { // a mapping cannot hold a key twice in JSON
			text = bytes.Replace(text, []byte("    name: Office\n"), nil, 1)
		}
		if err := s.Validate(instance(t, text)); (err != nil) != wrong {
			t.Errorf("%s: the schema says %v", name, err)
		}
	}
}

// Patterns are written for Go; the schema's dialect is ECMA 262. What both read alike is enough for us.
func TestSchemaPatternsArePortable(t *testing.T) {
	for _, m := range regexp.MustCompile(`"pattern": "(.*)"`).FindAllStringSubmatch(string(Schema()), -1) {
		if strings.Contains(m[1], "(?") && !strings.Contains(m[1], "(?:") || strings.Contains(m[1], `\\z`) || strings.Contains(m[1], "[[:") {
			t.Errorf("pattern %s is Go's own", m[1])
		}
	}
}
