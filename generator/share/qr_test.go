package share_test

import (
	"strings"
	"testing"

	"lapwork/generator/share"

	"rsc.io/qr"
)

// TestQR reads the half blocks back and holds them against the code's modules, with four light ones around.
func TestQR(t *testing.T) {
	const text = "http://192.168.1.20:7483/pair#12345678"
	picture, err := share.QR(text)
	if err != nil {
		t.Fatal(err)
	}
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]bool // light
	for line := range strings.Lines(picture) {
		line = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSuffix(line, "\n"), "\x1b[97;40m"), "\x1b[0m")
		var upper, lower []bool
		for _, r := range line {
			upper, lower = append(upper, r == '█' || r == '▀'), append(lower, r == '█' || r == '▄')
		}
		rows = append(rows, upper, lower)
	}
	size := code.Size + 8
	if len(rows) != size+size%2 {
		t.Fatalf("%d rows for %d modules", len(rows), size)
	}
	for y := range size {
		if len(rows[y]) != size {
			t.Fatalf("row %d has %d modules", y, len(rows[y]))
		}
		for x := range size {
			cx, cy := x-4, y-4
			inside := cx >= 0 && cy >= 0 && cx < code.Size && cy < code.Size
			if want := !inside || !code.Black(cx, cy); rows[y][x] != want {
				t.Fatalf("module %d, %d is light: %v", cx, cy, rows[y][x])
			}
		}
	}
}
