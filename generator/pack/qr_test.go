package pack

import (
	"fmt"
	"strings"
	"testing"

	"rsc.io/qr"
)

// TestCodeIsDrawnModuleByModule reads the path back: what it strokes are the black modules of the code, each once.
func TestCodeIsDrawnModuleByModule(t *testing.T) {
	for _, text := range []string{"A6", "26-014 rooms/C1.html 1-a91561417773", strings.Repeat("signoff/B2 ", 20)} {
		code, err := qr.Encode(text, qr.M)
		if err != nil {
			t.Fatal(err)
		}
		left := map[[2]int]bool{}
		for y := range code.Size {
			for x := range code.Size {
				if code.Black(x, y) {
					left[[2]int{x, y}] = true
				}
			}
		}
		path, ok := strings.CutPrefix(modules(code.Size, code.Black), "M4 4.5m")
		if !ok {
			t.Fatalf("%q does not begin at the first module", text)
		}
		x, y := 0, 0
		for _, step := range strings.Split(path, "m") {
			var dx, dy, run int
			if n, err := fmt.Sscanf(step, "%d %dh%d", &dx, &dy, &run); n != 3 {
				t.Fatalf("step %q: %v", step, err)
			}
			x, y = x+dx, y+dy
			for range run {
				if !left[[2]int{x, y}] {
					t.Fatalf("%q: module %d, %d is white or drawn twice", text, x, y)
				}
				delete(left, [2]int{x, y})
				x++
			}
		}
		if len(left) > 0 {
			t.Errorf("%q: %d modules are missing", text, len(left))
		}
	}
}
