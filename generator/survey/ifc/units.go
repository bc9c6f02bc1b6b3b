package ifc

import (
	"math"
	"strings"
)

// units are the factors from the file's units to metres, square and cubic metres and radians.
type units struct {
	length, area, volume, angle float64
	words                       string // for the report
	noArea                      bool   // no area unit assigned
}

// prefixes of SI units (ISO 80000-1).
var prefixes = map[string]float64{
	"": 1, "EXA": 1e18, "PETA": 1e15, "TERA": 1e12, "GIGA": 1e9, "MEGA": 1e6, "KILO": 1e3, "HECTO": 100, "DECA": 10,
	"DECI": 0.1, "CENTI": 0.01, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9, "PICO": 1e-12, "FEMTO": 1e-15, "ATTO": 1e-18,
}

// readUnits reads the unit assignment of the project: IfcProject, ninth attribute. Only what stands there counts; other
// units in the file serve derived ones.
func (s *store) readUnits() units {
	u := units{length: 1, angle: 1}
	var named = map[string]string{}
	var project record
	s.all(func(r record) { project = r }, "IFCPROJECT")
	assignment, ok := s.get(project.arg(8))
	if !ok {
		s.all(func(r record) { assignment, ok = r, true }, "IFCUNITASSIGNMENT")
		if !ok {
			s.found.Openf(s.pos(project.at), "", "compare a length with the drawings", "the project assigns no units; lengths were read as metres")
		}
	}
	for _, v := range assignment.arg(0).items {
		r, ok := s.get(v)
		if !ok {
			s.openf(assignment, "check the units of the file", "the unit #%d is not in the file", v.id)
			continue
		}
		kind, f, word, ok := s.unit(r, 0)
		if !ok {
			continue
		}
		named[kind] = word
		switch kind {
		case "LENGTHUNIT":
			u.length = f
		case "AREAUNIT":
			u.area = f
		case "VOLUMEUNIT":
			u.volume = f
		case "PLANEANGLEUNIT":
			u.angle = f
		}
	}
	if named["LENGTHUNIT"] == "" {
		named["LENGTHUNIT"] = "metre, none assigned"
	}
	u.words = "lengths " + named["LENGTHUNIT"]
	u.noArea = u.area == 0
	if u.area == 0 {
		u.area, named["AREAUNIT"] = u.length*u.length, "length unit squared, none assigned"
	}
	if u.volume == 0 {
		u.volume, named["VOLUMEUNIT"] = u.length*u.length*u.length, "length unit cubed, none assigned"
	}
	u.words += ", areas " + named["AREAUNIT"] + ", volumes " + named["VOLUMEUNIT"]
	return u
}

// unit gives what a unit measures, its factor to SI and its name.
func (s *store) unit(r record, depth int) (kind string, factor float64, word string, ok bool) {
	kind = r.arg(1).word
	switch r.kind {
	case "IFCSIUNIT":
		p, known := prefixes[r.arg(2).word]
		word = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(r.arg(2).word+" "+r.arg(3).word), "_", " "))
		switch {
		case !known:
			s.openf(r, "check the units of the file", "the prefix %q is not known; the unit was left out", r.arg(2).word)
			return kind, 0, "", false
		case strings.HasPrefix(r.arg(3).word, "SQUARE_"): // the prefix belongs to the length (ISO 10303-41, from memory)
			p *= p
		case strings.HasPrefix(r.arg(3).word, "CUBIC_"):
			p = p * p * p
		}
		return kind, p, word, true
	case "IFCCONVERSIONBASEDUNIT", "IFCCONVERSIONBASEDUNITWITHOFFSET":
		measure, ok := s.get(r.arg(3))
		base, ok2 := s.get(measure.arg(1))
		if !ok || !ok2 || depth > 8 {
			s.openf(r, "check the units of the file", "the unit has no conversion factor and was left out")
			return kind, 0, "", false
		}
		_, f, _, ok := s.unit(base, depth+1)
		n := measure.arg(0).plain().num
		if !ok || n <= 0 || math.IsInf(n, 0) {
			s.openf(r, "check the units of the file", "the conversion factor of the unit cannot be used")
			return kind, 0, "", false
		}
		return kind, f * n, strings.ToLower(r.arg(2).word), true
	}
	return kind, 0, "", false // derived and monetary units serve nothing here
}
