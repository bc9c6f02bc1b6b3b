package library

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// Tables are the data tables of all layers together.
type Tables struct {
	Substrates Table[*Substrate]
	Components Table[*Component]
	Variables  Table[*Variable]
	Flags      Table[*Flag]
	Rules      Table[*Rule]
	Conditions Table[*ConditionSet]
	Cautions   Table[*Caution]
	Checks     Table[*QACheck]
	Activities Table[*Activity]
	Phases     Table[*Phase]
	Holds      Table[*Hold]
	Documents  Table[*Document]
	Terms      Table[*Term]
	Moisture   MoistureTables
	TradeTables
	GoodsTables
}

// Library is everything the pack is written from: the tables, and one statement for each id after layering.
type Library struct {
	Tables
	Air        AirTables
	Statements []*Statement // by id
	replaced   map[StatementID]StatementID
	byID       map[StatementID]*Statement
	shipped    []*Statement // of the built-in layer, replaced ones included
	noMatch    string       // NoMatch in the library's language; empty: English
	figures    sync.Map     // texts that Figures has compiled
}

// Layer is one folder of a library: statements in library/*.md, tables in tables/*.csv. Both may be missing.
type Layer struct {
	Name    string // built-in, firm, job, or a library's own; shown as the origin of a statement
	Edition string // version and hash in words; empty: not stated
	Dir     string // what findings show before the file's name
	FS      fs.FS
}

func (l Layer) path(name string) string { return path.Join(l.Dir, name) }

// Load reads the three layers of a library, the built-in first. A nil layer is left out. Every finding goes to found; the
// library is usable only when found has no faults.
func Load(builtin, firm, jobLib fs.FS, found *diag.List) *Library {
	return LoadLayers(Layers(builtin, nil, firm, jobLib), found)
}

// Layers gives the layers of a library in their order: built-in, the libraries the firm has pinned, firm, job. A layer
// without files is left out.
func Layers(builtin fs.FS, pinned []Layer, firm, jobLib fs.FS) []Layer {
	var layers []Layer
	all := append([]Layer{{Name: BuiltIn, Dir: "content", FS: builtin}}, pinned...)
	for _, l := range append(all, Layer{Name: "firm", Dir: "firm", FS: firm}, Layer{Name: "job", FS: jobLib}) {
		if l.FS != nil {
			layers = append(layers, l)
		}
	}
	return layers
}

// BuiltIn is the name of the layer that comes with the program.
const BuiltIn = "built-in"

// LoadLayers reads layers in the order given; a later one overrides rows of tables by their id, and statements by replaces.
func LoadLayers(layers []Layer, found *diag.List) *Library {
	l := &Library{replaced: map[StatementID]StatementID{}, byID: map[StatementID]*Statement{}}
	for _, layer := range layers {
		l.loadTables(layer, found)
	}
	checkTableNames(layers, found)
	c := compiler{l.flagIndex(), found}
	l.compileCautions(c)
	for _, layer := range layers {
		l.loadStatements(layer, c)
	}
	for _, s := range l.byID {
		l.Statements = append(l.Statements, s)
	}
	slices.SortFunc(l.Statements, func(a, b *Statement) int { return strings.Compare(string(a.ID), string(b.ID)) })
	checkTables(l, found)
	l.Air.check(found)
	l.checkTrades(found)
	l.checkPhases(found)
	l.checkGoods(found)
	for _, s := range l.Statements {
		l.checkStatement(s, found)
	}
	return l
}

func (l *Library) loadTables(from Layer, found *diag.List) {
	substrateSpec.load(&l.Substrates, from, found)
	componentSpec.load(&l.Components, from, found)
	variableSpec.load(&l.Variables, from, found)
	flagSpec.load(&l.Flags, from, found)
	ruleSpec.load(&l.Rules, from, found)
	conditionSpec.load(&l.Conditions, from, found)
	cautionSpec.load(&l.Cautions, from, found)
	checkSpec.load(&l.Checks, from, found)
	activitySpec.load(&l.Activities, from, found)
	phaseSpec.load(&l.Phases, from, found)
	holdSpec.load(&l.Holds, from, found)
	documentSpec.load(&l.Documents, from, found)
	termSpec.load(&l.Terms, from, found)
	l.Moisture.load(from, found)
	l.Air.load(from, found)
	l.loadTrades(from, found)
	l.loadGoods(from, found)
	for i, a := range l.Activities.All() {
		a.Position = i + 1
	}
}

// checkTableNames reports tables that nothing reads: the built-in layer has one of each.
func checkTableNames(layers []Layer, found *diag.List) {
	if len(layers) == 0 || layers[0].Name != BuiltIn {
		return
	}
	known := tableNames(layers[0])
	for _, from := range layers[1:] {
		for _, name := range tableNames(from) {
			if !oneOf(name, known) {
				found.Faultf(diag.Pos{File: from.path("tables/" + name)}, suggest(name, known), "no table is called %s, so that it is not read", name)
			}
		}
	}
}

