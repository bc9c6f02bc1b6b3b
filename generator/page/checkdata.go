package page

import (
	"html/template"
	"strings"

	"lapwork/generator/pack"
)

// checkData are the attributes by which a script knows a check: what it is recorded under, the first digits of its seals,
// what has to be recorded, and the range and instruments of a reading.
func checkData(c *pack.Check) (template.HTMLAttr, error) {
	w, err := wants(*c)
	if err != nil {
		return "", err
	}
	var tools []string
	for _, t := range c.Tools {
		tools = append(tools, t.ID+"="+t.Due)
	}
	var b strings.Builder
	for _, a := range [...]struct{ name, value string }{{"check", c.Key}, {"seal", firstDigits(c.Seal)}, {"also", c.Also}, {"rec", w.Words()},
		{"unit", c.Unit}, {"tools", strings.Join(tools, " ")}, {"low", c.Low}, {"high", c.High}} {
		if a.value != "" {
			b.WriteString(" data-" + a.name + `="` + template.HTMLEscapeString(a.value) + `"`)
		}
	}
	return template.HTMLAttr(b.String()), nil
}

// cells are texts in the cells of a table's row, one after another.
func cells(texts ...string) template.HTML {
	var b strings.Builder
	for _, text := range texts {
		b.WriteString("<td>" + template.HTMLEscapeString(text) + "</td>")
	}
	return template.HTML(b.String())
}

// joined is a list in one line.
func joined(list []string) string { return strings.Join(list, ", ") }

// shorts are cautions by their short names, in one line.
func shorts(list []pack.Caution) string {
	names := make([]string, len(list))
	for i, c := range list {
		names[i] = c.Short
	}
	return joined(names)
}
