package markdown

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
)

// lex gives the tokens of a listing.
func lex(t rapid.TB, source, language string) []chroma.Token {
	t.Helper()
	it, err := tokens(source, language)
	if err != nil {
		t.Fatal(err)
	}
	return it.Tokens()
}

// referenced gives the tokens of the library's own lexer, which the program does not carry.
func referenced(t rapid.TB, source, language string) []chroma.Token {
	t.Helper()
	lexer := lexers.Get(language)
	if lexer == nil {
		lexer = lexers.Fallback
	}
	it, err := chroma.Coalesce(lexer).Tokenise(nil, source)
	if err != nil {
		t.Fatal(err)
	}
	return it.Tokens()
}

// kinds writes tokens as short lines, without the blanks and line ends between them.
func kinds(list []chroma.Token) []string {
	var out []string
	for _, k := range list {
		if text := strings.TrimSpace(k.Value); text != "" {
			out = append(out, k.Type.String()+" "+text)
		}
	}
	return out
}

// Want: the tokens of the library's own lexer, on everything both understand.
func TestKindsAreTheReferences(t *testing.T) {
	for _, c := range []struct{ language, source string }{
		{"yaml", "id: wall-ceiling # said once\n"},
		{"yaml", "# a line\nlap: 100 mm\nratio: 0.5\nhex: 0x1f\nsure: true\nnone: null\nday: 2026-03-01\n"},
		{"yaml", "when: edge == \"recess\" and item == \"back-box\"\nurl: https://example.org/a#b\n"},
		{"yaml", "a: \"two \\\" words\"\nb: 'one'\nc: \"\"\n"},
		{"yaml", "base: &here\nlike: *here\nkind: !!str\n"},
		{"yaml", "steps: [3, 4]\n"},
		{"yaml", "---\na: b\n...\n"},
		{"markdown", "# Title\n\n## Part\n\ntext\n"},
		{"markdown", "see `{=lap_mm}` and [here](there.md).\n"},
		{"markdown", "it is **bold** and *leaning* and ~~gone~~ now\n"},
		{"markdown", "text <!-- a\n* remark --> more\n"},
		{"markdown", "\\*no\\* emphasis\n"},
		{"markdown", "---\ntitle: Sheet\nlap: 100\n---\nA step.\n"},
		{"markdown", "---\nno front matter\n"},
		{"plain words", "a: b\n# c\n"},
	} {
		if diff := cmp.Diff(kinds(referenced(t, c.source, c.language)), kinds(lex(t, c.source, c.language))); diff != "" {
			t.Errorf("%s %q: - reference + ours\n%s", c.language, c.source, diff)
		}
	}
}

// Where ours differ from the reference on purpose: mappings in braces, figures below nought, dashes of lists, block scalars by their depth, list
// items that end the text, figures. Want: YAML 1.2.2, chapters 7 and 8; the forms of markdown.New.
func TestKindsOfOurOwn(t *testing.T) {
	for _, c := range []struct {
		language, source string
		want             []string
	}{
		{"yaml", "labour: {low: 5, per: min each, on: yes}\n", []string{"NameTag labour", "Punctuation :", "Punctuation {", "NameTag low", "Punctuation :", "LiteralNumber 5", "Punctuation ,",
			"NameTag per", "Punctuation :", "Literal min each", "Punctuation ,", "NameTag on", "Punctuation :", "KeywordConstant yes", "Punctuation }"}},
		{"yaml", "- use: tape, wide\n- \"a: b\": c\n-5\n", []string{"Punctuation -", "NameTag use", "Punctuation :", "Literal tape, wide", "Punctuation -", "NameTag \"a: b\"", "Punctuation :", "Literal c", "LiteralNumber -5"}},
		{"yaml", "- a: |- # kept\n    one: two\n\n      # no comment\n  b: c\n", []string{"Punctuation -", "NameTag a", "Punctuation :", "Punctuation |-", "Comment # kept",
			"LiteralStringDoc one: two\n\n      # no comment", "NameTag b", "Punctuation :", "Literal c"}},
		{"yaml", "a: >\nb: |", []string{"NameTag a", "Punctuation :", "Punctuation >", "NameTag b", "Punctuation :", "Punctuation |"}},
		{"yaml", "a: \"over\n  two # lines\"\nb: 'it''s'\n", []string{"NameTag a", "Punctuation :", "LiteralStringDouble \"over\n  two # lines\"", "NameTag b", "Punctuation :", "LiteralStringSingle 'it''s'"}},
		{"yaml", "many: -3\nlabour: {}\n", []string{"NameTag many", "Punctuation :", "LiteralNumber -3", "NameTag labour", "Punctuation :", "Punctuation {}"}},
		{"yaml", "no: nothing\nversion: 1.2.3\nyear: 2026-03\n", []string{"NameTag no", "Punctuation :", "Literal nothing", "NameTag version", "Punctuation :", "Literal 1.2.3", "NameTag year", "Punctuation :", "Literal 2026-03"}},
		{"markdown", "1. Lap {=lap_mm}, tape `centred`\n- and *press*", []string{"Keyword 1.", "Text Lap", "LiteralStringInterpol {=lap_mm}", "Text , tape", "LiteralStringBacktick `centred`", "Keyword -", "Text and", "GenericEmph *press*"}},
		{"markdown", "```yaml\n* a: b\n```\n> said\nsome_long_name 2 * 3\n", []string{"LiteralString ```yaml", "Text * a: b", "LiteralString ```", "Keyword >", "Text said\nsome_long_name 2 * 3"}},
		{"markdown", "---\r\nlap: 100 mm\r\n---\r\n1. Tape\r\n", []string{"NameNamespace ---", "NameTag lap", "Punctuation :", "LiteralNumber 100", "Literal mm", "NameNamespace ---", "Keyword 1.", "Text Tape"}},
	} {
		if diff := cmp.Diff(c.want, kinds(lex(t, c.source, c.language))); diff != "" {
			t.Errorf("%s %q: - want + got\n%s", c.language, c.source, diff)
		}
	}
}

