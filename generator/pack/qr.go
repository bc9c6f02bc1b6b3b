package pack

import (
	"fmt"
	"html"
	"strconv"

	"rsc.io/qr"

	"lapwork/generator/lang"
)

// quiet is the width of the empty rim of a code, in modules.
const quiet = 4

// qr draws a code of a short text: what a sheet of paper must carry to be found again. Four modules of quiet ground
// stand round it, as ISO/IEC 18004 asks (from memory).
func (a *assembler) qr(text string) Drawing {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		a.fail(fmt.Errorf("code of %q: %w", text, err))
		return Drawing{}
	}
	size := code.Size + 2*quiet
	title := a.say("Code of this sheet")
	svg := fmt.Sprintf(`<svg class="qr" role="img" aria-label="%s" width="%d" height="%d" viewBox="0 0 %d %d"><path d="M0 0h%dv%dh-%dz" fill="#fff"/><path d="%s" stroke="#000"/></svg>`,
		html.EscapeString(lang.Plain(title)), size*4, size*4, size, size, size, size, size, modules(code.Size, code.Black))
	return Drawing{SVG: svg, Title: title, Caption: text}
}

// modules is the path of the black modules of a code: along the middle of each row, a stroke of one module wide, with steps
// from run to run.
func modules(size int, black func(x, y int) bool) string {
	path := []byte("M" + strconv.Itoa(quiet) + " " + strconv.Itoa(quiet) + ".5")
	at, row := 0, 0
	for y := range size {
		for x := 0; x < size; x++ {
			run := 0
			for x+run < size && black(x+run, y) {
				run++
			}
			if run == 0 {
				continue
			}
			path = fmt.Appendf(path, "m%d %dh%d", x-at, y-row, run)
			x += run
			at, row = x, y
		}
	}
	return string(path)
}
