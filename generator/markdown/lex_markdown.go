package markdown

import (
	"slices"
	"sync"

	"github.com/alecthomas/chroma/v2"
)

// markdownLexer is made when a listing first asks for it. Front matter is not its business.
var markdownLexer = sync.OnceValue(func() chroma.Lexer {
	return chroma.MustNewLexer(&chroma.Config{Name: "markdown"}, markdownRules)
})

// markdownRules know what authors of details write, and the figure that is this program's own. Every search for a closing
// mark stops at the end of the line and at the next opening one, so that a text of opening marks alone is not searched
// over and over.
func markdownRules() chroma.Rules {
	inline := []chroma.Rule{
		{Pattern: `<!--`, Type: chroma.CommentMultiline, Mutator: chroma.Push("comment")},
		{Pattern: `\\[^\n]`, Type: chroma.Text},
		{Pattern: "`[^`\n]+`", Type: chroma.LiteralStringBacktick},
		{Pattern: `\{=[^{}\n]*\}`, Type: chroma.LiteralStringInterpol},
		{Pattern: `\*\*[^*\n]+\*\*|(?<!\w)__[^_\n]+__(?!\w)`, Type: chroma.GenericStrong},
		{Pattern: `\*(?=[^\s*])[^*\n]+\*(?!\*)|(?<!\w)_(?=\S)[^_\n]+_(?!\w)`, Type: chroma.GenericEmph},
		{Pattern: `~~[^~\n]+~~`, Type: chroma.GenericDeleted},
		{Pattern: `(!?\[)([^\[\]\n]+)(\]\()([^()\[\]\n]+)(\))`, Type: chroma.ByGroups(chroma.Text, chroma.NameTag, chroma.Text, chroma.NameAttribute, chroma.Text)},
		{Pattern: "[^\\\\`{*_~!\\[<\n]+", Type: chroma.Text},
		{Pattern: `[\s\S]`, Type: chroma.Text},
	}
	return chroma.Rules{
		"root": slices.Concat([]chroma.Rule{
			{Pattern: `^#[ \t][^\n]*`, Type: chroma.GenericHeading},
			{Pattern: `^#{2,6}[ \t][^\n]*`, Type: chroma.GenericSubheading},
			{Pattern: "^[ \t]*(?:```|~~~)[^\n]*", Type: chroma.LiteralString, Mutator: chroma.Push("code")},
			{Pattern: `^([ \t]*)([-*+]|[0-9]{1,9}[.)])(?=[ \t])`, Type: chroma.ByGroups(chroma.Text, chroma.Keyword)},
			{Pattern: `^[ \t]*>`, Type: chroma.Keyword},
		}, inline),
		"code": {
			{Pattern: "^[ \t]*(?:```|~~~)[`~]*[ \t]*$", Type: chroma.LiteralString, Mutator: chroma.Pop(1)},
			{Pattern: `[^\n]+|\n`, Type: chroma.Text},
		},
		"comment": {
			{Pattern: `-->`, Type: chroma.CommentMultiline, Mutator: chroma.Pop(1)},
			{Pattern: `[^-]+|-`, Type: chroma.CommentMultiline},
		},
	}
}
