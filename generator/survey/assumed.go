package survey

import (
	"slices"

	"go.yaml.in/yaml/v3"
)

// mostAssumed bounds how many lines a survey adds to a job's list of what was assumed, and how many such a list may have.
const (
	mostAssumed = 60
	mostInAJob  = 200
)

// words is a sentence in the language of the job.
func (s *Survey) words(x Said) string {
	if s.Words == nil {
		return clip(x.String(), 400)
	}
	return clip(s.Words(x), 400)
}

// usualCase is what every new job starts with, since no file says it.
var usualCase = []Said{
	Say("what the building has to reach, and that it is new: n50 %s (target, building)", "1.5"),
	Say("what is hung, and the rolls that are bought: a sheet of variable resistance, 1.5 m × 50 m (choices, stock)"),
	Say("layer, substrate and framing of each kind of surface: a timber frame, %d mm (faces)", 600),
}

// assumptions are what the survey took for true beyond the file, a line each.
func (s *Survey) assumptions() []string {
	var out []string
	for _, list := range [][]Said{s.Assumed, s.Guessed} {
		for _, x := range list {
			if text := s.words(x); !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	if n := len(out) - mostAssumed; n > 0 {
		out = append(out[:mostAssumed], s.words(Say("%d more things: they stand in the report of the survey", n)))
	}
	return out
}

// assumed adds to the job what this survey assumed and the one before did not. A line that people took out is confirmed, and
// stays out.
func (m *merging) assumed() error {
	var lines []string
	have := m.listed("assumed")
	for _, text := range m.assumptions() {
		if len(have)+len(lines) < mostInAJob && !slices.Contains(m.before.Assumed, text) && !slices.Contains(have, text) {
			lines = append(lines, "- "+quote(text))
		}
	}
	return m.extend("assumed", lines)
}

// listed are the entries of a list of texts, in whatever file of the job.
func (m *merging) listed(key string) []string {
	var out []string
	for _, f := range m.tree.files {
		if list := valueOf(f.root, key); list != nil && list.Kind == yaml.SequenceNode {
			for _, n := range list.Content {
				out = append(out, n.Value)
			}
		}
	}
	return out
}
