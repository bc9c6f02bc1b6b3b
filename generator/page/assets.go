package page

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/pack"
)

// scripts are the theme's scripts in the order they run; the first runs before layout.
var scripts = []string{"head.js", "hash.js", "store.js", "guide.js", "site.js", "pack.js"}

// assets are the theme's texts; scripts in the order of that list.
type assets struct {
	styles   []stylesheet // in the order of the cascade
	ownPages bool         // templates of a firm or a job stand in place of some of the program's
	scripts  []string
}

func readAssets(look Look, head pack.Head, c *lang.Catalogue) (assets, error) {
	styles, err := readStyles(look)
	if err != nil {
		return assets{}, err
	}
	onPaper(styles, head, c)
	a := assets{styles: styles, ownPages: len(look.Own.Templates(nil)) > 0}
	for _, name := range scripts {
		data, err := fs.ReadFile(look.Theme, "site/"+name)
		if err != nil {
			return assets{}, fmt.Errorf("theme: %w", err)
		}
		if bytes.Contains(data, []byte("</")) {
			return assets{}, fmt.Errorf(`theme: %s contains "</", which may end it inside a page`, name)
		}
		a.scripts = append(a.scripts, bare(string(data)))
	}
	texts, err := scriptTexts(a.scripts, c)
	a.scripts[1] = texts + a.scripts[1] // the first after layout, which the others build on
	return a, err
}

// bare leaves out indents and the lines of a script that only remark: whoever changes a theme reads it in its own file. No
// text in a script runs over several lines.
func bare(script string) string {
	var b strings.Builder
	for line := range strings.Lines(script) {
		line = strings.TrimLeft(line, " \t")
		if strings.HasPrefix(line, "//") || strings.TrimSpace(line) == "" {
			continue
		}
		b.WriteString(line)
	}
	return b.String()
}

// marginBoxes prints job and revision in the paper's margin beside the page number, and the firm's line above.
func marginBoxes(head pack.Head) string {
	boxes := "@bottom-left{content:" + cssString(head.Job+" · "+head.Revision) + "}"
	if head.Footer != "" {
		boxes += "@top-right{content:" + cssString(head.Footer) + "}"
	}
	return "@page{" + boxes + "}\n"
}

// paperWords are what stands beside the boxes on paper where no script has put controls.
func paperWords(c *lang.Catalogue) string {
	word := func(pattern string) string { return cssString(lang.Plain(pattern)) }
	return ":root{--yes:" + word(c.Say("yes")) + ";--no:" + word(c.Say("no")) + ";--reading:" + word(c.Say("reading")) + ";--signature:" + word(c.Say("signature")) +
		";--hand:" + word(c.Say("name, date")+" ____________") + "}\n"
}

func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r < 0x20 || strings.ContainsRune(`"\<>`, r) {
			fmt.Fprintf(&b, `\%x `, r)
		} else {
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
