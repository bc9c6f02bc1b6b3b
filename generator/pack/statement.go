package pack

import (
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/record"
)

// Statement is what a person reads and signs for a check, line by line in the order shown. Only what has words is a
// line. The page shows each line in an element of its own, and the tablet computes the seal again from those elements.
func (c Check) Statement() []record.Line {
	all := []record.Line{
		{Key: c.Key + "#title", Text: c.Title},
		{Key: c.Key + "#hold", Text: c.Hold},
		{Key: c.Key + "#accept", Text: c.Accept, Unit: c.Unit},
		{Key: c.Key + "#method", Text: c.Method},
		{Key: c.Key + "#who", Text: c.Who},
		{Key: c.Key + "#places", Text: strings.Join(c.Places, ", ")},
	}
	lines := all[:0]
	for _, l := range all {
		if l.Text = lang.Plain(l.Text); record.Folded(l.Text) != "" {
			lines = append(lines, l)
		}
	}
	return lines
}

// Statement is what a sign-off page puts before a person: the statements of its checks and signatures in the order shown.
func (s SignOff) Statement() []record.Line {
	var lines []record.Line
	for _, g := range s.Groups {
		for _, c := range g.Checks {
			lines = append(lines, c.Statement()...)
		}
		for _, c := range g.Signs {
			lines = append(lines, c.Statement()...)
		}
	}
	return lines
}
