package library

import (
	"go.yaml.in/yaml/v3"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func (p parser) applies(s *Statement, m mapping) {
	if !m.present("applies") {
		return
	}
	a, ok := p.mapping(m.values["applies"], "applies", []string{"when", "priority", "note"})
	if !ok {
		return
	}
	s.AppliesTo = a.text("note")
	s.Priority = a.fromOne("priority", "write priority: 30")
	if a.need("when") != "" {
		s.When, _ = p.predicate(a.text("when"), p.exprPos(a.values["when"]))
	}
}

// deprecated reads {since, use}: the statement is kept for old jobs, and another answers instead.
func (p parser) deprecated(s *Statement, m mapping) {
	if !m.has("deprecated") {
		return
	}
	d, ok := p.mapping(m.values["deprecated"], "deprecated", []string{"since", "use"})
	if !ok {
		return
	}
	s.Deprecated = &Deprecation{Since: d.need("since"), Use: StatementID(d.need("use")), Pos: d.at("use")}
}

// work reads the labour driver and its minutes.
func (p parser) work(s *Statement, m mapping) {
	if s.Unresolved != "" && !m.has("labour") {
		return // nothing is installed, so there is nothing to time
	}
	if m.need("drives") != "" {
		s.Driver, _ = p.formula(m.text("drives"), p.exprPos(m.values["drives"]))
	}
	if !m.present("labour") {
		return
	}
	s.Labour = p.labour(m.values["labour"], s.Source)
}

func (p parser) labour(n *yaml.Node, fallback q.Source) Labour {
	l, ok := p.mapping(n, "labour", []string{"low", "likely", "high", "per", "source"})
	if !ok {
		return Labour{}
	}
	out := Labour{Low: q.Minutes(l.number("low")), Likely: q.Minutes(l.number("likely")),
		High: q.Minutes(l.number("high")), Per: l.word("per", []string{"min/m", "min/m2", "min each"}),
		Source: l.source("source", fallback)}
	if out.Low <= 0 || out.Low > out.Likely || out.Likely > out.High {
		p.faultf(l.node, "low <= likely <= high, all above 0", "the labour minutes are not in order")
	}
	return out
}

// Roles of a component line.
const (
	RoleMain   = "main"   // always, or in its variant
	RoleIf     = "if"     // when its own predicate holds
	RoleOption = "option" // offered, not ordered
	RoleInfo   = "info"   // feeds the cutting plan, never ordered
	RoleLayout = "layout" // ordered only while no strip layout is run; with one it is in there and this is info
)

func (p parser) components(s *Statement, m mapping) {
	for _, n := range m.items("components") {
		c, ok := p.mapping(n, "a component", []string{"use", "role", "variant", "when", "why", "amount", "unit", "on", "source"})
		if !ok {
			continue
		}
		line := ComponentLine{Component: job.ComponentID(c.need("use")), Role: RoleMain, Variant: c.text("variant"),
			Condition: c.text("why"), Unit: c.word("unit", []string{"m", "m2", "ml", "kg", "each"}),
			Source: c.source("source", s.Figures), Pos: p.pos(n)}
		if c.has("use") {
			line.Pos = c.at("use")
		}
		if c.has("role") {
			line.Role = c.word("role", []string{RoleMain, RoleIf, RoleOption, RoleInfo, RoleLayout})
		}
		if c.has("on") {
			line.On = c.word("on", sealsOn)
		}
		if w := c.text("when"); w != "" {
			if when, ok := p.predicate(w, p.exprPos(c.values["when"])); ok {
				line.When = &when
			}
		} else if line.Role == RoleIf {
			c.need("when")
		}
		if c.need("amount") != "" {
			line.Amount, _ = p.formula(c.text("amount"), p.exprPos(c.values["amount"]))
		}
		s.Components = append(s.Components, line)
	}
}

func (p parser) variants(s *Statement, m mapping) {
	for _, n := range m.items("variants") {
		v, ok := p.mapping(n, "a variant", []string{"id", "title", "when", "why", "steps", "turn", "activity",
			"labour", "unresolved"})
		if !ok {
			continue
		}
		variant := Variant{ID: p.id(v, "id"), Title: v.need("title"), Reason: v.text("why"),
			Activity: v.text("activity"), Unresolved: v.text("unresolved"), Pos: p.pos(n)}
		if v.has("id") {
			variant.Pos = v.at("id")
		}
		if v.has("turn") {
			t := p.turn(v.values["turn"])
			variant.Turn = &t
		}
		if v.has("labour") {
			l := p.labour(v.values["labour"], s.Source)
			variant.Labour = &l
		}
		for _, no := range v.items("steps") {
			step, _ := p.number(no, "a step number")
			variant.Steps = append(variant.Steps, int(step))
		}
		if w := v.text("when"); w != "" {
			if when, ok := p.predicate(w, p.exprPos(v.values["when"])); ok {
				variant.When = &when
			}
		} else if variant.ID != DefaultVariant {
			v.need("when")
		}
		s.Variants = append(s.Variants, variant)
	}
	if len(s.Variants) == 0 {
		s.Variants = []Variant{{ID: DefaultVariant, Title: s.Title, Pos: s.Pos}}
	}
	if m.has("turn") {
		s.Turn = p.turn(m.values["turn"])
	}
}

// DefaultVariant is the id of the first variant, which holds when no other does.
const DefaultVariant = "default"

// TurnBySetting stands for a turn of turn_mm.
const TurnBySetting q.MM = -1

// turn reads what the strips that end here must be cut for: {sheet: setting | mm, fold: yes, ceiling-down: yes}.
func (p parser) turn(n *yaml.Node) TurnRule {
	t, ok := p.mapping(n, "turn", []string{"sheet", "fold", "ceiling-down"})
	if !ok {
		return TurnRule{}
	}
	r := TurnRule{Fold: t.yes("fold"), CeilingDown: t.yes("ceiling-down")}
	switch t.text("sheet") {
	case "":
	case "setting":
		r.Turn = TurnBySetting
	default:
		r.Turn = q.MM(t.number("sheet"))
		if r.Turn < 0 || r.Turn > 500 {
			p.faultf(t.values["sheet"], "write setting, or 0 to 500", "a turn of %d mm is not possible", r.Turn)
		}
	}
	return r
}

// plan reads checks, faults and their like.
func (p parser) plan(s *Statement, m mapping) {
	for _, n := range m.items("checks") {
		c, ok := p.mapping(n, "a check", []string{"qa", "accept", "variant", "range", "source"})
		if !ok {
			continue
		}
		check := Check{QA: c.need("qa"), Accept: c.need("accept"), Variant: c.text("variant"),
			Source: c.source("source", s.Source), Pos: p.pos(n)}
		if c.has("accept") {
			p.figured(check.Accept, p.exprPos(c.values["accept"]))
		}
		if c.has("range") {
			r, ok := parseRange(c.text("range"))
			if !ok {
				p.faultf(c.values["range"], "write 5 to 30 °C, 4 mm or more, or 20 % or less", "%q is no range", c.text("range"))
			}
			check.Range = &r
		}
		s.Checks = append(s.Checks, check)
	}
	for _, n := range m.items("faults") {
		if f, ok := p.mapping(n, "a fault", []string{"sign", "repair"}); ok {
			s.Faults = append(s.Faults, Fault{f.need("sign"), f.need("repair")})
		}
	}
}

func (p parser) examples(m mapping) []Example {
	var out []Example
	for _, n := range m.items("examples") {
		e, ok := p.mapping(n, "an example", []string{"note", "given", "expect"})
		if !ok {
			continue
		}
		x := Example{Note: e.need("note"), Given: map[string]string{}, Expect: map[job.ComponentID]float64{}, Pos: p.pos(n)}
		p.pairs(e, "given", func(k, v *yaml.Node) { x.Given[k.Value] = p.scalar(v, k.Value) })
		p.pairs(e, "expect", func(k, v *yaml.Node) { x.Expect[job.ComponentID(k.Value)], _ = p.number(v, k.Value) })
		out = append(out, x)
	}
	return out
}

// pairs calls f for every pair of a mapping with free keys.
func (p parser) pairs(m mapping, key string, f func(k, v *yaml.Node)) {
	n := m.values[key]
	if n == nil {
		m.present(key)
		return
	}
	if n.Kind != yaml.MappingNode {
		p.faultf(n, "write {name: value}", "%s must be key: value pairs", key)
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		f(n.Content[i], n.Content[i+1])
	}
}
