package lang

import (
	"errors"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"lapwork/generator/diag"
)

// The bounds of what is read; a complete language has some 300 files, 6,000 texts and half a megabyte.
const (
	maxFile  = 1 << 20
	maxFiles = 1000
	maxTexts = 50_000
	maxText  = 4000 // bytes of one text
)

// Layer is a folder that may hold lang/TAG: the built-in content, a firm's folder, a job's.
type Layer struct {
	Dir string // what findings show before the file's name
	FS  fs.FS
}

// Load reads one language from all layers; a later layer's translation of a text wins. Faults are malformed files and
// translations that do not fit their source. A language without any file has no text.
func Load(tag string, layers []Layer, found *diag.List) *Catalogue {
	c := &Catalogue{tag: tag, language: language.Make(tag), texts: map[string]entry{}, reviewed: true}
	files := 0
	for i, l := range layers {
		if l.FS == nil {
			continue
		}
		own := map[string]entry{}
		for _, dir := range folders(tag) {
			names := list(l, path.Join("lang", dir), found)
			if files += len(names); files > maxFiles {
				found.Faultf(diag.Pos{File: path.Join(l.Dir, "lang", dir)}, "", "more than %d files in one language", maxFiles)
				return c
			}
			for _, name := range names {
				c.file(l, dir, name, own, found)
				c.shipped = c.shipped || i == 0
			}
		}
		for k, e := range own {
			c.texts[k] = e
		}
	}
	return c
}

