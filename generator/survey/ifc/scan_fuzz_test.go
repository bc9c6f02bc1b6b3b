package ifc

import (
	"strings"
	"testing"
	"time"

	"lapwork/generator/diag"
)

// inside says whether a position lies in the text; its end counts.
func inside(p diag.Pos, text string) bool {
	if p.Line == 0 {
		return p.Col == 0
	}
	line, col := 1, 1
	for i := 0; ; i++ {
		if line == p.Line && col == p.Col {
			return true
		}
		if i == len(text) {
			return false
		}
		switch c := text[i]; {
		case c == '\n' && i > 0 && text[i-1] == '\r':
		case c == '\n' || c == '\r':
			line, col = line+1, 1
		default:
			col++
		}
	}
}

// FuzzRead: reading never panics, takes bounded time and memory, and every position lies inside the file; what is no STEP
// file is a fault.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"", head, head + "#1=IFCA($,*,.T.,'it''s',(1,-2.5,1.E-3));", head + "#1=IFCA(1.);\t*//*\n#2=IFCA(2.);",
		head + "#1=IFCA('\\X2\\D83CDFE0\\X0\\\\S\\|\\PE\\');", head + "#1=IFCCARTESIANPOINT((0.,1.));\r\n#2=IFCLOCALPLACEMENT(#2,#1);",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var found diag.List
		start := time.Now()
		st, err := load("f.ifc", strings.NewReader(text), &found)
		if err != nil {
			t.Fatal(err)
		}
		if d := time.Since(start); d > 2*time.Second {
			t.Fatalf("%d bytes took %v", len(text), d)
		}
		kept := 0
		for i := range st.n {
			kept += int(st.entry(i).size)
			st.record(i)
		}
		if kept > len(text) {
			t.Fatalf("%d bytes kept of %d", kept, len(text))
		}
		for _, x := range found.Sorted() {
			if !inside(x.Pos, text) {
				t.Fatalf("%v lies outside", x)
			}
		}
		if !strings.Contains(strings.ToUpper(text), "ISO-10303-21") && found.Count(diag.Fault) == 0 {
			t.Fatal("no STEP file, and no fault")
		}
	})
}
