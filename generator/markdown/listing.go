package markdown

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"
)

// Listing gives the source of a detail (markdown, with its front matter) or of a data file (yaml) as HTML with classes
// for the theme to colour, and numbered lines so that a finding's line can be read off. Another language is listed plain.
//
// The lexers are this package's own: the library that brings one for every language also brings all of them into the
// program, 4.8 MB of it.
func Listing(source, language string) (string, error) {
	parts, err := tokens(source, language)
	if err != nil {
		return "", fmt.Errorf("listing in %s: %w", language, err)
	}
	var b bytes.Buffer
	format := html.New(html.WithClasses(true), html.WithLineNumbers(true), html.ClassPrefix("src-"), html.TabWidth(4))
	// The style only names classes here; their colours are the theme's.
	if err := format.Format(&b, chroma.MustNewStyle("plain", chroma.StyleEntries{chroma.Background: ""}), parts); err != nil {
		return "", fmt.Errorf("listing in %s: %w", language, err)
	}
	return b.String(), nil
}

// lineEnds makes every line end a line feed, as a lexer does itself: the front matter is found before one runs.
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// tokens gives the parts of a source, which together are the source: with line feeds, and with U+FFFD for each byte that
// is no UTF-8.
func tokens(source, language string) (chroma.Iterator, error) {
	source = string([]rune(lineEnds.Replace(source)))
	switch language {
	case "yaml":
		return lexed(source, yamlLexer)
	case "markdown":
		front, body := frontMatter(source)
		head, err := lexed(front, yamlLexer)
		if err != nil {
			return nil, err
		}
		rest, err := lexed(body, markdownLexer)
		if err != nil {
			return nil, err
		}
		return chroma.Concaterator(head, rest), nil
	}
	return chroma.Literator(chroma.Token{Type: chroma.Text, Value: source}), nil
}

func lexed(source string, lexer func() chroma.Lexer) (chroma.Iterator, error) {
	return chroma.Coalesce(lexer()).Tokenise(nil, source)
}

// frontMatter parts the front matter between two lines of three dashes from the text below. Without a second such line
// all is text.
func frontMatter(source string) (front, body string) {
	const fence = "---\n"
	if !strings.HasPrefix(source, fence) {
		return "", source
	}
	i := strings.Index(source[len(fence)-1:], "\n"+fence)
	if i < 0 {
		return "", source
	}
	end := len(fence) - 1 + i + 1 + len(fence)
	return source[:end], source[end:]
}
