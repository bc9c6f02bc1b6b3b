package jobfile

import "slices"

// languages reads the further languages of a pack.
func (s *resolver) languages() {
	j := s.job
	for _, t := range s.raw.alsoIn.v {
		if t.v == j.Language || slices.Contains(j.AlsoIn, t.v) {
			s.fault(t.pos, "leave it out", "the pack is in %q already", t.v)
			continue
		}
		j.AlsoIn = append(j.AlsoIn, t.v)
	}
	if s.raw.beneath.set() {
		if j.Beneath = s.raw.beneath.v; j.Beneath == j.Language {
			s.fault(s.raw.beneath.pos, "name another language, or leave it out", "the steps are in %q already", j.Beneath)
		}
	}
}
