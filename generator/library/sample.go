package library

import (
	"reflect"
	"slices"
	"strconv"

	"lapwork/generator/diag"
	"lapwork/generator/drawing"
)

// Sample is the environment of a statement's first hand-worked example, for showing it where no job uses it; without an
// example, that of a place with usual measures. Settings are those of the job, unless the example has its own.
func (l *Library) Sample(s *Statement, facts Facts) *Env {
	x := Example{Given: map[string]string{"length_m": "2.4", "height_m": "1.2", "width_m": "1.1", "depth_m": "0.2", "perimeter_m": "0.5",
		"area_m2": "6", "diameter_mm": "110", "cables_n": "3", "bays_n": "3", "studs_n": "5", "movement_mm": "8"}}
	if len(s.Examples) > 0 {
		x = s.Examples[0]
	}
	var quiet diag.List // reported once already when the library was loaded
	env, _ := l.exampleEnv(x, facts, &quiet)
	env.unsaid = l.unsaid(env, x)
	return env
}

// unsaid names the measures that an example leaves out and nothing stands in for: a figure of them would be a figure of
// nought.
func (l *Library) unsaid(env *Env, x Example) map[string]bool {
	out := map[string]bool{}
	v := reflect.ValueOf(env).Elem()
	for name, field := range fields() {
		_, given := x.Given[name]
		if f := v.Field(field); !given && f.Kind() == reflect.Float64 && f.Float() == 0 && !l.isSetting(name) {
			out[name] = true
		}
	}
	return out
}

// isSetting: a setting of nought means something.
func (l *Library) isSetting(name string) bool {
	v := l.Variables.Find(name)
	return v != nil && v.Scope == SettingScope
}

// unsaid reports whether the formula needs a measure that nobody stated.
func (f Formula) unsaid(env *Env) bool {
	return slices.ContainsFunc(f.inputs, func(in input) bool { return env.unsaid[in.name] })
}

// ForDrawing is a sample whose figures are all values as far as they have one: a drawing has no room for expressions.
func ForDrawing(env *Env) *Env {
	if len(env.unsaid) == 0 {
		return env
	}
	out := *env
	out.unsaid = map[string]bool{}
	return &out
}

// auditFigures evaluates every figure that the statement's first example, or a usual place, needs.
func (l *auditor) auditFigures(s *Statement, found *diag.List) {
	env := l.Sample(s, Facts{})
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
