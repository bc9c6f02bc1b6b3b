package roomlist

import (
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/survey"
)

// behindWords are words for what lies behind, in the languages of the packs.
var behindWords = map[string]job.Behind{
	"outside": job.Outside, "roof": job.Outside, "air": job.Outside, "außen": job.Outside, "aussen": job.Outside, "dach": job.Outside, "extérieur": job.Outside, "exterior": job.Outside, "zewnątrz": job.Outside,
	"ground": job.Ground, "soil": job.Ground, "erdreich": job.Ground, "sol": job.Ground, "terre-plein": job.Ground, "terreno": job.Ground, "grunt": job.Ground,
	"unheated": job.Unheated, "loft": job.Unheated, "cellar": job.Unheated, "unbeheizt": job.Unheated, "keller": job.Unheated, "dachboden": job.Unheated, "non chauffé": job.Unheated, "combles": job.Unheated, "no calefactado": job.Unheated, "nieogrzewane": job.Unheated,
	"party": job.Party, "neighbour": job.Party, "nachbar": job.Party, "mitoyen": job.Party, "vecino": job.Party, "sąsiad": job.Party,
	"heated": job.Heated, "room": job.Heated, "beheizt": job.Heated, "raum": job.Heated, "chauffé": job.Heated, "calefactado": job.Heated, "ogrzewane": job.Heated,
}

// compass are the sides of a rectangle drawn with north up: wall 1 is the lower one.
var compass = map[string]int{"s": 1, "e": 2, "o": 2, "n": 3, "w": 4, "south": 1, "east": 2, "north": 3, "west": 4, "süd": 1, "ost": 2, "nord": 3}

// wallList reads "1, 3", "N+E", "all", "none".
func wallList(text string) ([]int, bool) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "all", "alle", "toutes", "todas", "4 sides":
		return []int{1, 2, 3, 4}, true
	case "keine", "0", "no":
		return nil, true
	}
	var out []int
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return strings.ContainsRune(",;+/& ", c) }) {
		n, ok := compass[w]
		if !ok {
			var err error
			if n, err = strconv.Atoi(w); err != nil || n < 1 || n > 4 {
				return nil, false
			}
		}
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out, len(out) > 0
}

// yesNo reads a yes or no; NotSaid for anything else.
func yesNo(text string) survey.Warm {
	switch strings.ToLower(text) {
	case "yes", "y", "x", "true", "1", "ja", "oui", "sí", "si", "tak", "heated", "beheizt":
		return survey.IsHeated
	case "no", "n", "false", "0", "nein", "non", "nie", "unheated", "unbeheizt":
		return survey.NotHeated
	}
	return survey.NotSaid
}

// heights are words that tell how high a storey lies among others; common usage, no source.
var heights = []struct {
	word string
	rank int
}{
	{"basement", -1}, {"cellar", -1}, {"keller", -1}, {"untergeschoss", -1}, {"sous-sol", -1}, {"sótano", -1}, {"piwnica", -1},
	{"ground", 0}, {"erdgeschoss", 0}, {"rez", 0}, {"baja", 0}, {"parter", 0},
	{"attic", 80}, {"dachgeschoss", 80}, {"combles", 80}, {"ático", 80}, {"poddasze", 80}, {"roof", 90},
	{"first", 1}, {"second", 2}, {"third", 3}, {"fourth", 4}, {"fifth", 5},
}

// shortHeights are whole names.
var shortHeights = map[string]int{"ug": -1, "kg": -1, "eg": 0, "og": 1, "dg": 80, "rdc": 0, "pb": 0}

// rankOf is the height of a storey by its name; ok is false where the name tells nothing.
func rankOf(name string) (int, bool) {
	name = strings.ToLower(name)
	if n, ok := shortHeights[name]; ok {
		return n, true
	}
	for _, h := range heights {
		if strings.Contains(name, h.word) {
			return h.rank, true
		}
	}
	for _, w := range strings.FieldsFunc(name, func(c rune) bool { return c == ' ' || c == '.' || c == '_' }) {
		if n, err := strconv.Atoi(w); err == nil && n >= -9 && n < 79 {
			return n, true
		}
	}
	return 0, false
}
