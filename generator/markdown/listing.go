package markdown

import (
	"bytes"
	"fmt"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/lexers"
)

// Listing gives a data listing (yaml, json, markdown, csv) as HTML with classes for the theme to colour, and numbered
// lines so that a finding's line can be read off. An unknown language is listed plain.
func Listing(source, language string) (string, error) {
	lexer := lexers.Get(language)
	if lexer == nil {
		lexer = lexers.Fallback
	}
	tokens, err := chroma.Coalesce(lexer).Tokenise(nil, source)
	if err != nil {
		return "", fmt.Errorf("listing in %s: %w", language, err)
	}
	var b bytes.Buffer
	format := html.New(html.WithClasses(true), html.WithLineNumbers(true), html.ClassPrefix("src-"), html.TabWidth(4))
	// The style only names classes here; their colours are the theme's.
	if err := format.Format(&b, chroma.MustNewStyle("plain", chroma.StyleEntries{chroma.Background: ""}), tokens); err != nil {
		return "", fmt.Errorf("listing in %s: %w", language, err)
	}
	return b.String(), nil
}
