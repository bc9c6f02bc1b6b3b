package page

import (
	"fmt"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/pack"
)

// assets are the theme's texts.
type assets struct {
	styles   []stylesheet // in the order of the cascade
	ownPages bool         // templates of a firm or a job stand in place of some of the program's
	scripts  []script     // in the order they run
}

func readAssets(look Look, head pack.Head, c *lang.Catalogue) (assets, error) {
	styles, err := readStyles(look)
	if err != nil {
		return assets{}, err
	}
	onPaper(styles, head, c)
	scripts, err := readScripts(look.Theme, c)
	return assets{styles: styles, ownPages: len(look.Own.Templates(nil)) > 0, scripts: scripts}, err
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
