package drawing

import (
	"strings"

	"lapwork/generator/lang"
)

// Advance widths of the printable ASCII characters in thousandths of the text size, of the widest sans common on
// tablets and desktops; measured on a free font of those widths. Go cannot know the reader's font, so boxes take
// a tenth more.
var (
	plainWidths = [95]uint16{318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636,
		636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295,
		656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635,
		550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525,
		636, 337, 636, 838}
	boldWidths = [95]uint16{348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696,
		696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372,
		775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500, 500, 675, 716,
		593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582,
		712, 365, 712, 838}
)

const (
	widthReserve = 1.1 // for fonts a little wider than the table
	otherWidth   = 800 // Latin letters with marks, Greek, Cyrillic, signs
	fullWidth    = 1050
	lineHeight   = 1.25
	longestLine  = 160 // characters; longer text is cut with an ellipsis
)

// TextWidth is the width to reserve for a line of text, in pixels.
func TextWidth(line string, size float64, bold bool) float64 {
	table := &plainWidths
	if bold {
		table = &boldWidths
	}
	var sum float64
	for _, r := range line {
		switch {
		case r == lang.Begin || r == lang.End: // never drawn
		case r >= 32 && r < 127:
			sum += float64(table[r-32])
		case r >= 0x1100:
			sum += fullWidth
		default:
			sum += otherWidth
		}
	}
	return sum / 1000 * size * widthReserve
}

// wrap breaks text into lines no wider than width; a word wider than that is broken inside.
func wrap(text string, size float64, bold bool, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(cutText(text)) {
		joined := strings.TrimSpace(line + " " + word)
		if line != "" && TextWidth(joined, size, bold) > width {
			lines = append(lines, line)
			joined = word
		}
		for TextWidth(joined, size, bold) > width {
			head, tail := breakWord(joined, size, bold, width)
			if tail == "" {
				break
			}
			lines, joined = append(lines, head), tail
		}
		line = joined
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func breakWord(word string, size float64, bold bool, width float64) (head, tail string) {
	runes := []rune(word)
	n := len(runes)
	for n > 1 && TextWidth(string(runes[:n]), size, bold) > width {
		n--
	}
	return string(runes[:n]), string(runes[n:])
}

func cutText(text string) string {
	runes := []rune(text)
	if len(runes) <= longestLine {
		return text
	}
	return string(runes[:longestLine-1]) + "…"
}
