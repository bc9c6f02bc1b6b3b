package page

import (
	"cmp"
	"errors"
	"html/template"
	"io"
	"io/fs"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"text/template/parse"

	"lapwork/generator/diag"
	"lapwork/generator/pack"
	"lapwork/generator/theme"
)

// Kinds are the kinds of page, in the order of a pack.
var Kinds = []pack.Kind{pack.KindOverview, pack.KindStart, pack.KindUnit, pack.KindRoom, pack.KindPhase, pack.KindSurface, pack.KindSchedule, pack.KindStatement, pack.KindMaterials, pack.KindCutting,
	pack.KindProgramme, pack.KindAir, pack.KindMoisture, pack.KindSignOff, pack.KindDefects, pack.KindHandover, pack.KindCautions, pack.KindOpen, pack.KindTrades, pack.KindLate, pack.KindSite,
	pack.KindChanges, pack.KindDeclared, pack.KindOwn, pack.KindSearch}

// CheckOwn reports what in a theme's templates would fail on some page: syntax, a field that a view does not have, a part
// that is missing or that nothing shows, what the policy of a pack refuses. program are the templates that it stands over,
// sheets the views of the pages beside a pack by the names of their templates.
func CheckOwn(program fs.FS, own theme.Theme, sheets map[string]reflect.Type, found *diag.List) {
	o := ownTemplates{own: own, sheets: sheets, found: found, texts: map[string]string{}, reported: map[string]bool{}}
	if !slices.ContainsFunc(keysOf(own.Over), func(name string) bool { return strings.HasPrefix(name, "templates/") }) {
		return
	}
	names, err := fs.Glob(program, "*.html")
	if err != nil {
		found.Faultf(diag.Pos{File: "templates"}, "", "%v", err)
		return
	}
	before := found.Count(diag.Fault)
	o.read(program, names)
	if found.Count(diag.Fault) == before {
		o.types()
		o.refused(program)
	}
	if found.Count(diag.Fault) == before {
		o.escapes()
	}
}

func keysOf(m map[string]theme.File) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// ownTemplates are the program's templates with a theme's in their place.
type ownTemplates struct {
	own      theme.Theme
	sheets   map[string]reflect.Type
	found    *diag.List
	names    []string
	texts    map[string]string // by file
	parts    map[string]*parse.Tree
	reported map[string]bool
}

// ours reports whether a file is the theme's, with what findings call it.
func (o *ownTemplates) ours(file string) (string, bool) {
	f, ok := o.own.Over["templates/"+file]
	return f.At, ok
}

// report puts a fault at a byte of a theme's file, once.
func (o *ownTemplates) report(file string, at int, hint, format string, args ...any) {
	name, ok := o.ours(file)
	if !ok {
		return
	}
	before := o.texts[file][:min(max(at, 0), len(o.texts[file]))]
	pos := diag.Pos{File: name, Line: 1 + strings.Count(before, "\n"), Col: len(before) - strings.LastIndexByte(before, '\n')}
	var one diag.List
	one.Faultf(pos, hint, format, args...)
	f := one.Sorted()[0]
	if text := f.String(); !o.reported[text] {
		o.reported[text] = true
		o.found.Add(f)
	}
}

var parseLine = regexp.MustCompile(`^template: [^:]+:(\d+): (?s)(.*)$`)

