package library

import (
	"strconv"

	"lapwork/generator/diag"
	"lapwork/generator/drawing"
)

// Sample is the environment of a statement's first hand-worked example, for showing it where no job uses it; without an
// example, that of a place with usual measures.
func (l *Library) Sample(s *Statement) *Env {
	x := Example{Given: map[string]string{"length_m": "2.4", "height_m": "1.2", "width_m": "1.1", "depth_m": "0.2", "perimeter_m": "0.5",
		"area_m2": "6", "diameter_mm": "110", "cables_n": "3", "bays_n": "3", "studs_n": "5", "movement_mm": "8"}}
	if len(s.Examples) > 0 {
		x = s.Examples[0]
	}
	var quiet diag.List // reported once already when the library was loaded
	env, _ := l.exampleEnv(x, &quiet)
	return env
}

// auditFigures evaluates every figure that the statement's first example, or a usual place, needs.
func (l *auditor) auditFigures(s *Statement, found *diag.List) {
	env := l.Sample(s)
	need := func(f Formula) {
		if f.program == nil {
			return // reported when it was compiled
		}
		if _, err := f.amount(env); err != nil {
			found.Faultf(f.Pos, "guard it with max, or narrow when", "%s: %v", s.ID, err)
		}
	}
	if s.Driver.Source != "" {
		need(s.Driver)
	}
	for _, line := range l.choose(s, env).Lines {
		need(line.Amount)
	}
	for _, step := range s.Steps {
		for _, p := range step.Body.Parts {
			if p.Figure != nil {
				need(*p.Figure)
			}
		}
	}
}

// SectionOf gives a statement's section drawing with its computed figures filled in. The statement must have one.
func (l *Library) SectionOf(s *Statement, env *Env, number func(float64) string) (drawing.Section, error) {
	filled := *s.Section
	filled.Frames = nil
	for _, f := range s.Section.Frames {
		parts := append([]drawing.Part(nil), f.Parts...)
		for i := range parts {
			var quiet diag.List // compiled once already when the library was loaded
			text, err := l.Figures(parts[i].Text, &quiet).Expand(env, number)
			if err != nil {
				return filled, err
			}
			parts[i].Text = text
		}
		f.Parts = parts
		filled.Frames = append(filled.Frames, f)
	}
	return filled, nil
}

func format(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

func itoa(n int) string { return strconv.Itoa(n) }
