package library

import (
	"strings"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/calc/leakage"
	"lapwork/generator/calc/material"
)

// copied is a table whose rows are copies that change has been at.
func copied[T any](t Table[*T], change func(*T)) Table[*T] {
	out := Table[*T]{at: t.at}
	for _, row := range t.rows {
		c := *row
		change(&c)
		out.rows = append(out.rows, &c)
	}
	return out
}

// rows is a list of rows, copied and changed.
func rows[T any](list []T, change func(*T)) []T {
	out := make([]T, len(list))
	for i, row := range list {
		change(&row)
		out[i] = row
	}
	return out
}

// A tableTexts names the texts of one table that pages show.
type tableTexts struct {
	name      string
	translate func(l *Library, say func(string) string)
}

// textTables lists the tables that have texts, by their file.
func textTables() []tableTexts {
	return []tableTexts{
		{"activities", func(l *Library, say func(string) string) {
			l.Activities = copied(l.Activities, func(a *Activity) { all(say, &a.Title, &a.Note) })
		}},
		{"air-limits", func(l *Library, say func(string) string) {
			l.Air.Limits = rows(l.Air.Limits, func(x *airtight.Limit) { all(say, &x.Case, &x.Note) })
		}},
		{"cautions", func(l *Library, say func(string) string) {
			l.Cautions = copied(l.Cautions, func(c *Caution) { all(say, &c.Short, &c.Trigger, &c.Text, &c.Defers) })
		}},
		{"checks", func(l *Library, say func(string) string) {
			l.Checks = copied(l.Checks, func(c *QACheck) { all(say, &c.Title, &c.Method, &c.Accept, &c.Failure) })
		}},
		{"closings", func(l *Library, say func(string) string) {
			l.Closings = copied(l.Closings, func(c *Closing) { all(say, &c.Event) })
		}},
		{"components", func(l *Library, say func(string) string) { l.Components = copied(l.Components, componentTexts(say)) }},
		{"conditions", func(l *Library, say func(string) string) {
			l.Conditions = copied(l.Conditions, func(c *ConditionSet) { all(say, &c.Title, &c.Text) })
		}},
		{"documents", func(l *Library, say func(string) string) {
			l.Documents = copied(l.Documents, func(d *Document) { all(say, &d.Title) })
		}},
		{"flags", func(l *Library, say func(string) string) {
			l.Flags = copied(l.Flags, func(f *Flag) { all(say, &f.Question) })
		}},
		{"holds", func(l *Library, say func(string) string) {
			l.Holds = copied(l.Holds, func(h *Hold) { all(say, &h.Release) })
		}},
		{"leakage-elements", func(l *Library, say func(string) string) {
			l.Air.Elements = rows(l.Air.Elements, func(e *leakage.Element) { all(say, &e.Name, &e.Published, &e.Note) })
		}},
		{"leakage-map", func(l *Library, say func(string) string) {
			l.Air.Map = copied(l.Air.Map, func(k *LeakageKind) { all(say, &k.Note) })
		}},
		{"materials", func(l *Library, say func(string) string) {
			l.Moisture.Materials = rows(l.Moisture.Materials, func(m *material.Material) { all(say, &m.Name) })
		}},
		{"phases", func(l *Library, say func(string) string) {
			l.Phases = copied(l.Phases, func(p *Phase) { all(say, &p.Title) })
		}},
		{"rules", func(l *Library, say func(string) string) {
			l.Rules = copied(l.Rules, func(r *Rule) { all(say, &r.Title, &r.Value) })
		}},
		{"substitutes", func(l *Library, say func(string) string) {
			l.Substitutes = copied(l.Substitutes, func(x *Substitute) { all(say, &x.Changes) })
		}},
		{"substrates", func(l *Library, say func(string) string) {
			l.Substrates = copied(l.Substrates, func(s *Substrate) { all(say, &s.Name, &s.Prepare) })
		}},
		{"test-openings", func(l *Library, say func(string) string) {
			l.Air.Openings = copied(l.Air.Openings, func(o *TestOpening) { all(say, &o.Title, &o.Note) })
		}},
		{"trades", func(l *Library, say func(string) string) {
			l.Trades = copied(l.Trades, func(t *Trade) {
				all(say, &t.Title, &t.Decides)
				t.Does, t.Never = everyOf(say, t.Does), everyOf(say, t.Never)
			})
		}},
	}
}

// componentTexts leaves a low hazard as it is: no page shows it.
func componentTexts(say func(string) string) func(*Component) {
	return func(c *Component) {
		all(say, &c.UseOn, &c.Note, &c.Storage)
		if !c.OwnName {
			all(say, &c.Name)
		}
		if !c.LowHazard() {
			all(say, &c.Hazard)
		}
	}
}

// LowHazard reports whether nothing need be said about the component's hazard.
func (c *Component) LowHazard() bool {
	return c.Hazard == "" || c.Hazard == "none" || strings.HasPrefix(c.Hazard, "low")
}
