package generator_test

import (
	"bytes"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/lang"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/templates"
)

var update = flag.Bool("update", false, "rewrite the lists of what the program says")

// TestPatterns holds the English files of content/lang against everything the program says: in its code, its templates,
// its drawings, its scripts and its findings. What is not listed there could not be translated.
func TestPatterns(t *testing.T) {
	want := map[string][]string{
		"pack": said(t, "pack", "say", "Say"), "page": said(t, "page", "say", "Say"), "assess": said(t, "assess", "say", "Say", "Says"),
		"findings": findings(t), "drawing": drawn(), "scripts": scripted(t), "words": pack.Words(), "quantity": said(t, "quantity", "say"), "fantest": slices.Concat(said(t, "calc/airtight", "Says"), said(t, "calc/leakage", "Says"), breaches(t)),
		"survey":  surveyed(t),
		"written": append(said(t, ".", "say", "Say"), slices.Concat(generator.ListWords(), generator.SurveyWords())...),
	}
	var err error
	if want["templates"], err = page.Patterns(templates.FS); err != nil {
		t.Fatal(err)
	}
	alone(want)
	if *update {
		rewrite(t, want)
	}
	var found diag.List
	got := map[string][]string{}
	for _, g := range lang.Patterns(content.FS, &found) {
		for _, item := range g.Items {
			got[strings.TrimPrefix(g.Name, "interface/")] = append(got[strings.TrimPrefix(g.Name, "interface/")], item.English)
		}
	}
	lang.Load(lang.Source, []lang.Layer{{Dir: "content", FS: content.FS}}, &found)
	if err := found.Err(); err != nil {
		t.Error(err)
	}
	for group, patterns := range want {
		if *update {
			break // the embedded files are those before the update
		}
		for _, p := range patterns {
			if !slices.Contains(got[group], p) {
				t.Errorf("content/lang/en/interface/%s.yaml lacks %q: run go test ./generator -run TestPatterns -update", group, p)
			}
		}
		for _, p := range got[group] {
			if !slices.Contains(patterns, p) {
				t.Errorf("content/lang/en/interface/%s.yaml has %q, which nobody says: run go test ./generator -run TestPatterns -update", group, p)
			}
		}
	}
}

// alone leaves each pattern with the first group that has it.
func alone(groups map[string][]string) {
	seen := map[string]bool{}
	for _, g := range slices.Sorted(maps.Keys(groups)) {
		slices.Sort(groups[g])
		groups[g] = slices.DeleteFunc(slices.Compact(groups[g]), func(p string) bool {
			twice := seen[p] || lang.Wordless(p)
			seen[p] = true
			return twice
		})
	}
}

// said lists the literals that a package's code gives to a function of one of these names as its pattern.
func said(t *testing.T, pkg string, names ...string) []string {
	t.Helper()
	var out []string
	for _, call := range calls(t, pkg) {
		if !slices.Contains(names, call.name) || len(call.args) == 0 {
			continue
		}
		if text, ok := literal(call.args[0]); ok {
			out = append(out, text)
		} else if _, isName := call.args[0].(*ast.Ident); !isName {
			t.Errorf("%s: what is said is no literal, so that it cannot be listed", call.at)
		}
	}
	return out
}

// findings lists the patterns and hints of what needs a person or is worth knowing: pages show them.
func findings(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, pkg := range []string{"assess", "surface", "junction", "library", "jobfile", "record"} {
		for _, call := range calls(t, pkg) {
			switch {
			case call.name == "Openf" && len(call.args) > 3:
				out = addLiteral(addLiteral(out, call.args[3]), call.args[2])
			case call.name == "Notef" && len(call.args) > 2:
				out = addLiteral(out, call.args[2])
			}
		}
	}
	return out
}

// surveyed lists the sentences, numbers of things, findings and hints of a survey and of its readers: its report shows them.
func surveyed(t *testing.T) (out []string) {
	t.Helper()
	for _, pkg := range []string{"survey", "survey/gbxml", "survey/ifc", "survey/roomlist"} {
		out = append(out, said(t, pkg, "Say")...)
		for _, call := range calls(t, pkg) {
			switch n := len(call.args); {
			case call.name == "Things" && n == 3:
				if many, ok := literal(call.args[2]); ok {
					out = append(out, "%d "+many)
				}
			case call.name == "Openf" && n > 3:
				out = addLiteral(addLiteral(out, call.args[3]), call.args[2])
			case call.name == "Notef" && n > 2:
				out = addLiteral(out, call.args[2])
			case call.name == "openf" && n > 2:
				out = addLiteral(addLiteral(out, call.args[2]), call.args[1])
			case call.name == "notef" && n > 1:
				out = addLiteral(out, call.args[1])
			}
		}
	}
	return out
}

// breaches lists the patterns of the rules of a fan test: a page shows which is not kept.
func breaches(t *testing.T) (out []string) {
	t.Helper()
	for _, call := range calls(t, "calc/airtight") {
		if call.name == "add" && len(call.args) > 5 {
			out = addLiteral(out, call.args[5])
		}
	}
	return out
}

func addLiteral(list []string, e ast.Expr) []string {
	if text, ok := literal(e); ok && text != "" {
		return append(list, text)
	}
	return list
}

type call struct {
	name, at string
	args     []ast.Expr
}

func calls(t *testing.T, pkg string) []call {
	t.Helper()
	var out []call
	files, err := filepath.Glob(filepath.Join(filepath.FromSlash(pkg), "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(set, file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			switch f := c.Fun.(type) {
			case *ast.SelectorExpr:
				out = append(out, call{f.Sel.Name, set.Position(c.Pos()).String(), c.Args})
			case *ast.Ident:
				out = append(out, call{f.Name, set.Position(c.Pos()).String(), c.Args})
			}
			return true
		})
	}
	return out
}

// literal gives a string literal, or several joined by +.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil && e.Kind == token.STRING
	case *ast.BinaryExpr:
		a, ok := literal(e.X)
		b, too := literal(e.Y)
		return a + b, ok && too
	}
	return "", false
}

func drawn() []string {
	var out []string
	drawing.English().In(func(text string) string {
		if len(text) > 1 {
			out = append(out, text)
		}
		return text
	})
	return out
}

// scripted lists the texts of the tablet's scripts: the literals given to tr.
func scripted(t *testing.T) []string {
	t.Helper()
	var out []string
	err := fs.WalkDir(os.DirFS("../themes/site"), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(p) != ".js" {
			return err
		}
		text, err := fs.ReadFile(os.DirFS("../themes/site"), p)
		out = append(out, page.ScriptPatterns(string(text))...)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// rewrite writes the English files; the plural forms that stand there are kept.
func rewrite(t *testing.T, groups map[string][]string) {
	t.Helper()
	var found diag.List
	root := os.DirFS("../content")
	now := lang.Load(lang.Source, []lang.Layer{{Dir: "content", FS: root}}, &found)
	counted := map[string]bool{}
	for _, g := range lang.Patterns(root, &found) {
		for _, item := range g.Items {
			counted[item.English] = item.Counted
		}
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	for name, patterns := range groups {
		g := lang.Group{Name: name}
		for _, p := range patterns {
			g.Items = append(g.Items, lang.Item{English: p, Counted: counted[p]})
		}
		file := filepath.Join("..", "content", "lang", "en", "interface", name+".yaml")
		text := bytes.Replace(lang.Skeleton("en", g, now), []byte("reviewed: no"), []byte("reviewed: yes"), 1)
		if len(patterns) == 0 {
			continue
		}
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
