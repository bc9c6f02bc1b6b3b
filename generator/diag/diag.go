// Package diag holds positions and findings: what is wrong with the input, where, and what to change. Every reader
// collects into one List, so that one run reports everything.
package diag

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
)

// Pos is a place in an input file. Lines and byte columns count from 1; zero means unknown.
type Pos struct {
	File      string
	Line, Col int
}

// String gives file:line:col, leaving out what is unknown.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Level says what a finding does to a run.
type Level uint8

// The levels, gravest first.
const (
	Fault Level = iota // wrong data: exit 1, nothing is written
	Open               // needs a person: the pack is written, the item is marked and its hold stays locked
	Note               // worth knowing
)

// String gives the level's word.
func (l Level) String() string { return [...]string{"fault", "open", "note"}[l] }

// Finding is one thing to know about the input.
type Finding struct {
	Level Level
	Pos   Pos
	Msg   string // what is wrong
	Hint  string // what to change
	See   []Pos  // other places that took part
	Item  string // id of the room, surface, junction ... the finding belongs to; may be empty

	Pattern string // what Msg was made from, so that it can be said in another language; empty: not known
	Values  []any
}

// String gives "file:line:col: what is wrong" and, on a second line, the hint.
func (f Finding) String() string {
	var b strings.Builder
	if f.Pos != (Pos{}) {
		b.WriteString(f.Pos.String() + ": ")
	}
	if f.Level != Fault {
		b.WriteString(f.Level.String() + ": ")
	}
	b.WriteString(f.Msg)
	for _, p := range f.See {
		b.WriteString("\n\tsee: " + p.String())
	}
	if f.Hint != "" {
		b.WriteString("\n\thint: " + f.Hint)
	}
	return b.String()
}

// List collects findings. The zero value is ready to use.
type List struct{ found []Finding }

// Add appends findings.
func (l *List) Add(f ...Finding) { l.found = append(l.found, f...) }

// Faultf adds a fault at pos; hint says what to change.
func (l *List) Faultf(pos Pos, hint, format string, args ...any) {
	l.Add(Finding{Level: Fault, Pos: pos, Msg: fmt.Sprintf(format, args...), Hint: hint, Pattern: format, Values: plain(args)})
}

// Openf adds a finding that needs a person, about the item with this id.
func (l *List) Openf(pos Pos, item, hint, format string, args ...any) {
	l.Add(Finding{Level: Open, Pos: pos, Item: item, Msg: fmt.Sprintf(format, args...), Hint: hint, Pattern: format, Values: plain(args)})
}

// Notef adds a note about the item with this id.
func (l *List) Notef(pos Pos, item, format string, args ...any) {
	l.Add(Finding{Level: Note, Pos: pos, Item: item, Msg: fmt.Sprintf(format, args...), Pattern: format, Values: plain(args)})
}

// plain gives the values of a finding with each error as its text, so that findings compare by what they say.
func plain(args []any) []any {
	out := slices.Clone(args)
	for i, v := range out {
		if err, ok := v.(error); ok {
			out[i] = err.Error()
		}
	}
	return out
}

// Sorted gives the findings in file order, faults first at one place, without repeats.
func (l *List) Sorted() []Finding {
	out := slices.Clone(l.found)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		return cmp.Or(cmp.Compare(a.Pos.File, b.Pos.File), cmp.Compare(a.Pos.Line, b.Pos.Line),
			cmp.Compare(a.Pos.Col, b.Pos.Col), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Msg, b.Msg)) < 0
	})
	return slices.CompactFunc(out, func(a, b Finding) bool {
		return a.Level == b.Level && a.Pos == b.Pos && a.Msg == b.Msg && a.Item == b.Item
	})
}

// Count gives how many findings of a level there are.
func (l *List) Count(level Level) int {
	n := 0
	for _, f := range l.Sorted() {
		if f.Level == level {
			n++
		}
	}
	return n
}

// ErrFaults is wrapped by Err: the input has faults.
var ErrFaults = errors.New("the input has faults")

// Err is nil unless there is a fault; its text is every fault in file order.
func (l *List) Err() error {
	var texts []string
	for _, f := range l.Sorted() {
		if f.Level == Fault {
			texts = append(texts, f.String())
		}
	}
	if len(texts) == 0 {
		return nil
	}
	return fmt.Errorf("%w:\n%s", ErrFaults, strings.Join(texts, "\n"))
}
