package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	q "lapwork/generator/quantity"
)

// Material is a row of the material table that layers may be matched with.
type Material struct {
	ID, Name string
	Lambda   float64 // W/(m·K); 0: not in the table
}

// BuildUp is a construction of the file in materials of the table.
type BuildUp struct {
	ID, Name string
	Layers   []BuildUpLayer
}

// BuildUpLayer is a layer of it; Air without a material.
type BuildUpLayer struct {
	Material  string
	Air       bool
	Thickness q.MM
}

// lambdaNear is how far the stated conductivity may be from the table's, as a factor.
const lambdaNear = 1.35

// buildUps puts constructions into materials of the table, by name and conductivity. One with a layer that fits none
// is left out and named: a guessed material would carry into the moisture check.
func (s *Survey) buildUps(table []Material) map[*Construction]*BuildUp {
	out := map[*Construction]*BuildUp{}
	used := s.constructions()
	var guessed []string
	ids := map[string]int{}
	for _, c := range used {
		b := &BuildUp{ID: buildUpID(c, ids), Name: label(c.Name, c.ID)}
		var missing []string
		for _, l := range c.Layers {
			layer := BuildUpLayer{Thickness: millimetres(float64(l.Thickness))}
			if isAir(l.Name) {
				layer.Air = true
			} else if m := match(l, table); m != nil {
				layer.Material = m.ID
				guessed = append(guessed, fmt.Sprintf("%s as %s (%s)", clip(l.Name, 40), m.ID, m.Name))
			} else {
				missing = append(missing, clip(l.Name, 40))
			}
			if layer.Thickness > 0 {
				b.Layers = append(b.Layers, layer)
			}
		}
		switch {
		case len(c.Layers) == 0 || len(b.Layers) == 0:
			continue
		case len(missing) > 0:
			s.Found.Openf(c.Pos, "", "write the build-up in the job with materials of the table",
				"construction %s (%s) was not taken over: no material of the table was recognised in %s", c.ID, b.Name, join(missing))
			continue
		}
		out[c] = b
	}
	if len(guessed) > 0 {
		slices.Sort(guessed)
		s.Guessed = append(s.Guessed, Say("materials were recognised by name: %s", strings.Join(slices.Compact(guessed), "; ")))
	}
	return out
}

// buildUpID makes an id of a construction's name that stays the same from survey to survey. Eighteen letters leave room for
// the part and what lies behind in the names of faces.
func buildUpID(c *Construction, taken map[string]int) string {
	id := strings.Map(func(r rune) rune {
		if r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return unicode.ToLower(r)
		}
		return '-'
	}, orID(c.Name, c.ID))
	for strings.Contains(id, "--") {
		id = strings.ReplaceAll(id, "--", "-")
	}
	if len(id) > 16 {
		id = id[:16]
	}
	if id = strings.Trim(id, "-"); id == "" {
		id = "stack"
	}
	if taken[id]++; taken[id] > 1 {
		id = fmt.Sprintf("%s-%d", id, taken[id])
	}
	return id
}

// constructions are those of the boundary, in file order.
func (s *Survey) constructions() []*Construction {
	used := map[*Construction]bool{}
	for _, r := range s.Rooms {
		for _, k := range r.kinds() {
			used[k.Construction] = k.Bounds() || used[k.Construction]
		}
	}
	var out []*Construction
	for _, c := range s.Building.Constructions {
		if used[c] {
			out = append(out, c)
		}
	}
	return out
}

// kinds are the kinds of a room's surfaces: walls, slopes, ceiling, floor.
func (r *Room) kinds() []Kind {
	out := slices.Clone(r.Walls)
	for _, s := range r.Slopes {
		out = append(out, s.Kind)
	}
	return append(out, r.Ceiling, r.Floor)
}

func isAir(name string) bool {
	words := wordsOf(name)
	return slices.Contains(words, "air") && len(words) <= 3
}

// match finds the row whose name shares the most words (all of its own, or two of three) and whose conductivity is near where
// both are known. It finds none where other rows fit as well and no conductivity decides: "concrete" may be light or heavy.
func match(l Layer, table []Material) *Material {
	words := wordsOf(l.Name)
	var best *Material
	var most, own int // words shared by the best row, and in its name
	var nearest float64
	unsure := false
	for i, m := range table {
		names := wordsOf(m.Name)
		shared := 0
		for _, w := range names {
			if slices.ContainsFunc(words, func(x string) bool { return alikeWords(x, w) }) {
				shared++
			}
		}
		off, near := apart(l.Lambda, m.Lambda)
		if shared == 0 || shared < len(names) && (shared < 2 || 3*shared < 2*len(names)) || !near {
			continue
		}
		better := cmp.Or(cmp.Compare(shared, most), cmp.Compare(own, len(names)))
		switch {
		case better > 0 || better == 0 && l.Lambda > 0 && off < nearest:
			best, most, own, nearest, unsure = &table[i], shared, len(names), off, false
		case better == 0 && (l.Lambda == 0 || off == nearest):
			unsure = true
		}
	}
	if unsure {
		return nil
	}
	return best
}

// alikeWords says whether two words are one, or long and one begins as the other.
func alikeWords(a, b string) bool {
	return a == b || len(a) > 4 && len(b) > 4 && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a))
}

// apart is how far two conductivities differ, as the logarithm of their ratio, and whether they are near. One that is not
// known is near any.
func apart(a, b float64) (off float64, near bool) {
	if a <= 0 || b <= 0 {
		return 0, true
	}
	off = math.Abs(math.Log(a / b))
	return off, off <= math.Log(lambdaNear)
}

// wordsOf are the words of a name that say something about a material.
func wordsOf(name string) []string {
	return slices.DeleteFunc(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) }), func(w string) bool {
		return len(w) < 3 || slices.Contains([]string{"and", "the", "with", "incl", "light", "medium", "high", "density", "generic", "common", "sheet", "board", "layer"}, w)
	})
}

// label is the first of some texts that says anything, shortened for a name in the job.
func label(texts ...string) string {
	for _, t := range texts {
		if t = clip(t, 120); t != "" {
			return t
		}
	}
	return "without a name"
}

// clip shortens a text to so many characters, without any that cannot be seen.
func clip(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == unicode.ReplacementChar || !unicode.IsPrint(r):
			return -1
		}
		return r
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
