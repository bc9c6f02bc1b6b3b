package lang

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"lapwork/generator/diag"
)

// Group is the texts of one file of a language.
type Group struct {
	Name  string // statements/wall-ceiling: the path below lang/TAG, without its ending
	Items []Item
}

// Item is one English text to translate.
type Item struct {
	English string
	Counted bool // its first whole number chooses between plural forms
	Short   bool // it stands in a drawing, where there is room for some 24 letters
}

// Patterns lists the patterns of the interface as the English files hold them: every text that the program's own code,
// templates and scripts say. A text with plural forms of its own in English has them in every language.
func Patterns(content fs.FS, found *diag.List) []Group {
	l := Layer{Dir: "content", FS: content}
	var out []Group
	for _, name := range list(l, "lang/"+Source, found) {
		text, err := fs.ReadFile(content, name)
		if err != nil {
			found.Faultf(diag.Pos{File: path.Join(l.Dir, name)}, "", "cannot read the file: %v", err)
			continue
		}
		var file struct {
			Language, Reviewed string
			Texts              yaml.Node
		}
		if err := yaml.Unmarshal(text, &file); err != nil {
			found.Faultf(diag.Pos{File: path.Join(l.Dir, name)}, "", "%v", err)
			continue
		}
		g := Group{Name: strings.TrimSuffix(strings.TrimPrefix(name, "lang/"+Source+"/"), ".yaml")}
		for i := 0; i+1 < len(file.Texts.Content); i += 2 {
			g.Items = append(g.Items, Item{English: file.Texts.Content[i].Value, Counted: file.Texts.Content[i+1].Kind == yaml.MappingNode})
		}
		out = append(out, g)
	}
	return out
}

// Skeleton gives the file of a group in a language, with what the catalogue has already filled in.
func Skeleton(tag string, g Group, c *Catalogue) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "language: %s\nreviewed: no\ntexts:\n", tag)
	for _, item := range g.Items {
		var e entry
		if c != nil {
			e = c.texts[item.English]
		}
		if !item.Counted {
			fmt.Fprintf(&b, "  %s: %s%s\n", quoted(item.English), quoted(e.forms[plural.Other]), remark(item))
			continue
		}
		fmt.Fprintf(&b, "  %s:\n", quoted(item.English))
		for _, f := range formsOf(tag) {
			fmt.Fprintf(&b, "    %s: %s\n", f, quoted(e.forms[formNames[f]]))
		}
	}
	return b.Bytes()
}

func remark(item Item) string {
	if item.Short {
		return " # in a drawing: 24 letters or fewer"
	}
	return ""
}

// quoted writes a text as a YAML scalar in double quotes; Go's escapes are among YAML's.
func quoted(text string) string { return strconv.Quote(text) }

// formsOf lists the plural forms that a language tells apart for whole numbers, "other" last.
func formsOf(tag string) []string {
	used := map[plural.Form]bool{}
	t := language.Make(tag)
	for _, n := range []int{0, 1, 2, 3, 5, 11, 12, 20, 21, 22, 25, 100, 101, 1_000_000} {
		used[plural.Cardinal.MatchPlural(t, n, 0, 0, 0, 0)] = true
	}
	var out []string
	for _, name := range []string{"zero", "one", "two", "few", "many"} {
		if used[formNames[name]] {
			out = append(out, name)
		}
	}
	return append(slices.Clip(out), "other")
}
