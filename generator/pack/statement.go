package pack

import (
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/record"
)

// linesOfCheck is how many lines a check's statement has at most.
const linesOfCheck = 6

// Statement is what a person reads and signs for a check, line by line in the order shown. Only what has words is a
// line. The page shows each line in an element of its own, and the tablet computes the seal again from those elements.
func (c Check) Statement() []record.Line {
	return c.appendStatement(make([]record.Line, 0, linesOfCheck))
}

func (c *Check) appendStatement(lines []record.Line) []record.Line {
	for _, l := range [linesOfCheck]record.Line{
		{Key: c.Key + "#title", Text: c.Title},
		{Key: c.Key + "#hold", Text: c.Hold},
		{Key: c.Key + "#accept", Text: c.Accept, Unit: c.Unit},
		{Key: c.Key + "#method", Text: c.Method},
		{Key: c.Key + "#who", Text: c.Who},
		{Key: c.Key + "#places", Text: strings.Join(c.Places, ", ")},
	} {
		if l.Text = lang.Plain(l.Text); record.Folded(l.Text) != "" {
			lines = append(lines, l)
		}
	}
	return lines
}

// Statement is what a sign-off page puts before a person: the statements of its checks and signatures in the order shown.
func (s SignOff) Statement() []record.Line {
	n := 0
	for _, g := range s.Groups {
		n += len(g.Checks) + len(g.Signs)
	}
	lines := make([]record.Line, 0, n*linesOfCheck)
	for _, g := range s.Groups {
		for _, c := range g.Checks {
			lines = c.appendStatement(lines)
		}
		for _, c := range g.Signs {
			lines = c.appendStatement(lines)
		}
	}
	return lines
}