// read parses every file; a theme's parts stand in place of the program's of the same file only.
func (o *ownTemplates) read(program fs.FS, names []string) {
	calls := map[string]any{}
	for name := range builtins {
		calls[name] = true
	}
	for name := range callTypes() {
		calls[name] = true
	}
	o.parts = map[string]*parse.Tree{}
	was := map[string]map[string]*parse.Tree{}
	o.names = o.own.Templates(names)
	for _, name := range o.names {
		if text, err := fs.ReadFile(program, name); err == nil {
			if trees, err := parse.Parse(name, string(text), "", "", calls); err == nil {
				was[name] = trees
			}
		}
		text, err := o.own.Text(program, name, "templates")
		if err != nil {
			o.found.Faultf(diag.Pos{File: name}, "", "%v", err)
			continue
		}
		o.texts[name] = text
		trees, err := parse.Parse(name, text, "", "", calls)
		if err != nil {
			o.syntax(name, err)
			continue
		}
		for part, tree := range trees {
			if part == name { // what stands outside the parts
				continue
			}
			if first := o.parts[part]; first != nil {
				file, at := name, strings.Index(text, `"`+part+`"`)
				if _, ok := o.ours(name); !ok {
					file, at = first.ParseName, strings.Index(o.texts[first.ParseName], `"`+part+`"`)
				}
				o.report(file, at, "override that file, or take another name", "the part %q stands in another template too", part)
			}
			o.parts[part] = tree
		}
	}
	for _, name := range o.names {
		if _, ok := o.ours(name); !ok {
			continue
		}
		for part := range was[name] {
			if part != name && o.parts[part] == nil {
				o.report(name, 0, "take it over from the program's file", "the part %q is missing, which the file in its place has", part)
			}
		}
	}
}

func (o *ownTemplates) syntax(name string, err error) {
	line, msg := 1, err.Error()
	if g := parseLine.FindStringSubmatch(msg); g != nil {
		if n, e := strconv.Atoi(g[1]); e == nil {
			line, msg = n, g[2]
		}
	}
	at, ok := o.ours(name)
	if !ok {
		at = name
	}
	o.found.Faultf(diag.Pos{File: at, Line: line}, "as Go's html/template writes it", "the template cannot be read: %s", msg)
}

// callTypes are the functions of templates by their types.
func callTypes() map[string]reflect.Type {
	out := map[string]reflect.Type{}
	for name, f := range funcs(index{}, shares{}, nil, new(repeats)) {
		out[name] = reflect.TypeOf(f)
	}
	return out
}

// types checks every page and the frame with what they are given.
func (o *ownTemplates) types() {
	c := &checker{parts: o.parts, calls: callTypes(), seen: map[visit]bool{}, reached: map[string]bool{}}
	c.report = func(t *parse.Tree, at parse.Pos, format string, args ...any) {
		o.report(t.ParseName, int(at), "see the view's other fields in the program's template", format, args...)
	}
	pageType := reflect.TypeFor[pack.Page]()
	for _, k := range Kinds {
		p := reflect.New(pageType).Elem()
		for i := range p.NumField() {
			if f := p.Field(i); f.Kind() == reflect.Pointer {
				f.Set(reflect.New(f.Type().Elem()))
			}
		}
		pg := p.Interface().(pack.Page)
		pg.Kind = k
		c.view = reflect.TypeOf(view(pg))
		c.part(templateName(k), contentType)
	}
	for name, t := range map[string]reflect.Type{"folder": reflect.TypeFor[frame](), "single": reflect.TypeFor[frame](), "foot": reflect.TypeFor[frame](), "beside": reflect.TypeFor[besideList](), "controls": reflect.TypeFor[struct{}](), "measured": reflect.TypeFor[struct{}](),
		"check": reflect.TypeFor[pack.Check](), "alike": reflect.TypeFor[alike](), "how": reflect.TypeFor[pack.Check](), "says": reflect.TypeFor[pack.Check](), "junction": reflect.TypeFor[pack.JunctionRow](), "place": reflect.TypeFor[pack.JunctionRow](), "jwhat": reflect.TypeFor[pack.JunctionRow](), "steplist": reflect.TypeFor[[]pack.Step](), "caution": reflect.TypeFor[pack.Caution](), "next": reflect.TypeFor[*pack.Link]()} {
		c.part(name, t)
	}
	for name, t := range o.sheets {
		c.view = t
		c.part(name, sheetType)
	}
	for name, t := range o.parts {
		if !c.reached[name] {
			o.report(t.ParseName, strings.Index(o.texts[t.ParseName], `"`+name+`"`), "call it from a page, or leave it out", "nothing in a pack shows the part %q", name)
		}
	}
}

