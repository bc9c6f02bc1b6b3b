package library

import (
	"strings"
	"unicode/utf8"

	"lapwork/generator/diag"
)

// Figured is text with computed figures in it: "turn {=turn_mm} mm down".
type Figured struct{ Parts []FigurePart }

// FigurePart is a piece of plain text or one figure.
type FigurePart struct {
	Text   string
	Figure *Formula // nil: plain text
}

// Expand gives the text with every figure replaced by what format makes of its value. At a sample a figure that has none,
// or needs a measure that nobody stated, is its expression in its own words.
func (f Figured) Expand(env *Env, format func(float64) string) (string, error) {
	var b strings.Builder
	for _, p := range f.Parts {
		if p.Figure == nil {
			b.WriteString(p.Text)
			continue
		}
		x, err := p.Figure.Amount(env)
		switch {
		case env.unsaid != nil && (err != nil || p.Figure.unsaid(env)):
			b.WriteString(p.Figure.Source)
		case err != nil:
			return "", err
		default:
			b.WriteString(format(x))
		}
	}
	return b.String(), nil
}

// Words gives the text with every figure in the words of its expression.
func (f Figured) Words() string {
	var b strings.Builder
	for _, p := range f.Parts {
		b.WriteString(p.Text)
		if p.Figure != nil {
			b.WriteString(p.Figure.Source)
		}
	}
	return b.String()
}

// Figures parses text that may hold {=expr} figures against the library's names, for texts that are kept as plain
// strings: labels and dimensions of section drawings, acceptance values. They were compiled once at load, so a finding
// here means the text does not come from this library. A text is compiled once: many places ask for the same.
func (l *Library) Figures(text string, found *diag.List) Figured {
	if known, ok := l.figures.Load(text); ok {
		return known.(Figured)
	}
	var own diag.List
	out := compiler{l.flagIndex(), &own}.figured(text, diag.Pos{})
	if len(own.Sorted()) == 0 {
		l.figures.Store(text, out)
	}
	found.Add(own.Sorted()...)
	return out
}

// figured compiles the figures of a text that stands at a place.
func (c compiler) figured(text string, at diag.Pos) Figured {
	var out Figured
	for rest, offset := text, 0; rest != ""; {
		before, after, ok := strings.Cut(rest, "{=")
		if before != "" {
			out.Parts = append(out.Parts, FigurePart{Text: before})
		}
		if !ok {
			break
		}
		offset += utf8.RuneCountInString(before) + 2
		source, tail, closed := strings.Cut(after, "}")
		where := within(at, text, offset)
		if !closed {
			c.found.Faultf(where, "close it: {=lap_mm}", "a computed figure is not closed by }")
			break
		}
		if f, ok := c.formula(strings.TrimSpace(source), where); ok {
			out.Parts = append(out.Parts, FigurePart{Figure: &f})
		}
		offset += utf8.RuneCountInString(source) + 1
		rest = tail
	}
	return out
}

// Figure gives the compiled figure of the text whose source is expression, as the Markdown renderer names it; nil when
// the text shows no such figure.
func (f Figured) Figure(expression string) *Formula {
	for _, p := range f.Parts {
		if p.Figure != nil && p.Figure.Source == strings.TrimSpace(expression) {
			return p.Figure
		}
	}
	return nil
}
