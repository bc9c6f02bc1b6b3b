package ifc

import (
	"slices"
	"sort"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

// Sizes of the blocks of the arena (bytes) and of the index (entries), as powers of two. Blocks are filled once and never
// moved, so that growing costs no copies.
const (
	textBits  = 20
	entryBits = 12
)

// entry finds one record in the arena: from is a block's number and the place in it.
type entry struct {
	id         uint64
	from, size uint32
	at         place
	kind       uint32 // number of the type in store.kinds
}

// store holds the records of one file by number.
type store struct {
	file   string
	schema string
	index  [][]entry // by number, once read
	n      int
	kinds  []string
	kindOf map[string]uint32
	blocks [][]byte
	sorted bool
	found  *diag.List
}

func newStore(file string, found *diag.List) *store {
	return &store{file: file, kindOf: map[string]uint32{}, sorted: true, found: found}
}

// unused are types that say how things look, who drew them and what they cost. Nothing here needs them, so their text is
// checked and not kept.
var unused = []string{
	"IFCSTYLED", "IFCSURFACESTYLE", "IFCCOLOUR", "IFCPRESENTATION", "IFCCURVESTYLE", "IFCFILLAREA", "IFCTEXT", "IFCDRAUGHTING",
	"IFCOWNERHISTORY", "IFCPERSON", "IFCORGANIZATION", "IFCAPPLICATION", "IFCPOSTALADDRESS", "IFCTELECOMADDRESS", "IFCACTORROLE",
	"IFCMATERIALDEFINITIONREPRESENTATION", "IFCSTRUCTURAL", "IFCRELCONNECTSSTRUCTURAL", "IFCTASK", "IFCCOST", "IFCINDEXEDTEXTUREMAP",
	"IFCINDEXEDCOLOURMAP", "IFCBLOBTEXTURE", "IFCIMAGETEXTURE", "IFCPIXELTEXTURE",
}

// kind gives a type's number; keep is false for types that are not stored.
func (s *store) kind(name []byte) (n uint32, keep bool) {
	n, ok := s.kindOf[string(name)]
	if !ok {
		n = uint32(len(s.kinds))
		k := string(name)
		if slices.ContainsFunc(unused, func(p string) bool { return strings.HasPrefix(k, p) }) {
			k = ""
		}
		s.kinds, s.kindOf[string(name)] = append(s.kinds, k), n
	}
	return n, s.kinds[n] != ""
}

// add stores a record's text.
func (s *store) add(id uint64, kind uint32, text []byte, at diag.Pos) {
	last := len(s.blocks) - 1
	if last < 0 || cap(s.blocks[last])-len(s.blocks[last]) < len(text) {
		s.blocks = append(s.blocks, make([]byte, 0, max(1<<textBits, len(text))))
		last++
	}
	e := entry{id: id, kind: kind, from: uint32(last)<<textBits + uint32(len(s.blocks[last])), size: uint32(len(text)),
		at: place{uint32(at.Line), uint32(at.Col)}}
	s.blocks[last] = append(s.blocks[last], text...)
	if s.n&(1<<entryBits-1) == 0 {
		s.index = append(s.index, make([]entry, 0, 1<<entryBits))
	}
	if s.n > 0 && s.entry(s.n-1).id >= id {
		s.sorted = false
	}
	block := &s.index[s.n>>entryBits]
	*block = append(*block, e)
	s.n++
}

func (s *store) entry(i int) *entry { return &s.index[i>>entryBits][i&(1<<entryBits-1)] }

// text is a record's attributes. A record longer than a block has one of its own.
func (s *store) text(e *entry) []byte {
	from := e.from & (1<<textBits - 1)
	return s.blocks[e.from>>textBits][from : from+e.size]
}

// byNumber sorts entries by number, those of one number as they stand in the file.
type byNumber struct{ *store }

func (b byNumber) Len() int      { return b.n }
func (b byNumber) Swap(i, j int) { *b.entry(i), *b.entry(j) = *b.entry(j), *b.entry(i) }
func (b byNumber) Less(i, j int) bool {
	x, y := b.entry(i), b.entry(j)
	return x.id < y.id || x.id == y.id && x.from < y.from
}

// sort puts the records in order and reports numbers that are defined twice; the first one counts.
func (s *store) sort() {
	if s.sorted {
		return
	}
	sort.Sort(byNumber{s})
	kept, twice := 0, 0
	for i := range s.n {
		e := s.entry(i)
		if kept == 0 || s.entry(kept-1).id != e.id {
			*s.entry(kept) = *e
			kept++
			continue
		}
		if twice++; twice <= maxFindings {
			again := survey.Say("#%d is defined twice; the first one was used", e.id)
			s.found.Add(diag.Finding{Level: diag.Open, Pos: s.pos(e.at), See: []diag.Pos{s.pos(s.entry(kept - 1).at)}, Msg: again.String(),
				Hint: survey.Say("write the file again from the program it came from").String(), Pattern: again.Pattern, Values: again.Values})
		}
	}
	s.n = kept
}

// find gives the place of a record in the index.
func (s *store) find(v value) (int, bool) {
	if v.kind != ref {
		return 0, false
	}
	i := sort.Search(s.n, func(i int) bool { return s.entry(i).id >= v.id })
	return i, i < s.n && s.entry(i).id == v.id
}

// get gives a record by reference.
func (s *store) get(v value) (record, bool) {
	i, ok := s.find(v)
	if !ok {
		return record{}, false
	}
	return s.record(i), true
}

func (s *store) record(i int) record {
	e := s.entry(i)
	return record{id: e.id, kind: s.kinds[e.kind], args: parse(s.text(e)), at: e.at}
}

// kindOfRef gives the type of a record without taking it apart; "" where it is not in the file.
func (s *store) kindOfRef(v value) string {
	i, ok := s.find(v)
	if !ok {
		return ""
	}
	return s.kinds[s.entry(i).kind]
}

// each calls visit with the place of every record whose type is one of kinds.
func (s *store) each(visit func(i int), kinds ...string) {
	in := make([]bool, len(s.kinds))
	some := false
	for _, k := range kinds {
		if n, ok := s.kindOf[k]; ok {
			in[n], some = true, true
		}
	}
	for i := 0; some && i < s.n; i++ {
		if in[s.entry(i).kind] {
			visit(i)
		}
	}
}

// all calls visit for every record whose type is one of kinds, by number.
func (s *store) all(visit func(record), kinds ...string) {
	s.each(func(i int) { visit(s.record(i)) }, kinds...)
}

// count gives how many records of a type there are.
func (s *store) count(kind string) int {
	n := 0
	s.each(func(int) { n++ }, kind)
	return n
}
