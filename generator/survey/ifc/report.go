package ifc

import (
	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

func (s *store) pos(at place) diag.Pos {
	return diag.Pos{File: s.file, Line: int(at.line), Col: int(at.col)}
}

// openf reports something a person has to look at, about a record.
func (s *store) openf(r record, hint, format string, args ...any) {
	s.found.Openf(s.pos(r.at), r.item(), hint, "%s: %s", r.name(), survey.Say(format, args...))
}

// notef reports something worth knowing about a record.
func (s *store) notef(r record, format string, args ...any) {
	s.found.Notef(s.pos(r.at), r.item(), "%s: %s", r.name(), survey.Say(format, args...))
}

// item is the global id of a record that has one: 22 characters, first attribute.
func (r record) item() string {
	if g := r.arg(0); g.kind == text && len(g.word) == 22 {
		return g.word
	}
	return ""
}
