package markdown

import (
	"slices"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
)

// yamlLexer is made when a listing first asks for it; its expressions are compiled then.
var yamlLexer = sync.OnceValue(func() chroma.Lexer {
	return chroma.MustNewLexer(&chroma.Config{Name: "yaml"}, yamlRules)
})

// The expressions match with backtracking, on text that strangers write. So that the work stays in step with the length
// of the text, what repeats is either followed by nothing that can fail or stands in an atomic group, its alternatives
// begin with different characters, and what may run over lines is a state of its own.
const (
	// A plain scalar outside brackets goes on through ":" without a space behind and "#" without one before; inside
	// brackets it ends at the next of them and at a comma as well (YAML 1.2.2, 7.3.3).
	plainRest = `(?>(?:[^\s:#]+|:(?=\S)|(?<=\S)#|[ \t]+(?=[^\s:#]|:\S))*)`
	flowRest  = `(?>(?:[^\s:#,\[\]{}]+|:(?=[^\s,\[\]{}])|(?<=\S)#|[ \t]+(?=[^\s:#,\[\]{}]|:[^\s,\[\]{}]))*)`
	// What a plain scalar may begin with: no indicator, unless it is one of three that stand alone only.
	plainStart = "(?:[^\\s?:,\\[\\]{}#&*!|>'\"%@`-]|[?:-](?=\\S))"
	flowStart  = "(?:[^\\s?:,\\[\\]{}#&*!|>'\"%@`-]|[?:-](?=[^\\s,\\[\\]{}]))"
	quoted     = `(?>"(?:[^"\\\n]|\\[^\n])*"|'[^'\n]*')`
	// Where a scalar ends, for words and figures that only count when they are the whole of it or of its first word.
	plainEnd, plainBreak = `(?=[ \t]*$|[ \t]+#)`, `(?=\s|\z)`
	flowEnd, flowBreak   = `(?=[ \t]*(?:$|[,\]}])|[ \t]+#)`, `(?=[\s,\]}]|\z)`
	constants            = `(?:true|True|TRUE|false|False|FALSE|null|Null|NULL|~|yes|Yes|YES|no|No|NO|on|On|ON|off|Off|OFF)`
	date                 = `[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[Tt][0-9][0-9:.+Zz-]*)?`
	number               = `[-+]?(?:0x[0-9a-fA-F]+|0o[0-7]+|\.(?:inf|nan)|(?>[0-9]+)(?:\.[0-9]*)?(?:[eE][-+]?[0-9]+)?|\.[0-9]+)`
)

func yamlRules() chroma.Rules {
	blank := chroma.Rule{Pattern: `\s+`, Type: chroma.TextWhitespace}
	comment := chroma.Rule{Pattern: `#[^\n]*`, Type: chroma.Comment}
	return chroma.Rules{
		"root": slices.Concat([]chroma.Rule{
			blank,
			{Pattern: `^(?:---|\.\.\.)(?=\s|\z)`, Type: chroma.NameNamespace},
			{Pattern: `^%[^\n]*`, Type: chroma.CommentPreproc},
			comment,
			{Pattern: `[-?:](?=\s|\z)`, Type: chroma.Punctuation},
			{Pattern: `([|>][-+0-9]{0,2})([ \t]*)((?:#[^\n]*)?)$()`, Mutator: chroma.MutatorFunc(takeBlock),
				Type: chroma.ByGroups(chroma.Punctuation, chroma.TextWhitespace, chroma.Comment, chroma.LiteralStringDoc)},
		}, scalarRules(plainStart+plainRest, plainEnd, plainBreak)),
		"flow": slices.Concat([]chroma.Rule{
			blank,
			comment,
			{Pattern: `[\]}]`, Type: chroma.Punctuation, Mutator: chroma.Pop(1)},
			{Pattern: `[,?:]` + flowBreak, Type: chroma.Punctuation},
		}, scalarRules(flowStart+flowRest, flowEnd, flowBreak)),
		"double": {
			{Pattern: `[^"\\]+`, Type: chroma.LiteralStringDouble},
			{Pattern: `\\[\s\S]?`, Type: chroma.LiteralStringDouble},
			{Pattern: `"`, Type: chroma.LiteralStringDouble, Mutator: chroma.Pop(1)},
		},
		"single": {
			{Pattern: `[^']+|''`, Type: chroma.LiteralStringSingle},
			{Pattern: `'`, Type: chroma.LiteralStringSingle, Mutator: chroma.Pop(1)},
		},
	}
}

// scalarRules are the rules of keys and values, which differ within brackets in where a plain scalar ends.
func scalarRules(plain, end, gap string) []chroma.Rule {
	return []chroma.Rule{
		{Pattern: `[&*!][^\s,\[\]{}]+|!(?=\s|\z)`, Type: chroma.CommentPreproc},
		{Pattern: `(` + quoted + `|` + plain + `)([ \t]*)(:)` + gap, Type: chroma.ByGroups(chroma.NameTag, chroma.TextWhitespace, chroma.Punctuation)},
		{Pattern: `"`, Type: chroma.LiteralStringDouble, Mutator: chroma.Push("double")},
		{Pattern: `'`, Type: chroma.LiteralStringSingle, Mutator: chroma.Push("single")},
		{Pattern: `[\[{]`, Type: chroma.Punctuation, Mutator: chroma.Push("flow")},
		{Pattern: constants + end, Type: chroma.KeywordConstant},
		{Pattern: date + gap, Type: chroma.LiteralDate},
		{Pattern: number + gap, Type: chroma.LiteralNumber},
		{Pattern: plain, Type: chroma.Literal},
		{Pattern: `[\]},]`, Type: chroma.Punctuation},
		{Pattern: `[\s\S]`, Type: chroma.Text},
	}
}

// takeBlock adds the lines of a block scalar to the match of its header: those further in than what the scalar belongs
// to, and blank ones between them. An expression would have to look for that depth again at every line.
func takeBlock(state *chroma.LexerState) error {
	header := state.Pos - len([]rune(state.Groups[0]))
	depth := parentDepth(state.Text, header)
	end := state.Pos
	for at := end; at < len(state.Text); { // at a line feed
		next := lineEnd(state.Text, at+1)
		in := at + 1
		for in < next && state.Text[in] == ' ' {
			in++
		}
		if in < next {
			if in-at-1 <= depth {
				break
			}
			end = next
		}
		at = next
	}
	state.Groups[len(state.Groups)-1] = string(state.Text[state.Pos:end])
	state.Pos = end
	return nil
}

// parentDepth is the column of the key or the dash that a block scalar belongs to; -1 for the document itself.
func parentDepth(text []rune, header int) int {
	start := header
	for start > 0 && text[start-1] != '\n' {
		start--
	}
	line := string(text[start:header])
	if strings.HasPrefix(line, "---") || strings.TrimSpace(line) == "" {
		return -1
	}
	depth := 0
	for at := 0; at < len(line); at++ {
		switch {
		case line[at] == ' ':
		case strings.IndexByte("-?:", line[at]) >= 0 && at+1 < len(line) && line[at+1] == ' ':
			depth = at
		default:
			return at
		}
	}
	return depth
}

func lineEnd(text []rune, at int) int {
	for at < len(text) && text[at] != '\n' {
		at++
	}
	return at
}