// tableNames are the names of a layer's table files, in order.
func tableNames(from Layer) []string {
	files, _ := fs.Glob(from.FS, "tables/*.csv") // the pattern is sound
	for i := range files {
		files[i] = path.Base(files[i])
	}
	return files
}

func (l *Library) flagIndex() map[job.FlagID]*Flag {
	out := map[job.FlagID]*Flag{}
	for _, f := range l.Flags.All() {
		out[f.ID] = f
	}
	return out
}

func (l *Library) loadStatements(from Layer, c compiler) {
	entries, err := fs.ReadDir(from.FS, "library")
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	if err != nil {
		c.found.Faultf(diag.Pos{File: from.path("library")}, "", "cannot read the folder: %v", err)
		return
	}
	inLayer := map[StatementID]*Statement{}
	for _, e := range entries {
		name := path.Join("library", e.Name())
		if unread(from, name, e, c.found) {
			continue
		}
		text, err := readBounded(from.FS, name, maxFile)
		if err != nil {
			c.found.Faultf(diag.Pos{File: from.path(name)}, "a detail is a plain text file of its own", "cannot read the file: %v", err)
			continue
		}
		s := parseStatement(string(text), from.path(name), c)
		if s == nil {
			continue
		}
		s.Origin, s.Edition = from.Name, from.Edition
		if want := strings.TrimSuffix(e.Name(), ".md"); s.ID != "" && string(s.ID) != want {
			c.found.Faultf(s.Pos, "rename the file or the id", "the id %q is not the name of its file", s.ID)
		}
		if from.Name == BuiltIn {
			l.shipped = append(l.shipped, s)
		}
		l.layer(s, inLayer, c.found)
	}
}

// unread reports whether something in the folder library is no statement. What looks as if it were meant as one is a fault,
// since its detail would never answer.
func unread(from Layer, name string, e fs.DirEntry, found *diag.List) bool {
	at := diag.Pos{File: from.path(name)}
	switch {
	case e.IsDir():
		if inside, err := fs.Glob(from.FS, path.Join(name, "*.md")); err == nil && len(inside) > 0 {
			found.Faultf(at, "move them up into library/", "details in a folder of their own are not read: %s", path.Base(inside[0]))
		}
		return true
	case strings.EqualFold(e.Name(), "readme.md"):
		return true
	case path.Ext(name) != ".md" && strings.EqualFold(path.Ext(name), ".md"):
		found.Faultf(at, "let its name end in .md", "the file is not read: its ending is %s", path.Ext(name))
	}
	return path.Ext(name) != ".md"
}

// layer puts a statement into the library: a new id, or in place of the statement it says it replaces.
func (l *Library) layer(s *Statement, inLayer map[StatementID]*Statement, found *diag.List) {
	old := l.byID[s.ID]
	switch {
	case inLayer[s.ID] != nil:
		found.Add(diag.Finding{Pos: s.Pos, Msg: "a second statement with the id " + string(s.ID),
			Hint: "rename one", See: []diag.Pos{inLayer[s.ID].Pos}})
		return
	case s.Replaces == s.ID && s.ID != "" && old == nil:
		found.Faultf(s.at("replaces", string(s.ID)), "delete the line, or name the detail of a lower layer", "%s cannot take its own place", s.ID)
		return
	case s.Replaces == "" && old != nil:
		found.Add(diag.Finding{Pos: s.Pos, Msg: "the id " + string(s.ID) + " belongs to the " + old.Origin + " library",
			Hint: "add replaces: " + string(s.ID) + ", or take another id", See: []diag.Pos{old.Pos}})
		return
	}
	if s.Replaces != "" && !l.replace(s, inLayer, found) {
		return
	}
	inLayer[s.ID] = s
	l.byID[s.ID] = s
}

func (l *Library) replace(s *Statement, inLayer map[StatementID]*Statement, found *diag.List) bool {
	target := l.byID[s.Replaces]
	at := s.at("replaces", string(s.Replaces))
	if target == nil {
		if by, taken := l.replaced[s.Replaces]; taken {
			found.Add(diag.Finding{Pos: at, Msg: string(s.Replaces) + " is already replaced by " + string(by),
				Hint: "replace " + string(by) + " instead"})
			return false
		}
		var known []string
		for id := range l.byID {
			known = append(known, string(id))
		}
		slices.Sort(known)
		found.Faultf(at, suggest(string(s.Replaces), known), "replaces names %q, which no lower layer has", s.Replaces)
		return false
	}
	if inLayer[s.Replaces] != nil {
		found.Add(diag.Finding{Pos: at, Msg: string(s.Replaces) + " stands in the same layer",
			Hint: "edit that one", See: []diag.Pos{target.Pos}})
		return false
	}
	delete(l.byID, s.Replaces)
	l.replaced[s.Replaces] = s.ID
	if s.ID == s.Replaces {
		delete(l.replaced, s.ID)
	}
	return true
}

// Statement gives the statement that answers to an id, following replacements; nil when there is none.
func (l *Library) Statement(id StatementID) *Statement {
	for range len(l.replaced) + 1 {
		if s := l.byID[id]; s != nil {
			return s
		}
		id = l.replaced[id]
	}
	return nil
}
