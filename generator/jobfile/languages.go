package jobfile

import "slices"

// languages reads the further languages of a pack, and how it writes measures.
func (s *resolver) languages() {
	j := s.job
	for _, t := range s.raw.alsoIn.v {
		if t.v == j.Language || slices.Contains(j.AlsoIn, t.v) {
			s.fault(t.pos, "leave it out", "the pack is in %q already", t.v)
			continue
		}
		j.AlsoIn = append(j.AlsoIn, t.v)
	}
	j.Imperial = s.raw.imperial.v
	if s.raw.beneath.set() {
		if j.Beneath = s.raw.beneath.v; j.Beneath == j.Language {
			s.fault(s.raw.beneath.pos, "name another language, or leave it out", "the steps are in %q already", j.Beneath)
		}
	}
}
