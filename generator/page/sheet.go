package page

import (
	"bytes"
	"errors"
	"html/template"
	"strings"

	"lapwork/generator/lang"
)

// Sheet is a page that needs nothing beside it and records nothing: what a new issue changes, lessons, a survey's report.
type Sheet struct {
	Name string          // of its template
	View any             // what it shows
	Lang *lang.Catalogue // nil: English
}

// sheet is what the template of one sees.
type sheet struct {
	Language string
	Policy   string        // what the page may load: its own style and nothing else
	Style    template.HTML // the style element
	View     any
}

// RenderSheet gives the page as one file.
func RenderSheet(s Sheet, look Look) ([]byte, error) {
	parsed, err := readTemplates(look, index{}, shares{}, s.Lang)
	if err != nil {
		return nil, err
	}
	styles, err := readStyles(look)
	if err != nil {
		return nil, err
	}
	style := assets{styles: styles}.style()
	if strings.Contains(style, "</") {
		return nil, errors.New(`theme: a style contains "</", which may end it inside a page`)
	}
	v := sheet{Language: s.Lang.Tag(), View: s.View, Style: template.HTML("<style>" + style + "</style>"), // the theme's own, as the policy says by its hash
		Policy: "default-src 'none'; style-src " + source(style) + "; img-src data:; form-action 'none'; base-uri 'none'"}
	var b bytes.Buffer
	if err := parsed.ExecuteTemplate(&b, s.Name, v); err != nil {
		return nil, err
	}
	text, _ := foreign(b.String())
	return []byte(text), nil
}
