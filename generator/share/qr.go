package share

import (
	"strings"

	"rsc.io/qr"
)

// quiet is the light border of a code in modules: four, as ISO/IEC 18004 asks (from memory).
const quiet = 4

// QR draws a code of text for a terminal, two rows of modules a line in half blocks. It is dark on light whatever the
// terminal's colours are: the blocks are the light modules on a black ground, both set by escape codes.
func QR(text string) (string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	light := func(x, y int) bool {
		return x < 0 || y < 0 || x >= code.Size || y >= code.Size || !code.Black(x, y)
	}
	var b strings.Builder
	for y := -quiet; y < code.Size+quiet; y += 2 {
		b.WriteString("\x1b[97;40m")
		for x := -quiet; x < code.Size+quiet; x++ {
			// Below the last row the terminal's own ground begins: an odd number of rows leaves the last half dark.
			upper, lower := light(x, y), light(x, y+1) && y+1 < code.Size+quiet
			switch {
			case upper && lower:
				b.WriteRune('█')
			case upper:
				b.WriteRune('▀')
			case lower:
				b.WriteRune('▄')
			default:
				b.WriteRune(' ')
			}
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String(), nil
}
