package page

import "lapwork/generator/pack"

// alike are checks that follow one another and differ in what is good and where, and in nothing else: what they share is
// said once above them.
type alike struct {
	Shared *pack.Check // title, method, who, when and what a failure asks for
	Checks []*pack.Check
}

// together joins checks that are alike, in their order. Those of different rooms or storeys stay apart, since a page may
// show only some of these.
func together(checks []pack.Check) []alike {
	var groups []alike
	for i := range checks {
		c := &checks[i]
		if n := len(groups); n > 0 && joins(groups[n-1].Shared, c) {
			groups[n-1].Checks = append(groups[n-1].Checks, c)
			continue
		}
		groups = append(groups, alike{c, []*pack.Check{c}})
	}
	return groups
}

func joins(a, b *pack.Check) bool {
	return a.QA == b.QA && a.Title == b.Title && a.Method == b.Method && a.Who == b.Who && a.When == b.When && a.OnFail == b.OnFail &&
		a.Hold == "" && b.Hold == "" && beginning(a.Key) == beginning(b.Key)
}

// First is the key that stands for where the group belongs.
func (g alike) First() string { return g.Shared.Key }

// during leaves out when a check is made where the heading above it says so.
func during(heading string, checks []pack.Check) []pack.Check {
	out := make([]pack.Check, len(checks))
	for i, c := range checks {
		if c.When == heading {
			c.When = ""
		}
		out[i] = c
	}
	return out
}
