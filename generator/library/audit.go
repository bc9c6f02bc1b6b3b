package library

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/junction"
)

// Audit looks closer at the statements of some layers than loading does: words and records that never occur, statements
// that never answer or answer together, acceptance values without a unit, amounts that no example works out, drawings
// that do not fit their steps. A nil list audits every layer. Statements of other layers are compared with, not reported.
func (l *Library) Audit(origins []string, found *diag.List) {
	a := &auditor{l, copyFlags(l.Env(&junction.Record{}, Facts{})), map[*Predicate]mention{}, map[string][]string{}}
	a.audit(origins, found)
}

// auditor remembers what it has read of the predicates.
type auditor struct {
	*Library
	blank *Env // flags are set anew by every search that reads them
	said  map[*Predicate]mention
	items map[string][]string
}

func (l *auditor) mentions(p *Predicate) mention {
	m, ok := l.said[p]
	if !ok {
		m = mentionsOf(*p)
		l.said[p] = m
	}
	return m
}

func (l *auditor) audit(origins []string, found *diag.List) {
	meets := l.meetings()
	for _, s := range l.Statements {
		if origins != nil && !slices.Contains(origins, s.Origin) {
			continue
		}
		l.auditWords(s, found)
		l.auditReach(s, meets, found)
		l.auditTies(s, origins, meets, found)
		auditAcceptance(s, found)
		l.auditFigures(s, found)
		l.auditSection(s, found)
		l.auditExamples(s, found)
		if d := s.Deprecated; d != nil {
			found.Add(diag.Finding{Level: diag.Note, Pos: d.Pos, Msg: string(s.ID) + " is deprecated since " + d.Since,
				Hint: "use " + string(d.Use)})
		}
	}
}

