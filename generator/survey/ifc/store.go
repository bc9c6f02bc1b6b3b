package ifc

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/diag"
)

// chunk is the size of the arena's blocks: the text of records is copied there once and never moved.
const chunk = 1 << 20

// entry finds one record in the arena.
type entry struct {
	id   uint64
	text []byte
	kind uint32 // number of the type in store.kinds
	at   place
}

// store holds the records of one file by number.
type store struct {
	file    string
	schema  string
	entries []entry // by number, once read
	kinds   []string
	kindOf  map[string]uint32
	arena   []byte
	found   *diag.List
}

// unused are types that say how things look, who drew them and what they cost. Nothing here needs them, so their text is
// checked and not kept.
var unused = []string{
	"IFCSTYLED", "IFCSURFACESTYLE", "IFCCOLOUR", "IFCPRESENTATION", "IFCCURVESTYLE", "IFCFILLAREA", "IFCTEXT", "IFCDRAUGHTING",
	"IFCOWNERHISTORY", "IFCPERSON", "IFCORGANIZATION", "IFCAPPLICATION", "IFCPOSTALADDRESS", "IFCTELECOMADDRESS", "IFCACTORROLE",
	"IFCMATERIALDEFINITIONREPRESENTATION", "IFCSTRUCTURAL", "IFCRELCONNECTSSTRUCTURAL", "IFCTASK", "IFCCOST", "IFCINDEXEDTEXTUREMAP",
	"IFCINDEXEDCOLOURMAP", "IFCBLOBTEXTURE", "IFCIMAGETEXTURE", "IFCPIXELTEXTURE",
}

func wanted(kind string) bool {
	return !slices.ContainsFunc(unused, func(p string) bool { return strings.HasPrefix(kind, p) })
}

// add stores a record's text.
func (s *store) add(id uint64, kind string, text []byte, at diag.Pos) {
	n, ok := s.kindOf[kind]
	if !ok {
		n = uint32(len(s.kinds))
		s.kinds, s.kindOf[strings.Clone(kind)] = append(s.kinds, kind), n
	}
	if cap(s.arena)-len(s.arena) < len(text) {
		s.arena = make([]byte, 0, max(chunk, len(text)))
	}
	from := len(s.arena)
	s.arena = append(s.arena, text...)
	s.entries = append(s.entries, entry{id: id, kind: n, text: s.arena[from:len(s.arena):len(s.arena)],
		at: place{uint32(at.Line), uint32(at.Col)}})
}

// sort puts the records in order and reports numbers that are defined twice; the first one counts.
func (s *store) sort() {
	slices.SortStableFunc(s.entries, func(a, b entry) int { return cmp.Compare(a.id, b.id) })
	twice := 0
	s.entries = slices.CompactFunc(s.entries, func(b, a entry) bool {
		if a.id != b.id {
			return false
		}
		if twice++; twice > maxFindings {
			return true
		}
		s.found.Add(diag.Finding{Level: diag.Open, Pos: s.pos(b.at), See: []diag.Pos{s.pos(a.at)},
			Msg:  record{id: b.id}.name() + "is defined twice; the first one was used",
			Hint: "write the file again from the program it came from"})
		return true
	})
}

// get gives a record by reference.
func (s *store) get(v value) (record, bool) {
	if v.kind != ref {
		return record{}, false
	}
	i, ok := slices.BinarySearchFunc(s.entries, v.id, func(e entry, id uint64) int { return cmp.Compare(e.id, id) })
	if !ok {
		return record{}, false
	}
	return s.record(i), true
}

func (s *store) record(i int) record {
	e := s.entries[i]
	return record{id: e.id, kind: s.kinds[e.kind], args: parse(e.text), at: e.at}
}

// kindOfRef gives the type of a record without taking it apart; "" where it is not in the file.
func (s *store) kindOfRef(v value) string {
	i, ok := slices.BinarySearchFunc(s.entries, v.id, func(e entry, id uint64) int { return cmp.Compare(e.id, id) })
	if v.kind != ref || !ok {
		return ""
	}
	return s.kinds[s.entries[i].kind]
}

// all calls visit for every record whose type is one of kinds, by number.
func (s *store) all(visit func(record), kinds ...string) {
	var in []uint32
	for _, k := range kinds {
		if n, ok := s.kindOf[k]; ok {
			in = append(in, n)
		}
	}
	if len(in) == 0 {
		return
	}
	for i, e := range s.entries {
		if slices.Contains(in, e.kind) {
			visit(s.record(i))
		}
	}
}

// count gives how many records of a type there are.
func (s *store) count(kind string) int {
	n := 0
	s.all(func(record) { n++ }, kind)
	return n
}

func (s *store) pos(at place) diag.Pos {
	return diag.Pos{File: s.file, Line: int(at.line), Col: int(at.col)}
}

// openf reports something a person has to look at, about a record.
func (s *store) openf(r record, hint, format string, args ...any) {
	s.found.Openf(s.pos(r.at), r.item(), hint, r.name()+": "+format, args...)
}

// notef reports something worth knowing about a record.
func (s *store) notef(r record, format string, args ...any) {
	s.found.Notef(s.pos(r.at), r.item(), r.name()+": "+format, args...)
}

// item is the global id of a record that has one: 22 characters, first attribute.
func (r record) item() string {
	if g := r.arg(0); g.kind == text && len(g.word) == 22 {
		return g.word
	}
	return ""
}
