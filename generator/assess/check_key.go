package assess

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/library"
)

// checkKey names a check. Nothing that may change on the way through a job stands in it: where a place joins or leaves, the
// check keeps its name and its words change.
func checkKey(scope, qa, object string) string { return scope + "/" + qa + "/" + object }

// again names a check that a storey, zone or job has in a second activity: to stand twice it needs two names.
func again(before []Check, key string, a *library.Activity) string {
	if slices.ContainsFunc(before, func(c Check) bool { return c.Key == key }) {
		return key + "." + a.ID
	}
	return key
}

// usualVariant is the variant that a statement has without being asked for.
const usualVariant = "default"

// objectOf names the line of a check of a statement: the statement, with the variant that alone has this check.
func objectOf(s *library.Statement, c library.Check) string {
	if c.Variant == "" || c.Variant == usualVariant {
		return string(s.ID)
	}
	return string(s.ID) + "." + c.Variant
}

// group is the places of a room that one line of the check plan is for.
type group struct {
	object  string
	accepts []accepted
	within  *library.Range // nil: that of the plan
}

// rangeOf is what a number recorded for the group may be.
func (g group) rangeOf(qa *library.QACheck) library.Range {
	if g.within != nil {
		return *g.within
	}
	return qa.Range
}

// accepted is an acceptance with the places that it is for.
type accepted struct {
	text   string
	places []string
}

// places are all of a group, in the order of the room.
func (g group) places() []string {
	var out []string
	for _, a := range g.accepts {
		for _, p := range a.places {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// accept says the group's acceptance: where places differ in it, each with its places before it.
func (g group) accept() string {
	if len(g.accepts) == 1 {
		return g.accepts[0].text
	}
	var out []string
	for _, a := range g.accepts {
		out = append(out, strings.Join(a.places, ", ")+": "+a.text)
	}
	return strings.Join(out, "; ")
}

func (g *group) add(place, accept string) {
	i := slices.IndexFunc(g.accepts, func(a accepted) bool { return a.text == accept })
	if i < 0 {
		i = len(g.accepts)
		g.accepts = append(g.accepts, accepted{text: accept})
	}
	if !slices.Contains(g.accepts[i].places, place) {
		g.accepts[i].places = append(g.accepts[i].places, place)
	}
}

// groups collects the places of a room whose statement names a check, by statement and the variant the check belongs to.
func (r *Results) groups(room *job.Room, qa string) []group {
	var out []group
	for _, p := range r.byRoom[room.ID] {
		if !p.Answered() {
			continue
		}
		for _, c := range p.Chosen.Statement.Checks {
			if c.QA != qa || c.Variant != "" && c.Variant != p.Chosen.Variant.ID {
				continue
			}
			object := objectOf(p.Chosen.Statement, c)
			i := slices.IndexFunc(out, func(g group) bool { return g.object == object })
			if i < 0 {
				i = len(out)
				out = append(out, group{object: object, within: c.Range})
			}
			out[i].add(p.Record.ID, r.AcceptText(c, p))
		}
	}
	return out
}

// CheckNow gives the name under which a check stands now. Earlier packs named the check of a single place after the place, and
// one of a second acceptance after the statement and a number; and a room's own check gives way to those of its places where
// there are some. A name that no check of the job answers to comes back as it is.
func (r *Results) CheckNow(key string) string {
	parts := strings.SplitN(key, "/", 3)
	if len(parts) < 3 {
		return key
	}
	scope, qa, object := parts[0], parts[1], parts[2]
	var likely string
	for _, c := range r.ChecksIn(scope) {
		now, same := strings.CutPrefix(c.Key, checkKey(scope, qa, ""))
		switch {
		case !same:
		case now == object:
			return key
		case slices.Contains(c.Places, object):
			return c.Key
		case likely == "" && (object == scope || statementIn(now) == statementIn(object) && !namesVariant(object)):
			likely = c.Key
		}
	}
	return cmp.Or(likely, key)
}

// statementIn is the statement in the object of a check's name.
func statementIn(object string) string {
	id, _, _ := strings.Cut(object, ".")
	return id
}

// namesVariant tells the names of today, with a variant, from those with a number.
func namesVariant(object string) bool {
	_, variant, ok := strings.Cut(object, ".")
	return ok && strings.Trim(variant, "0123456789") != ""
}

// PlacesOf gives the places that a check speaks of, by the name it has or had.
func (r *Results) PlacesOf(key string) []string {
	now := r.CheckNow(key)
	scope, _, _ := strings.Cut(now, "/")
	for _, c := range r.ChecksIn(scope) {
		if c.Key == now {
			return c.Places
		}
	}
	return nil
}
