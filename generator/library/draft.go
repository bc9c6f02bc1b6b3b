package library

import (
	"fmt"
	"regexp"
	"strings"
)

// Draft gives the file of a new statement: a skeleton with a word on each key, or a copy of another statement's file that
// replaces it. The id must be a valid one.
func Draft(id StatementID, from StatementID, text string) (string, error) {
	if !idShape.MatchString(string(id)) {
		return "", fmt.Errorf("%q is no id\n\thint: small letters and digits, parts joined by -", id)
	}
	if from == "" {
		return strings.ReplaceAll(skeleton, "ID", string(id)), nil
	}
	out := keyLine("id").ReplaceAllLiteralString(text, "id: "+string(id))
	out = keyLine("revision").ReplaceAllLiteralString(out, "revision: 1")
	out = keyLine("replaces").ReplaceAllLiteralString(out, "")
	return strings.Replace(out, "id: "+string(id)+"\n", "id: "+string(id)+"\nreplaces: "+string(from)+
		"   # it takes the place of "+string(from)+"; change what your way does otherwise\n", 1), nil
}

func keyLine(key string) *regexp.Regexp { return regexp.MustCompile(`(?m)^` + key + `:.*$`) }

const skeleton = `---
# A method statement of your own. lapwork library check says what is missing; delete these remarks as you go.
id: ID
title: Say the place and what is joined there
revision: 1                     # raise it whenever the meaning changes
group: edge                     # field, edge, structure, opening, penetration
# replaces: wall-ceiling        # only to take the place of a statement of a lower layer
applies:
  # edge, surface_a, surface_b, item, part, sub.family, sub.id, movement_mm, flag.x and the other names of the records
  when: edge == "abutment-edge" and surface_b == "partition"
  priority: 1                   # the highest true one answers; a tie is a fault. The built-in ones stand from 10 to 95
  note: say in words where it applies
substrates: [timber-planed, osb]   # rows of tables/substrates.csv it was written for
seals: substrate                # layer, substrate or member: what its tapes and beads hold on
measure: m                      # m, m2 or each
drives: length_m                # what the minutes count by
activity: edges                 # row of tables/activities.csv
labour: {low: 3, likely: 5, high: 8, per: min/m}
conditions: cond-tape           # row of tables/conditions.csv
components:
  - use: tape-single-60         # row of tables/components.csv; role: if, option, info or layout where it is not always
    amount: (length_m+2*tape_end_mm/1000)*(1+waste_tape_pct/100)
    unit: m
variants:                       # the last one whose when is true is the way it is done; the first has none
  - {id: default, title: Usual way}
turn: {sheet: setting, fold: no, ceiling-down: no}   # what strips that end here are cut for
prepare: [surface dry and free of dust]
checks:
  - {qa: QA-18, accept: "tape 25 mm or more on each side"}   # a figure has its unit
tolerance: tape ±10 mm
faults:
  - {sign: edge that peels, repair: cut it out and tape again}
cautions: [C-HEIGHT]            # rows of tables/cautions.csv
after: [laps]                   # activities or statements
before: [inspection]
examples:                       # worked out by hand, run by every check; every ordered component stands in it
  - note: "line of 10 m: 10.1 × 1.08"
    given: {length_m: 10, sub: osb}
    expect: {tape-single-60: 10.908}
section:                        # millimetres of the real thing, origin at the bottom left, Y up
  title: Say how it is cut
  size: [400, 300]
  parts:
    - {solid: timber-end, box: [20, 20, 60, 260], name: member}
    - {sheet: [[80, 100], [380, 100]], name: sheet}
    - {tape: [[80, 160], [80, 100], [140, 100]], name: tape}
    - {number: 1, at: [250, 200], to: [110, 100]}
source: placeholder, not yet tried on site   # a status word, then where it comes from
---

1. Say the first thing to do, with its measure: tape {=tape_end_mm} mm past the end.
`
