package jobfile

import (
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Set is a set of ids.
type Set map[string]bool

// SetOf makes a set.
func SetOf(ids ...string) Set {
	out := Set{}
	for _, id := range ids {
		out[id] = true
	}
	return out
}

// Range is what a setting may be: from Low to High in Unit.
type Range struct {
	Unit      string
	Low, High float64
}

// Known holds the ids that a job may refer to. An empty set is not checked against.
type Known struct {
	Substrates Set
	Components Set
	Materials  Set
	Climates   Set
	Limits     Set                 // of airtightness
	Documents  Set                 // of the handover
	Flags      map[string][]string // answers allowed; empty: yes and no
	Settings   map[string]Range
	// MaterialNames are what materials are called, by their ids; for hints alone.
	MaterialNames map[string]string
	Commands      map[string]bool // flags of the command line; true: yes or no
}

func (k Known) flagNames() []string    { return slices.Sorted(maps.Keys(k.Flags)) }
func (k Known) settingNames() []string { return slices.Sorted(maps.Keys(k.Settings)) }

// nameRule says what a name looks like.
type nameRule struct {
	what    string
	pattern *regexp.Regexp
	hint    string
}

var (
	roomName     = nameRule{"a room's id", regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9.]{0,11}$`), "letters, digits and points, as on the plan: B2"}
	plainName    = nameRule{"an id", regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$`), "letters, digits, points, - and _"}
	wallName     = nameRule{"a wall", regexp.MustCompile(`^(usual|[1-9]\d{0,3})$`), "the wall's number in the plan, or usual"}
	openingName  = partName("an opening's id", "O")
	penetration  = partName("a penetration's id", "P")
	memberName   = partName("a member's id", "M")
	dormerName   = partName("a dormer's id", "D")
	country      = nameRule{"a country", regexp.MustCompile(`^[A-Z]{2}$`), "two capital letters as in ISO 3166: AT"}
	tag          = nameRule{"a language", regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$`), "a language tag as en or de-AT"}
	scopeName    = nameRule{"a place", regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9.]{0,11}(-D\d{1,4})?(-[A-Z]\d{1,4})?$`), "the id of a room (B2), surface (B2-W3), opening (B2-O1), penetration (B2-P02) or member (B2-M1)"}
	component    = nameRule{"a component", plainName.pattern, plainName.hint}
	fileName     = nameRule{"a file", regexp.MustCompile(`^[A-Za-z0-9_*][A-Za-z0-9_.*-]*(/[A-Za-z0-9_*][A-Za-z0-9_.*-]*)*\.ya?ml$`), "a .yaml file inside the job's folder; * stands for any letters"}
	bundleName   = nameRule{"a library", regexp.MustCompile(`^[A-Za-z0-9_][A-Za-z0-9_.-]*(/[A-Za-z0-9_][A-Za-z0-9_.-]*)*$`), "a folder or .zip inside the firm's folder: libraries/masonry.zip"}
	bundleHash   = nameRule{"a hash", regexp.MustCompile(`^sha256-[0-9a-f]{64}$`), "print it with: lapwork library pin"}
	readingsName = nameRule{"a file of readings", regexp.MustCompile(`^[A-Za-z0-9_][A-Za-z0-9_.-]*(/[A-Za-z0-9_][A-Za-z0-9_.-]*)*\.csv$`), "a .csv file inside the job's folder: tests/interim.csv"}
	weatherName  = nameRule{"a weather file", regexp.MustCompile(`^[A-Za-z0-9_][A-Za-z0-9_.-]*(/[A-Za-z0-9_][A-Za-z0-9_.-]*)*\.[eE][pP][wW]$`), "an .epw file inside the job's folder: weather/town.epw"}
)

// partName is the id of a part of a room, with or without the room before it.
func partName(what, letter string) nameRule {
	return nameRule{what, regexp.MustCompile(`^([A-Za-z0-9][A-Za-z0-9.]{0,11}-)?` + letter + `\d{1,4}$`),
		"the letter " + letter + " and a number: " + letter + "1"}
}

func (n nameRule) schema() *schema {
	return &schema{Type: "string,number", Pattern: n.pattern.String()}
}

// read reads a name; false after a finding.
func (n nameRule) read(r *reader, node *yaml.Node) (string, bool) { return id(n).read(r, node) }

// id is a name that follows a rule.
//
//go:noinline
func id(n nameRule) value[string] {
	return scalar(n.what, *n.schema(), func(_ *reader, text string) (string, string, string) {
		if !n.pattern.MatchString(text) {
			return "", "\"" + clip(text) + "\" cannot be " + n.what, n.hint
		}
		return text, "", ""
	})
}

// knownID is an id out of a table that the reader was given.
//
//go:noinline
func knownID(what string, set func(Known) Set) value[string] {
	return scalar("the id of "+what, schema{Type: "string", Pattern: plainName.pattern.String()}, known(what, set))
}

// known reads such an id.
func known(what string, set func(Known) Set) func(*reader, string) (string, string, string) {
	return func(r *reader, text string) (string, string, string) {
		all := set(r.known)
		if len(all) > 0 && !all[text] {
			return "", "there is no " + strings.TrimPrefix(strings.TrimPrefix(what, "a "), "an ") + " \"" + clip(text) + "\"",
				didYouMean(text, slices.Collect(maps.Keys(all)), "one of: ")
		}
		if !plainName.pattern.MatchString(text) {
			return "", "\"" + clip(text) + "\" cannot be the id of " + what, plainName.hint
		}
		return text, "", ""
	}
}

var (
	substrateID = knownID("a substrate", func(k Known) Set { return k.Substrates })
	componentID = knownID("a component", func(k Known) Set { return k.Components })
	limitID     = knownID("a limit", func(k Known) Set { return k.Limits })
)

// climateSource is the id of a climate of the table, or a weather file in the job's folder.
var climateSource = scalar("a climate", schema{Type: "string", Pattern: "(" + plainName.pattern.String() + ")|(" + weatherName.pattern.String() + ")"},
	func(r *reader, text string) (string, string, string) {
		switch {
		case !isWeather(text):
			return known("a climate", func(k Known) Set { return k.Climates })(r, text)
		case !weatherName.pattern.MatchString(text):
			return "", "\"" + clip(text) + "\" cannot be " + weatherName.what, weatherName.hint
		}
		return text, "", ""
	})

// isWeather says that a climate is stated by a file.
func isWeather(text string) bool { return strings.EqualFold(path.Ext(text), ".epw") }