// auditExamples says in one note which amounts no example works out.
func (l *auditor) auditExamples(s *Statement, found *diag.List) {
	left := l.Unworked(s)
	if len(left) == 0 {
		return
	}
	var names []string
	for _, c := range left {
		if name := string(c.Component); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	found.Add(diag.Finding{Level: diag.Note, Pos: left[0].Pos, Msg: fmt.Sprintf("%s: no example works out %s", s.ID, strings.Join(names, ", ")),
		Hint: "add one under examples: what is given, and what it comes to by hand"})
}

// predicates calls visit for every predicate of a statement, with those it only matters together with.
func (s *Statement) predicates(visit func(what string, p *Predicate, with ...condition)) {
	when := condition{&s.When, true}
	visit("the statement can never answer", &s.When)
	variants := map[string]*Variant{}
	for i := range s.Variants {
		v := &s.Variants[i]
		variants[v.ID] = v
		if v.When != nil {
			visit("variant "+v.ID+" can never be chosen", v.When, when)
		}
	}
	for i := range s.Components {
		c := &s.Components[i]
		if c.When == nil {
			continue
		}
		with := []condition{when}
		if v := variants[c.Variant]; v != nil && v.When != nil {
			with = append(with, condition{v.When, true})
		}
		visit(string(c.Component)+" can never be needed", c.When, with...)
	}
}

// auditWords reports words that no record has.
func (l *auditor) auditWords(s *Statement, found *diag.List) {
	s.predicates(func(_ string, p *Predicate, _ ...condition) {
		m := l.mentions(p)
		for _, name := range m.names {
			if len(m.words[name]) == 0 || strings.HasPrefix(name, "flag.") {
				continue
			}
			legal, closed := l.vocabulary(name)
			for _, w := range m.words[name] {
				switch {
				case oneOf(w.text, legal):
				case closed:
					found.Faultf(w.pos, suggest(w.text, legal), "no record has %s %q", name, w.text)
				default:
					found.Add(diag.Finding{Level: diag.Open, Pos: w.pos, Hint: suggest(w.text, legal),
						Msg: "no built-in statement knows " + name + " \"" + w.text + "\"; a job must say it in these letters"})
				}
			}
		}
	})
}

// auditReach reports predicates that no record makes true, and statements that others always take the record from.
func (l *auditor) auditReach(s *Statement, meets meetings, found *diag.List) {
	dead := false
	s.predicates(func(what string, p *Predicate, with ...condition) {
		if p.program == nil || dead && len(with) > 0 {
			return
		}
		if _, ok, decided := l.possible(append(with, condition{p, true})...); !ok && decided {
			found.Faultf(p.Pos, "no record makes this true; look for an and that should be an or", "%s: %s", s.ID, what)
			dead = dead || len(with) == 0
		}
	})
	first := meets.above(s)
	if dead || s.When.program == nil || len(first) == 0 {
		return
	}
	if !l.shadowed(s, first) {
		return
	}
	for i := len(first) - 1; i >= 0; i-- { // name only those it takes
		if rest := slices.Delete(slices.Clone(first), i, i+1); len(rest) > 0 && l.shadowed(s, rest) {
			first = rest
		}
	}
	var names []string
	for _, o := range first {
		names = append(names, string(o.ID))
	}
	found.Faultf(s.When.Pos, "raise its priority, or say replaces", "%s never answers: %s always goes first", s.ID, strings.Join(names, " or "))
}

// shadowed reports whether one of the others is true wherever the statement is.
func (l *auditor) shadowed(s *Statement, others []*Statement) bool {
	conditions := []condition{{&s.When, true}}
	for _, o := range others {
		conditions = append(conditions, condition{&o.When, false})
	}
	_, ok, decided := l.possible(conditions...)
	return !ok && decided
}

// auditTies reports the statements of equal priority that some record would make both true with none above them. A tie
// is reported once, at the later statement in the order of ids, or at the one that is audited.
func (l *auditor) auditTies(s *Statement, origins []string, meets meetings, found *diag.List) {
	for _, o := range meets.beside(s) {
		reportedThere := o.ID < s.ID && (origins == nil || slices.Contains(origins, o.Origin))
		if reportedThere {
			continue
		}
		conditions := []condition{{&s.When, true}, {&o.When, true}}
		for _, above := range meets.above(s) {
			conditions = append(conditions, condition{&above.When, false})
		}
		if example, ok, _ := l.possible(conditions...); ok {
			found.Add(faultAt(s.When.Pos, o.When.Pos, "give one of them a higher priority or a narrower when",
				string(s.ID)+" and "+string(o.ID)+" of priority "+itoa(s.Priority)+" would both answer "+example))
		}
	}
}

// meetings lists for each statement those that can be true for the same record.
type meetings map[*Statement][]*Statement

func (l *auditor) meetings() meetings {
	m := meetings{}
	for i, a := range l.Statements {
		for _, b := range l.Statements[i+1:] {
			if a.When.program == nil || b.When.program == nil {
				continue
			}
			if _, ok, decided := l.possible(condition{&a.When, true}, condition{&b.When, true}); ok || !decided {
				m[a], m[b] = append(m[a], b), append(m[b], a)
			}
		}
	}
	return m
}

func (m meetings) above(s *Statement) []*Statement {
	return slices.DeleteFunc(slices.Clone(m[s]), func(o *Statement) bool { return o.Priority <= s.Priority })
}

func (m meetings) beside(s *Statement) []*Statement {
	return slices.DeleteFunc(slices.Clone(m[s]), func(o *Statement) bool { return o.Priority != s.Priority })
}

// auditSection reports discs without a step, and what the drawing of the section finds wrong with it.
func (l *auditor) auditSection(s *Statement, found *diag.List) {
	if s.Section == nil {
		return
	}
	for i, f := range s.Section.Frames {
		for j, p := range f.Parts {
			if p.Kind == drawing.Number && p.Step > len(s.Steps) {
				found.Faultf(s.partPos(i, j), "number a step that exists", "disc %d: the last step is %d", p.Step, len(s.Steps))
			}
		}
	}
	filled, err := l.SectionOf(s, ForDrawing(l.Sample(s, Facts{})), func(x float64) string { return format(x) })
	if err != nil {
		found.Faultf(s.partPos(-1, -1), "", "%s: the drawing cannot be filled in: %v", s.ID, err)
		return
	}
	for _, p := range drawing.Check(filled) {
		found.Add(diag.Finding{Level: diag.Open, Pos: s.partPos(p.Frame, p.Part), Msg: string(s.ID) + ", drawing: " + p.Msg, Hint: p.Hint})
	}
}

// partPos is the place of a part of the section, or of its frame's first part.
func (s *Statement) partPos(frame, part int) diag.Pos {
	frame, part = max(frame, 0), max(part, 0)
	if frame < len(s.parts) && part < len(s.parts[frame]) {
		return s.parts[frame][part]
	}
	return s.at("section", "")
}
