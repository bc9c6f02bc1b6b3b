package page_test

import (
	"encoding/json"
	"testing"

	"github.com/chromedp/chromedp"

	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/page"
	"lapwork/generator/theme"
	"lapwork/themes"
)

// What a browser reads of a style sheet is the same before and after, rule by rule: Chromium's own reading is the measure.
func TestCompactReadsTheSame(t *testing.T) {
	styles, err := theme.ReadStyles(themes.FS)
	if err != nil {
		t.Fatal(err)
	}
	read := func(css string) string {
		text, err := json.Marshal(css)
		if err != nil {
			t.Fatal(err)
		}
		said, err := chromedp.Run(started(t), chromedp.Evaluate[string](reading+"("+string(text)+")"))
		if err != nil {
			t.Fatal(err)
		}
		return said
	}
	for _, f := range append(styles, theme.File{At: "drawings", Text: svg.Base() + svg.Colours(drawing.Inks()) + svg.Paper()}, theme.File{At: "odd", Text: odd}) {
		was, is := read(f.Text), read(page.Compact(f.Text))
		if was == "" || was != is {
			t.Errorf("%s: %s\nbecomes\n%s", f.At, was, is)
		}
	}
}

// reading gives the rules of a style sheet as Chromium reads them: selectors as it writes them; of conditions and values,
// which it keeps as they stand where a variable is in them, without the white space beside marks.
const reading = `(css => {
	const plain = text => text.replace(/\s*([,:{}()])\s*/g, '$1');
	const rule = r => {
		const values = [...r.style || []].map(name => name + ':' + plain(r.style.getPropertyValue(name)) + r.style.getPropertyPriority(name)).join(';');
		return (r.selectorText || plain(r.cssText.split('{')[0])) + '{' + values + [...r.cssRules || []].map(rule).join('') + '}\n';
	};
	const s = new CSSStyleSheet(); s.replaceSync(css); return [...s.cssRules].map(rule).join('');
})`

// odd has what no style sheet of the program has and a firm's may have.
const odd = `.a\: .b, .c\> .d { color: red; ; } /* x */ .e/* y */.f { margin: -1px/* z */+2px; margin: calc( 1px + -2px ) } @media ( width >= 600px ) and (min-height:1px) { .g :not( .h , .i > .j )::after { content: "a  ;  b" ' , ' "\201C " ; } }
@supports ( display : grid ) and ( not ( display : nothing ) ) { a[ href = "x > y" i ] > b:nth-child( 2n + 1 ) { --v: ; --w: { a : b } ; color: var( --v , var( --w , red ) ) !important ; background: url( data:image/png;base64,AA== ) no-repeat , url( "x  y" ) } }
.k { grid-template : "a  b" 1fr / 2fr ; font : 1em / 2 "A , B" , serif }`