var (
	programs = regexp.MustCompile(`(?i)<\s*(script|style|iframe|object|embed|base|meta|link)\b|\s(on[a-z]+|style)\s*=|(href|src)\s*=\s*"\s*(https?:|//|javascript:)|=\s*'`)
	policies = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>|<script[^>]*>|<link [^>]*>`)
)

// refused reports what a pack's policy refuses. A document keeps its own policy, scripts and style to the letter.
func (o *ownTemplates) refused(program fs.FS) {
	for _, name := range o.names {
		if _, ok := o.ours(name); !ok {
			continue
		}
		text := o.texts[name]
		if places, ok := o.document(name); ok {
			o.kept(program, name, places)
			text = policies.ReplaceAllStringFunc(text, blank)
			text = regexp.MustCompile(`<meta [^>]*>`).ReplaceAllStringFunc(text, blank)
		}
		for _, g := range programs.FindAllStringIndex(text, -1) {
			o.report(name, g[0], "leave it out; styles stand in site/added.css", "a pack refuses %q", strings.TrimSpace(text[g[0]:g[1]]))
		}
	}
}

// document reports whether a template makes a whole document, with what must stay in it.
func (o *ownTemplates) document(name string) (places []string, ok bool) {
	if name == "frame.html" {
		return []string{"{{.Style}}", "{{.Section}}", "{{.Foot}}", "{{.Data}}", "{{.Hatches}}", `id="warn"`, `id="tablet"`, `data-pack="{{.Head.PackID}}"`, `data-rev="{{.Head.Revision}}"`}, true
	}
	_, ok = o.sheets[strings.TrimSuffix(name, ".html")]
	return []string{"{{.Style}}"}, ok
}

func blank(s string) string { return strings.Repeat(" ", len(s)) }

// kept reports what a document of the theme has lost of the program's.
func (o *ownTemplates) kept(program fs.FS, name string, places []string) {
	was, err := fs.ReadFile(program, name)
	if err != nil {
		return
	}
	what, text := "page", o.texts[name]
	if name == "frame.html" {
		what = "frame"
	}
	want, got := policies.FindAllString(string(was), -1), policies.FindAllString(text, -1)
	if !slices.Equal(want, got) {
		at := 0
		for i, g := range got {
			if i >= len(want) || g != want[i] {
				at = strings.Index(text, g)
				break
			}
		}
		o.report(name, at, "take these lines over as they stand", "the %s's policy, scripts or style differ from the program's", what)
	}
	for _, place := range places {
		if strings.Count(text, place) < strings.Count(string(was), place) {
			o.report(name, 0, "take it over from the program's "+what, "the %s has lost %s", what, place)
		}
	}
}

// escapes runs each page of the theme with nothing in it: HTML in which a value could not be told from a tag is found so.
func (o *ownTemplates) escapes() {
	all := template.New("").Funcs(funcs(index{}, shares{}, nil, new(repeats)))
	for _, name := range o.names {
		if _, err := all.New(name).Parse(o.texts[name]); err != nil {
			o.syntax(name, err)
			return
		}
	}
	for _, name := range slices.Sorted(func(yield func(string) bool) {
		for part := range o.parts {
			if !yield(part) {
				return
			}
		}
	}) {
		var wrong *template.Error
		err := all.ExecuteTemplate(io.Discard, name, nil)
		if !errors.As(err, &wrong) {
			continue
		}
		part, _, _ := strings.Cut(wrong.Name, "$") // a part in a context of its own
		file := wrong.Name
		if t := o.parts[part]; t != nil {
			file = t.ParseName
		}
		at, _ := o.ours(file)
		o.found.Faultf(diag.Pos{File: cmp.Or(at, file), Line: max(1, wrong.Line)}, "close what is open there", "%s", wrong.Description)
	}
}
