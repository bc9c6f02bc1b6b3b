package library

import (
	"regexp"
	"strings"
	"unicode"

	"lapwork/generator/diag"
)

// auditAcceptance reports acceptance values that are a figure without a unit: nobody can measure "5 or less".
func auditAcceptance(s *Statement, found *diag.List) {
	for _, c := range s.Checks {
		if figure := unitless(c.Accept); figure != "" {
			found.Faultf(c.Pos, "write its unit, or what is counted: 5 mm, 4 of 4 corners", "the acceptance value %s of %s has no unit", figure, c.QA)
		}
	}
}

var figureWords = regexp.MustCompile(`\{=[^}]*\}|[^\s,;()]+|[,;()]`)

// unitless gives the first figure of a text that no unit or counted thing follows; empty when there is none. A figure
// may be followed by further ones that share its unit: 25 to 50 Pa, −0/+20.
func unitless(text string) string {
	tokens := figureWords.FindAllString(text, -1)
	for i, t := range tokens {
		if !isFigure(t) {
			continue
		}
		j := i + 1
		for j < len(tokens) && (isFigure(tokens[j]) || joins(tokens[j])) {
			j++
		}
		if j == len(tokens) || strings.ContainsAny(tokens[j], ",;()") || bounds(tokens[j]) {
			if !signed(t) { // a tolerance has the unit of the value before it
				return t
			}
		}
	}
	return ""
}

// isFigure is a number, a computed one included; QA-18, B2 and 5mm are none.
func isFigure(t string) bool {
	if strings.HasPrefix(t, "{=") {
		return true
	}
	t = strings.TrimRight(strings.TrimLeft(t, "±−+-≤≥<>~="), ".")
	return t != "" && strings.IndexFunc(t, func(r rune) bool { return !unicode.IsDigit(r) && !strings.ContainsRune(".,/−+-–×", r) }) < 0 &&
		strings.IndexFunc(t, unicode.IsDigit) >= 0
}

// signed is a tolerance: −0/+20, ±10.
func signed(t string) bool { return strings.ContainsAny(t[:min(3, len(t))], "±+−-") }

func joins(t string) bool { return oneOf(t, []string{"to", "of", "×", "x", "–", "-", "±", "by"}) }

// bounds begins what may follow a unit but never is one.
func bounds(t string) bool {
	return oneOf(t, []string{"or", "and", "at", "in", "on", "over", "under", "between", "past", "from", "nowhere", "everywhere"})
}
