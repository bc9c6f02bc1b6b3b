package survey

import (
	"fmt"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/sorting"
)

// named is a kind of surface with the name and the text it has in the job.
type named struct {
	kind    Kind
	cold    bool // of a room that is not heated
	name    string
	buildUp *BuildUp
}

// faceName names a kind: wall-outside, ceiling-unheated, floor-not-stated.
func faceName(k Kind) string {
	word := map[job.Behind]string{Unknown: "not-stated", Inside: "unpaired", Nothing: "open", job.Heated: "inside"}[k.Behind]
	if word == "" {
		word = string(k.Behind)
	}
	return k.Part.String() + "-" + word
}

// faceText is what the job says about a kind. What the file cannot know (what the sheet is fixed to, how studs stand) is
// the usual case of a timber frame and marked as assumed.
func (n named) faceText() (text, comment string) {
	behind := n.kind.Behind
	switch behind {
	case Unknown:
		behind, comment = job.Outside, "the file does not say what lies behind: outside was assumed"
		if n.kind.Part == FloorPart {
			behind, comment = job.Ground, "the file does not say what lies below: ground was assumed"
		}
	case Inside:
		behind, comment = job.Heated, "the file says another room, but none was found there: check"
	case Nothing:
		behind, comment = job.Heated, "no wall stands there, the rooms run into each other"
	}
	parts := []string{"behind: " + string(behind)}
	if n.cold {
		if behind != job.Heated {
			parts = append(parts, "layer: none")
		}
		return "{" + strings.Join(parts, ", ") + "}", "of rooms that are not heated"
	}
	layer := map[Part]string{
		WallPart:    "layer: sheet, substrate: timber-planed, framing: {spacing: 600}",
		SlopePart:   "layer: sheet, substrate: timber-planed, framing: {spacing: 600}",
		CeilingPart: "layer: sheet, substrate: timber-planed, framing: {spacing: 600, along: y}",
		FloorPart:   "layer: board, substrate: osb",
	}[n.kind.Part]
	switch {
	case behind == job.Heated:
		layer = "layer: none, substrate: plasterboard"
		if n.kind.Part == FloorPart {
			layer = "layer: none, substrate: screed"
		}
	case behind == job.Ground && n.kind.Part == FloorPart:
		layer = "layer: none, substrate: screed"
	case behind == job.Ground:
		layer = "layer: plaster, substrate: plaster-gypsum"
	}
	parts = append(parts, layer)
	if n.buildUp != nil {
		parts = append(parts, "build-up: "+n.buildUp.ID)
	}
	return "{" + strings.Join(parts, ", ") + "}", comment
}

// faceKinds are the kinds of surface of all rooms under their names, in order of names.
func (s *Survey) faceKinds(buildUps map[*Construction]*BuildUp) (all []named, nameOf func(r *Room, k Kind) string) {
	name := func(r *Room, k Kind) string {
		out := faceName(k)
		if !r.Heated {
			return "cold-" + out
		}
		if b := buildUps[k.Construction]; b != nil && k.Bounds() {
			out += "-" + b.ID
		}
		return out
	}
	seen := map[string]bool{}
	for _, r := range s.Rooms {
		for _, k := range r.kinds() {
			n := named{kind: k, cold: !r.Heated, name: name(r, k)}
			if b := buildUps[k.Construction]; k.Bounds() && r.Heated {
				n.buildUp = b
			}
			if !seen[n.name] {
				seen[n.name] = true
				all = append(all, n)
			}
		}
	}
	sorting.Func(all, func(a, b named) int { return strings.Compare(a.name, b.name) })
	return all, name
}

// quote writes a text as a YAML string.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0x2028 || r == 0x2029 || r == 0xfeff:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
