package jobfile

import (
	"fmt"
	"io/fs"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
)

// reader reads one job; its findings go into one list.
type reader struct {
	fsys     fs.FS
	dir      string // inside fsys
	shown    string // what findings call it
	known    Known
	found    *diag.List
	src      *source // file being read
	unit     unit    // of lengths written without one; zero: none
	bare     []bare  // lengths that would need it
	bytes    int     // read so far
	reported int
}

// fault adds a finding, up to a number that nobody would read past.
func (r *reader) fault(pos diag.Pos, hint, format string, args ...any) {
	r.faultSee(pos, nil, hint, format, args...)
}

// faultSee adds a finding that another place took part in.
func (r *reader) faultSee(pos diag.Pos, see []diag.Pos, hint, format string, args ...any) {
	r.reported++
	if r.reported > maxFindings {
		return
	}
	if r.reported == maxFindings {
		see, hint, format, args = nil, "mend the ones above and run again", "too many findings; the rest is left out", nil
	}
	r.found.Add(diag.Finding{Level: diag.Fault, Pos: pos, Msg: fmt.Sprintf(format, args...), Hint: hint, See: see})
}

// seeOne points at one other place.
func seeOne(pos diag.Pos) []diag.Pos { return []diag.Pos{pos} }

// pos is a node's place in the file being read.
func (r *reader) pos(n *yaml.Node) diag.Pos { return r.src.place(n.Line, n.Column) }

// again reports something stated twice.
func (r *reader) again(pos, first diag.Pos, name string) {
	r.faultSee(pos, []diag.Pos{first}, "keep one of them", "%q is stated twice", clip(name))
}

// first enters the place of what is stated by n, also when it is wrong: what was stated wrongly is not missing too. What
// has a place already is reported; false.
func (r *reader) first(n *yaml.Node, place *diag.Pos, name string) bool {
	if place.Line > 0 {
		r.again(r.pos(n), *place, name)
		return false
	}
	*place = r.pos(n)
	return true
}

// wrongKind reports a node of another kind than expected.
func (r *reader) wrongKind(n *yaml.Node, want string) {
	got := "a single value does"
	switch n.Kind {
	case yaml.MappingNode:
		got = "\"key: value\" lines do"
	case yaml.SequenceNode:
		got = "a list does"
	}
	if n.Kind == yaml.ScalarNode && n.Value != "" {
		got = "\"" + clip(n.Value) + "\" does"
	}
	r.fault(r.pos(n), "write "+want, "%s not fit here", got)
}
