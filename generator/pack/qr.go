package pack

import (
	"fmt"
	"html"
	"strings"

	"rsc.io/qr"

	"lapwork/generator/lang"
)

// qr draws a code of a short text: what a sheet of paper must carry to be found again. Four modules of quiet ground
// stand round it, as ISO/IEC 18004 asks (from memory).
func (a *assembler) qr(text string) Drawing {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		a.fail(fmt.Errorf("code of %q: %w", text, err))
		return Drawing{}
	}
	const quiet = 4
	size := code.Size + 2*quiet
	var path strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			run := 0
			for x+run < code.Size && code.Black(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, run, run)
				x += run
			}
		}
	}
	title := a.say("Code of this sheet")
	svg := fmt.Sprintf(`<svg class="qr" role="img" aria-label="%s" width="%d" height="%d" viewBox="0 0 %d %d"><path d="M0 0h%dv%dh-%dz" fill="#fff"/><path d="%s" fill="#000"/></svg>`,
		html.EscapeString(lang.Plain(title)), size*4, size*4, size, size, size, size, size, path.String())
	return Drawing{SVG: svg, Title: title, Caption: text}
}
