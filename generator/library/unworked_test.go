package library

import "testing"

// Every amount of the built-in library is worked out by hand in an example of its own detail: of each variant, each
// condition, what is offered and what only the cutting plan reads.
func TestEveryAmountIsWorkedOut(t *testing.T) {
	l := builtin(t)
	lines := 0
	for _, s := range l.Statements {
		lines += len(s.Components)
		for _, c := range l.Unworked(s) {
			t.Errorf("%s: no example works out %s (role %s, variant %q, when %q)", c.Pos, c.Component, c.Role, c.Variant, c.Condition)
		}
	}
	if lines < 250 {
		t.Errorf("only %d component lines", lines)
	}
}
