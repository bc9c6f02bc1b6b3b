package ifc

import (
	"strings"
	"testing"

	"lapwork/generator/diag"
)

const head = "ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"

func loadText(t testing.TB, s string) (*store, *diag.List) {
	t.Helper()
	var found diag.List
	st, err := load("m.ifc", strings.NewReader(s), &found)
	if err != nil {
		t.Fatal(err)
	}
	return st, &found
}

// The syntax of records, from ISO 10303-21 (clear text encoding): blanks, line breaks and comments between any two tokens;
// $ and *; typed values; large numbers.
func TestRecords(t *testing.T) {
	st, found := loadText(t, head+"#1=IFCA($,*,.T.,'it''s',(1,-2.5,1.E-3),#268437016);/* one\n; #9=IFCX(); */ # 2\n;\n"+
		"#2\n=\nIFCB (IFCLABEL('x;)#') , (\n(#1),( ) ) ,\"0AF\");#268437016=ifcc();\nENDSEC;\nEND-ISO-10303-21;\n")
	if n := st.n; n != 3 {
		t.Fatalf("%d records, want 3: %v", n, found.Sorted())
	}
	a, _ := st.get(value{kind: ref, id: 1})
	if a.kind != "IFCA" || a.arg(0).kind != null || a.arg(1).kind != null || a.arg(2).word != "T" || a.arg(3).word != "it's" ||
		a.arg(4).at(1).num != -2.5 || a.arg(4).at(2).num != 0.001 || a.arg(5).id != 268437016 {
		t.Errorf("%+v", a)
	}
	b, _ := st.get(value{kind: ref, id: 2})
	if b.arg(0).kind != typed || b.arg(0).plain().word != "x;)#" || b.arg(1).at(0).at(0).id != 1 || len(b.arg(1).items) != 2 || b.arg(2).word != "0AF" {
		t.Errorf("%+v", b)
	}
	if b.at != (place{9, 1}) {
		t.Errorf("#2 starts at %v", b.at)
	}
	if c, ok := st.get(a.arg(5)); !ok || c.kind != "IFCC" || c.args != nil {
		t.Errorf("%+v %v", c, ok)
	}
	if got := found.Sorted(); len(got) != 1 || got[0].Pos.Line != 7 {
		t.Errorf("blank inside # 2: %v", got)
	}
}

// Every finding names the place of the first byte that does not fit, and the records around are read.
func TestSyntaxFindings(t *testing.T) {
	for _, c := range []struct {
		name, data string
		line, col  int
		level      diag.Level
		records    int
	}{
		{"stray text behind a statement", "#1=IFCA(1.);\t*//*\n#2=IFCA(2.);\n", 6, 14, diag.Open, 2},
		{"two values without comma", "#1=IFCA(1. 2.);\n#2=IFCA(2.);\n", 6, 12, diag.Fault, 1},
		{"comma without value", "#1=IFCA(1.,,2.);\n#2=IFCA(2.);\n", 6, 12, diag.Fault, 1},
		{"no number", "#1=IFCA(1.2.3);\n#2=IFCA(2.);\n", 6, 9, diag.Fault, 1},
		{"bracket too many", "#1=IFCA(1.));\n#2=IFCA(2.);\n", 6, 12, diag.Fault, 1},
		{"string without end", "#2=IFCA(2.);\n#1=IFCA('abc);\n", 7, 9, diag.Fault, 1},
		{"comment without end", "#2=IFCA(2.);\n  /* #1=IFCA(1.);\n", 7, 3, diag.Fault, 1},
		{"cut off", "#2=IFCA(2.);\n#1=IFCA(1.,", 7, 1, diag.Fault, 1},
		{"several types", "#1=(IFCA(1.)IFCB(2.));\n#2=IFCA(2.);\n", 6, 1, diag.Fault, 1},
		{"number twice", "#2=IFCA(1.);\n#2=IFCA(2.);\n", 7, 1, diag.Open, 1},
		{"semicolon in the string of a bad record", "#1=IFCA(,';');\n#2=IFCA(2.);\n", 6, 9, diag.Fault, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			st, found := loadText(t, head+c.data)
			got := found.Sorted()
			if len(got) == 0 || got[0].Pos != (diag.Pos{File: "m.ifc", Line: c.line, Col: c.col}) || got[0].Level != c.level {
				t.Errorf("findings %v", got)
			}
			if st.n != c.records {
				t.Errorf("%d records, want %d", st.n, c.records)
			}
		})
	}
}

func TestNoStepFile(t *testing.T) {
	for _, s := range []string{"", "<xml/>", "PK", "\x00\x01"} {
		if _, found := loadText(t, s); found.Count(diag.Fault) != 1 {
			t.Errorf("%q: %v", s, found.Sorted())
		}
	}
	_, found := loadText(t, head+strings.Repeat("?\nA;", 5000))
	if n := len(found.Sorted()); n > maxFindings {
		t.Errorf("%d findings", n)
	}
}

// Escapes: the forms of ISO 10303-21, the sample texts from public files (see the package's sample test) and U+1F3E0 as the
// pair D83C DFE0, from the Unicode standard's rule for surrogates.
func TestDecode(t *testing.T) {
	for in, want := range map[string]string{
		`T\S\|r-012`:                             "Tür-012",
		`\X2\04230440043E04320435043D044C\X0\ 1`: "Уровень 1",
		`\X2\D83CDFE0\X0\`:                       "🏠",
		`\X4\0001F3E0\X0\!`:                      "🏠!",
		`\X\FCber`:                               "über",
		`\PE\\S\0\S\1`:                           "АБ",
		`S:\\[IFC]\\A`:                           `S:\[IFC]\A`,
		`it''s`:                                  "it's",
		`\X2\04Z0\X0\`:                           `\X2\04Z0\X0\`,
		`\X2\0430`:                               `\X2\0430`,
		"T\xfcr":                                 "Tür",
		"Tür":                                    "Tür",
		`end\`:                                   `end\`,
	} {
		if got := decode([]byte(in)); got != want {
			t.Errorf("%s: %q, want %q", in, got, want)
		}
	}
}
