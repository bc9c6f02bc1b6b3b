package main

import (
	"io/fs"
	"path"
	"slices"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/page"
)

// themeTexts are the texts that the templates of the layers' themes say and the program does not, for translators.
func themeTexts(layers []library.Layer, found *diag.List) []library.Texts {
	var out []library.Texts
	known := map[string]bool{}
	for _, g := range lang.Patterns(content.FS, found) {
		for _, item := range g.Items {
			known[item.English] = true
		}
	}
	for _, l := range layers {
		const dir = "theme/templates"
		if info, err := fs.Stat(l.FS, dir); err != nil || !info.IsDir() {
			continue
		}
		at := diag.Pos{File: path.Join(l.Dir, dir)}
		templates, err := fs.Sub(l.FS, dir)
		var texts []string
		if err == nil {
			texts, err = page.Patterns(templates)
		}
		if err != nil {
			found.Faultf(at, "", "%v", err)
			continue
		}
		texts = slices.DeleteFunc(texts, func(text string) bool { return known[text] || lang.Wordless(text) })
		if len(texts) > 0 {
			out = append(out, library.Texts{Group: "interface/theme", At: at, Texts: texts})
		}
	}
	return out
}
