package library

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"lapwork/generator/diag"
)

// Change is one difference between two versions of a statement. Old or New is empty where only the other has it.
type Change struct {
	Key string `json:"key"` // the key of the front matter, or step 3
	Old string `json:"old,omitempty"`
	New string `json:"new,omitempty"`
}

// Parse reads one statement file on its own, against the site questions of this library. It is nil after a fault that
// leaves nothing to read.
func (l *Library) Parse(text, file string, found *diag.List) *Statement {
	return parseStatement(text, file, compiler{l.flagIndex(), found})
}

// Find gives the text of a statement's file in a layer, and the name findings call it by.
func (l Layer) Find(id StatementID) (text, file string, ok bool) {
	data, err := readBounded(l.FS, "library/"+string(id)+".md", maxFile)
	return string(data), l.path("library/" + string(id) + ".md"), err == nil
}

// Differences lists what differs between two versions of a statement, in the order of the front matter, then the steps.
// Order counts in lists whose order is worked in; words are compared as they stand.
func Differences(a, b *Statement) []Change {
	var d differ
	d.one("id", string(a.ID), string(b.ID))
	d.one("title", a.Title, b.Title)
	d.one("revision", itoa(a.Revision), itoa(b.Revision))
	d.one("group", a.Group, b.Group)
	d.one("applies.when", a.When.Source, b.When.Source)
	d.one("applies.priority", itoa(a.Priority), itoa(b.Priority))
	d.one("applies.note", a.AppliesTo, b.AppliesTo)
	d.one("replaces", string(a.Replaces), string(b.Replaces))
	d.one("deprecated", a.Deprecated.String(), b.Deprecated.String())
	d.list("substrates", texts(a.Substrates), texts(b.Substrates))
	d.one("seals", a.Seals, b.Seals)
	d.one("measure", a.Measure, b.Measure)
	d.one("drives", a.Driver.Source, b.Driver.Source)
	d.one("activity", a.Activity, b.Activity)
	d.one("labour", a.Labour.String(), b.Labour.String())
	d.one("conditions", a.Condition, b.Condition)
	d.list("components", texts(a.Components), texts(b.Components))
	d.list("variants", texts(a.Variants), texts(b.Variants))
	d.one("turn", a.Turn.String(), b.Turn.String())
	d.list("prepare", a.Prepare, b.Prepare)
	d.list("checks", texts(a.Checks), texts(b.Checks))
	d.one("tolerance", a.Tolerance, b.Tolerance)
	d.list("faults", texts(a.Faults), texts(b.Faults))
	d.list("cautions", a.Cautions, b.Cautions)
	d.list("after", a.After, b.After)
	d.list("before", a.Before, b.Before)
	d.list("rules", a.Rules, b.Rules)
	d.list("examples", texts(a.Examples), texts(b.Examples))
	d.one("section", drawn(a), drawn(b))
	d.one("unresolved", a.Unresolved, b.Unresolved)
	d.one("source", a.Source.Status.String()+", "+a.Source.Text, b.Source.Status.String()+", "+b.Source.Text)
	for i := range max(len(a.Steps), len(b.Steps)) {
		d.one("step "+itoa(i+1), stepText(a, i), stepText(b, i))
	}
	return d.changes
}

type differ struct{ changes []Change }

func (d *differ) one(key, a, b string) {
	if a != b {
		d.changes = append(d.changes, Change{key, a, b})
	}
}

// list reports entries that only one side has; entries in another order are a change of the whole list.
func (d *differ) list(key string, a, b []string) {
	n := len(d.changes)
	for _, x := range a {
		if !slices.Contains(b, x) {
			d.one(key, x, "")
		}
	}
	for _, x := range b {
		if !slices.Contains(a, x) {
			d.one(key, "", x)
		}
	}
	if len(d.changes) == n && !slices.Equal(a, b) {
		d.one(key, "order: "+strings.Join(a, "; "), "order: "+strings.Join(b, "; "))
	}
}

func texts[T any](list []T) []string {
	out := make([]string, 0, len(list))
	for _, x := range list {
		out = append(out, fmt.Sprint(x))
	}
	return out
}

func stepText(s *Statement, i int) string {
	if i < len(s.Steps) {
		return s.Steps[i].Text
	}
	return ""
}

// drawn writes a section so that two of them can be compared: every part in order.
func drawn(s *Statement) string {
	if s.Section == nil {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %d × %d", s.Section.Title, s.Section.Width, s.Section.Height)
	for _, f := range s.Section.Frames {
		fmt.Fprintf(&b, "; %s", f.Caption)
		for _, p := range f.Parts {
			fmt.Fprintf(&b, " [%s %s %s %s %d %v]", p.Kind, p.Material, p.Name, p.Text, p.Step, p.Path)
		}
	}
	return b.String()
}

// String gives the deprecation in words; nothing for none.
func (d *Deprecation) String() string {
	if d == nil {
		return ""
	}
	return "since " + d.Since + ", use " + string(d.Use)
}

// String gives the minutes in words.
func (l Labour) String() string {
	return fmt.Sprintf("%g / %g / %g %s (%s)", l.Low, l.Likely, l.High, l.Per, l.Source.Status)
}

// String gives the line in words: what, how much and when.
func (c ComponentLine) String() string {
	out := fmt.Sprintf("%s, %s: %s %s", c.Component, c.Role, c.Amount.Source, c.Unit)
	if c.Variant != "" {
		out += ", variant " + c.Variant
	}
	if c.When != nil {
		out += ", when " + c.When.Source
	}
	if c.On != "" {
		out += ", on " + c.On
	}
	if c.Condition != "" {
		out += " (" + c.Condition + ")"
	}
	return out
}

// String gives the variant in words.
func (v Variant) String() string {
	out := v.ID + ": " + v.Title
	if v.When != nil {
		out += ", when " + v.When.Source
	}
	if len(v.Steps) > 0 {
		out += fmt.Sprintf(", steps %d", v.Steps)
	}
	if v.Turn != nil {
		out += ", turn " + v.Turn.String()
	}
	if v.Labour != nil {
		out += ", labour " + v.Labour.String()
	}
	for _, more := range []string{v.Activity, v.Unresolved, v.Reason} {
		if more != "" {
			out += ", " + more
		}
	}
	return out
}

// String gives the turn in words.
func (t TurnRule) String() string {
	sheet := fmt.Sprintf("%d mm", t.Turn)
	if t.Turn == TurnBySetting {
		sheet = "setting"
	}
	return fmt.Sprintf("sheet %s, fold %t, ceiling down %t", sheet, t.Fold, t.CeilingDown)
}

// String gives the check in words.
func (c Check) String() string {
	if c.Variant != "" {
		return c.QA + " in variant " + c.Variant + ": " + c.Accept
	}
	return c.QA + ": " + c.Accept
}

// String gives sign and repair.
func (f Fault) String() string { return f.Sign + ": " + f.Repair }

// String gives what is given and what is expected, in the order of names.
func (x Example) String() string {
	var given, expect []string
	for _, name := range slices.Sorted(maps.Keys(x.Given)) {
		given = append(given, name+" "+x.Given[name])
	}
	for _, id := range slices.Sorted(maps.Keys(x.Expect)) {
		expect = append(expect, fmt.Sprintf("%s %g", id, x.Expect[id]))
	}
	return x.Note + ". " + strings.Join(given, ", ") + " → " + strings.Join(expect, ", ")
}