// pieces is text of the kind that makes a lexer stumble.
var pieces = []string{"a", " ", "  ", "\n", "\r\n", "\r", "\t", ":", ": ", "- ", "-", "#", " #", "\"", "'", "\\", "|", "|\n", ">\n", "[", "]", "{", "}", "{=", ",", "&", "*", "**", "_", "~~", "`", "```\n", "!", "%", "@",
	"---\n", "---", "...", "0x1", "12", "1.5e3", "2026-01-01", "true", "<!--", "-->", "](", ")", "# ", "é", "\u2028", "\u00a0", "\x00", "\xff", "\xc3", "\U0001F9F1"}

func hostile() *rapid.Generator[string] {
	return rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 60), func(s []string) string { return strings.Join(s, "") }))
}

// The tokens together are the source, by the rule that held with the library's lexers: a line feed for each line end,
// U+FFFD for each byte that is no UTF-8, and nothing lost. No character is an error.
func TestTokensAreTheSource(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		source, language := hostile().Draw(t, "source"), rapid.SampledFrom([]string{"yaml", "markdown", "json", ""}).Draw(t, "language")
		want := chroma.Stringify(referenced(t, source, "plaintext")...)
		got := lex(t, source, language)
		if text := chroma.Stringify(got...); text != want {
			t.Fatalf("%q as %s became %q", source, language, text)
		}
		if slices.ContainsFunc(got, func(k chroma.Token) bool { return k.Type == chroma.Error }) {
			t.Fatalf("%q as %s has an error token: %v", source, language, got)
		}
	})
}

func FuzzListing(f *testing.F) {
	for _, p := range pieces {
		f.Add(p+p, true)
	}
	f.Add("---\na: |\n  b\n---\n1. {=x}\n", false)
	f.Fuzz(func(t *testing.T, source string, data bool) {
		language := "markdown"
		if data {
			language = "yaml"
		}
		if got, want := chroma.Stringify(lex(t, source, language)...), chroma.Stringify(referenced(t, source, "plaintext")...); got != want {
			t.Fatalf("%q as %s became %q", source, language, got)
		}
		if _, err := Listing(source, language); err != nil {
			t.Fatal(err)
		}
	})
}

// Every kind that the details of the library yield and that says something has a colour or a weight in the style sheet of the pages that show it.
func TestKindsHaveALook(t *testing.T) {
	css, err := os.ReadFile("../../themes/site/office.css")
	if err != nil {
		t.Fatal(err)
	}
	plain := []chroma.TokenType{chroma.Text, chroma.TextWhitespace, chroma.Literal, chroma.Punctuation, chroma.NameNamespace, chroma.NameAttribute, chroma.GenericDeleted}
	files, err := filepath.Glob("../../content/library/*.md")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	sources := []string{"# a\n## b\n**c** and *d*\n<!-- e -->\n```\n```\n", "---\na: &x 'b'\nc: \"d\"\ne: |\n  f\nday: 2026-01-01\n---\n"}
	for _, name := range files {
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		sources = append(sources, string(source))
	}
	bare := map[string]string{}
	for _, source := range sources {
		for _, k := range lex(t, source, "markdown") {
			class := "src-" + chroma.StandardTypes[k.Type]
			if !slices.Contains(plain, k.Type) && !styled(string(css), class) {
				bare[class] = k.Value
			}
		}
	}
	if len(bare) > 0 {
		t.Errorf("no look for %v", bare)
	}
}

func styled(css, class string) bool {
	for _, end := range []string{" ", ",", "{", ")"} {
		if strings.Contains(css, "."+class+end) {
			return true
		}
	}
	for n := len(class); n > len("src-"); n-- {
		if strings.Contains(css, `[class^="`+class[:n]+`"]`) {
			return true
		}
	}
	return false
}

// Ten times the text takes about ten times the time, whatever it is made of. BenchmarkHostile shows it; nothing fails by
// the clock.
func BenchmarkHostile(b *testing.B) {
	for _, p := range []string{"[", "{a: ", "\"", "'", "\"\\", "a: \"", "a: |\n ", " ", "a ", ":", "- ", "*", "**a", "_", "`", "<!--", "[a](", "{=", "~~a", "#", "1", "\n", "a:\t", "?: "} {
		for _, language := range []string{"yaml", "markdown"} {
			for _, n := range []int{10_000, 100_000} {
				source := strings.Repeat(p, n/len(p))
				b.Run(language+"/"+strings.ReplaceAll(p, "\n", "LF")+"/"+map[bool]string{true: "10k", false: "100k"}[n == 10_000], func(b *testing.B) {
					for b.Loop() {
						lex(b, source, language)
					}
				})
			}
		}
	}
}