// Tags lists the languages that some layer has files of, sorted.
func Tags(layers []Layer) []string {
	var out []string
	for _, l := range layers {
		if l.FS == nil {
			continue
		}
		entries, err := fs.ReadDir(l.FS, "lang")
		if err != nil {
			continue // no languages here; a folder that cannot be read is reported when it is loaded
		}
		for _, e := range entries {
			if e.IsDir() {
				out = append(out, e.Name())
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// folders are those that serve a tag, the general one first: de, de-AT.
func folders(tag string) []string {
	if b := base(tag); b != tag {
		return []string{b, tag}
	}
	return []string{tag}
}

// base is the language of a tag without its region.
func base(tag string) string {
	b, _, _ := strings.Cut(tag, "-")
	return b
}

// list gives the files of a folder and its folders, in order.
func list(l Layer, dir string, found *diag.List) []string {
	var names []string
	err := fs.WalkDir(l.FS, dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if !d.IsDir() && path.Ext(p) == ".yaml" {
			names = append(names, p)
		}
		return nil
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		found.Faultf(diag.Pos{File: path.Join(l.Dir, dir)}, "", "cannot read the folder: %v", err)
	}
	return names
}

// reader reads one file.
type reader struct {
	file    string
	lines   []string
	pattern bool // its texts are patterns
	found   *diag.List
}

func (c *Catalogue) file(l Layer, dir, name string, into map[string]entry, found *diag.List) {
	at := diag.Pos{File: path.Join(l.Dir, name)}
	text, err := fs.ReadFile(l.FS, name)
	switch {
	case err != nil:
		found.Faultf(at, "", "cannot read the file: %v", err)
		return
	case len(text) > maxFile:
		found.Faultf(at, "divide it", "the file is larger than %d bytes", maxFile)
		return
	}
	r := reader{at.File, strings.Split(string(text), "\n"), slices.Contains(strings.Split(name, "/"), "interface"), found}
	reviewed, ok := r.read(text, dir, into)
	c.reviewed = c.reviewed && ok && reviewed
	if len(into) > maxTexts {
		found.Faultf(at, "", "more than %d texts in one language", maxTexts)
		clear(into)
	}
}

var yamlLine = regexp.MustCompile(`line (\d+): (?s)(.*)`)

// read reads a file's header and its texts. reviewed is what the header says.
func (r reader) read(text []byte, tag string, into map[string]entry) (reviewed, ok bool) {
	top := diag.Pos{File: r.file, Line: 1, Col: 1}
	if !utf8.Valid(text) {
		r.found.Faultf(top, "save it as UTF-8", "the file is not UTF-8 text")
		return false, false
	}
	var root yaml.Node
	if err := yaml.Unmarshal(text, &root); err != nil {
		at, msg := diag.Pos{File: r.file, Line: 1}, strings.TrimPrefix(err.Error(), "yaml: ")
		if g := yamlLine.FindStringSubmatch(msg); g != nil {
			if n, err := strconv.Atoi(g[1]); err == nil {
				at.Line, msg = min(max(n, 1), len(r.lines)), g[2]
			}
		}
		r.found.Faultf(at, `put both texts in quotes: "English": "translation"`, "%s", msg)
		return false, false
	}
	if len(root.Content) == 0 || root.Content[0].Kind != yaml.MappingNode {
		r.found.Faultf(top, "begin with language:, reviewed: and texts:", "a language file is a mapping")
		return false, false
	}
	return r.header(root.Content[0], tag, into)
}

func (r reader) header(m *yaml.Node, tag string, into map[string]entry) (reviewed, ok bool) {
	seen := map[string]bool{}
	for i := 0; i+1 < len(m.Content); i += 2 {
		k, v := m.Content[i], m.Content[i+1]
		if seen[k.Value] {
			r.found.Faultf(r.pos(k), "keep one of them", "key %q stands twice", k.Value)
		}
		seen[k.Value] = true
		switch k.Value {
		case "language":
			if v.Value != tag {
				r.found.Faultf(r.pos(v), "write "+tag+", or move the file", "the file lies in %s and says language %q", tag, v.Value)
			}
		case "reviewed":
			if reviewed = v.Value == "yes"; !reviewed && v.Value != "no" {
				r.found.Faultf(r.pos(v), "yes: read by a person whose mother tongue it is", "reviewed is yes or no")
			}
		case "texts":
			r.texts(v, into)
		default:
			r.found.Faultf(r.pos(k), "language, reviewed or texts", "unknown key %q", k.Value)
		}
	}
	for _, k := range []string{"language", "reviewed", "texts"} {
		if !seen[k] {
			r.found.Faultf(r.pos(m), "add "+k+":", "key %q is missing", k)
		}
	}
	return reviewed, true
}

func (r reader) texts(m *yaml.Node, into map[string]entry) {
	if m.Kind == yaml.ScalarNode && m.Tag == "!!null" {
		return // nothing yet
	}
	if m.Kind != yaml.MappingNode {
		r.found.Faultf(r.pos(m), `write "English": "translation" lines`, "texts must be a mapping")
		return
	}
	here := map[string]*yaml.Node{}
	for i := 0; i+1 < len(m.Content); i += 2 {
		k, v := m.Content[i], m.Content[i+1]
		switch first := here[k.Value]; {
		case k.Kind != yaml.ScalarNode || k.Value == "":
			r.found.Faultf(r.pos(k), "put it in quotes", "an English text is one text")
			continue
		case first != nil:
			r.found.Add(diag.Finding{Pos: r.pos(k), Msg: "the text " + strconv.Quote(k.Value) + " stands twice", Hint: "keep one of them",
				See: []diag.Pos{r.pos(first)}})
			continue
		}
		here[k.Value] = k
		e, ok := r.entry(k, v)
		if !ok {
			continue
		}
		if old, ok := into[k.Value]; ok && !same(old, e) {
			r.found.Add(diag.Finding{Pos: r.pos(v), Msg: "another file translates " + strconv.Quote(k.Value) + " otherwise",
				Hint: "remove one of them", See: []diag.Pos{old.pos}})
			continue
		}
		into[k.Value] = e
	}
}

func same(a, b entry) bool {
	if len(a.forms) != len(b.forms) {
		return false
	}
	for f, t := range a.forms {
		if b.forms[f] != t {
			return false
		}
	}
	return true
}

var formNames = map[string]plural.Form{"zero": plural.Zero, "one": plural.One, "two": plural.Two, "few": plural.Few, "many": plural.Many, "other": plural.Other}

// entry reads one translation; an empty one is not there yet.
func (r reader) entry(k, v *yaml.Node) (entry, bool) {
	e := entry{forms: map[plural.Form]string{}, pos: r.pos(v)}
	switch v.Kind {
	case yaml.ScalarNode:
		if v.Tag == "!!null" || strings.TrimSpace(v.Value) == "" {
			return e, false
		}
		e.forms[plural.Other] = v.Value
		return e, r.fits(k.Value, v)
	case yaml.MappingNode:
		return e, r.forms(k, v, e.forms)
	}
	r.found.Faultf(r.pos(v), `write "English": "translation"`, "a translation is one text, or its plural forms")
	return e, false
}

// forms reads the plural forms of a pattern.
func (r reader) forms(k, m *yaml.Node, into map[plural.Form]string) bool {
	if !r.pattern || !counts(k.Value) {
		r.found.Faultf(r.pos(m), "write one text", "only a pattern with a %%d has plural forms")
		return false
	}
	ok, empty := true, true
	for i := 0; i+1 < len(m.Content); i += 2 {
		name, v := m.Content[i], m.Content[i+1]
		form, known := formNames[name.Value]
		switch {
		case !known:
			r.found.Faultf(r.pos(name), "zero, one, two, few, many or other", "%q is no plural form", name.Value)
			ok = false
		case v.Kind != yaml.ScalarNode:
			r.found.Faultf(r.pos(v), "", "a plural form is one text")
			ok = false
		case v.Tag == "!!null" || strings.TrimSpace(v.Value) == "":
		default:
			empty = false
			ok = r.fits(k.Value, v) && ok
			into[form] = v.Value
		}
	}
	if ok && !empty && into[plural.Other] == "" {
		r.found.Faultf(r.pos(m), "add other:", "the form other is missing")
		return false
	}
	return ok && !empty
}

// pos gives the place of a node. YAML counts characters, findings count bytes.
func (r reader) pos(n *yaml.Node) diag.Pos {
	p := diag.Pos{File: r.file, Line: min(max(n.Line, 1), len(r.lines)), Col: n.Column}
	runes := 1
	for i := range r.lines[p.Line-1] {
		if runes == n.Column {
			p.Col = i + 1
			return p
		}
		runes++
	}
	p.Col = min(max(p.Col, 0), len(r.lines[p.Line-1])+1)
	return p
}
