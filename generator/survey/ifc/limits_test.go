package ifc

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

func readText(t testing.TB, text string) *survey.Building {
	t.Helper()
	b, err := Read("m.ifc", strings.NewReader(text), int64(len(text)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// FuzzBuilding: whatever the records say, making a building of them does not panic, ends soon, and every position lies in
// the file. Circles of references and mapped items that nest are among the seeds.
func FuzzBuilding(f *testing.F) {
	paths, err := filepath.Glob(filepath.Join(ownFiles, "*.ifc"))
	if err != nil || len(paths) == 0 {
		f.Fatal("no files", err)
	}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(b))
	}
	f.Add(circular)
	f.Add(nested(2))
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		b, err := Read("f.ifc", strings.NewReader(text), int64(len(text)))
		if err != nil {
			return
		}
		if d := time.Since(start); d > 10*time.Second {
			t.Fatalf("%d bytes took %v", len(text), d)
		}
		for _, x := range b.Found.Sorted() {
			if !inside(x.Pos, text) {
				t.Fatalf("%v lies outside", x)
			}
		}
	})
}

const circular = head + `#1=IFCLOCALPLACEMENT(#2,$);
#2=IFCLOCALPLACEMENT(#1,$);
#3=IFCBOOLEANRESULT(.UNION.,#3,#4);
#4=IFCMAPPEDITEM(#5,$);
#5=IFCREPRESENTATIONMAP($,#6);
#6=IFCSHAPEREPRESENTATION($,'Body','CSG',(#3,#4));
#7=IFCPRODUCTDEFINITIONSHAPE($,$,(#6));
#8=IFCSPACE('0000000000000000000008',$,'1',$,$,#1,#7,$,$,$,$);
#9=IFCRELAGGREGATES('0000000000000000000009',$,$,$,#8,(#8));
#10=IFCPROJECT('0000000000000000000010',$,'p',$,$,$,$,$,#11);
#11=IFCUNITASSIGNMENT((#12));
#12=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'x',#13);
#13=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(2.),#12);
#14=IFCCOMPOSITECURVE((#15),.F.);
#15=IFCCOMPOSITECURVESEGMENT(.C.,.T.,#14);
#16=IFCDERIVEDPROFILEDEF(.AREA.,$,#16,$,$);
#17=IFCEXTRUDEDAREASOLID(#16,$,$,1.);
ENDSEC;
`

// nested is a file in which each of n maps uses the one below ten times: 10^n boxes.
func nested(n int) string {
	var b strings.Builder
	b.WriteString(head + "#1=IFCEXTRUDEDAREASOLID(#2,$,$,1.);\n#2=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,1.,1.);\n")
	item := "#1"
	for i := range n {
		id := 100 * (i + 1)
		fmt.Fprintf(&b, "#%d=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s));\n#%d=IFCREPRESENTATIONMAP($,#%d);\n", id, item, id+1, id)
		var items []string
		for j := range 10 {
			fmt.Fprintf(&b, "#%d=IFCMAPPEDITEM(#%d,$);\n", id+10+j, id+1)
			items = append(items, fmt.Sprintf("#%d", id+10+j))
		}
		item = strings.Join(items, ",")
	}
	fmt.Fprintf(&b, "#90=IFCSHAPEREPRESENTATION($,'Body','x',(%s));\n#91=IFCPRODUCTDEFINITIONSHAPE($,$,(#90));\n#92=IFCSPACE('0000000000000000000092',$,'1',$,$,$,#91,$,$,$,$);\nENDSEC;\n", item)
	return b.String()
}

// References in a circle and a few lines that ask for 10^9 boxes end with a finding.
func TestHostileReferences(t *testing.T) {
	for name, text := range map[string]string{"circular": circular, "nested": nested(9)} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			b := readText(t, text)
			if d := time.Since(start); d > 5*time.Second {
				t.Errorf("took %v", d)
			}
			if b.Found.Count(diag.Open) == 0 {
				t.Errorf("no finding: %v", b.Found.Sorted())
			}
		})
	}
}

// Everything that is left out of a body is named by record and line.
func TestUnreadIsNamed(t *testing.T) {
	b := readText(t, head+`#1=IFCSURFACECURVESWEPTAREASOLID($,$,$,0.,1.,$);
#2=IFCSHAPEREPRESENTATION($,'Body','AdvancedSweptSolid',(#1));
#3=IFCPRODUCTDEFINITIONSHAPE($,$,(#2));
#4=IFCSPACE('0000000000000000000004',$,'7',$,$,$,#3,$,$,$,$);
`)
	var got []string
	for _, f := range b.Found.Sorted() {
		if f.Level == diag.Open && f.Pos.Line >= 6 {
			got = append(got, fmt.Sprintf("%d %s", f.Pos.Line, f.Msg))
		}
	}
	want := []string{"6 #1 IFCSURFACECURVESWEPTAREASOLID: this form is not read",
		`9 #4 IFCSPACE: space "7" has no body that can be read; its form comes from its boundaries, or from what is stated`}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got %q", got)
	}
}

// big is a file of about n bytes with the mix of records that models have: mostly points, loops and faces.
func big(n int) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for id := 1; b.Len() < n; id += 4 {
		fmt.Fprintf(&b, "#%d=IFCCARTESIANPOINT((%d.25,%d.,0.));\n#%d=IFCPOLYLOOP((#%d,#%d,#%d));\n#%d=IFCFACEOUTERBOUND(#%d,.T.);\n#%d=IFCFACE((#%d));\n",
			id, id, id%977, id+1, id, id, id, id+2, id+1, id+3, id+2)
	}
	b.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return b.Bytes()
}

// Reading allocates less than four times the file, all blocks together, so that it never holds more than that.
func TestMemory(t *testing.T) {
	text := big(4 << 20)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var found diag.List
	st, err := load("big.ifc", bytes.NewReader(text), &found)
	runtime.ReadMemStats(&after)
	if err != nil || found.Count(diag.Fault) > 0 || st.n < 50_000 {
		t.Fatal(err, st.n, found.Sorted())
	}
	if share := float64(after.TotalAlloc-before.TotalAlloc) / float64(len(text)); share > 4 {
		t.Errorf("reading allocates %.1f times the file", share)
	} else {
		t.Logf("%.2f times the file", share)
	}
}

func BenchmarkLoad(b *testing.B) {
	text := big(4 << 20)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		var found diag.List
		if _, err := load("big.ifc", bytes.NewReader(text), &found); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSample reads the largest sample to the end, with bodies, boundaries and openings.
func BenchmarkSample(b *testing.B) {
	data, err := os.ReadFile(filepath.Join(samples(b), "institute_82_spaces.ifczip"))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(2836276) // unpacked
	for b.Loop() {
		if _, err := Read("s.ifczip", bytes.NewReader(data), int64(len(data))); err != nil {
			b.Fatal(err)
		}
	}
}

// A source that fails is an error, not a finding.
func TestBrokenSource(t *testing.T) {
	if _, err := Read("m.ifc", broken{}, 100); err == nil {
		t.Error("no error")
	}
}

type broken struct{}

func (broken) ReadAt([]byte, int64) (int, error) { return 0, io.ErrClosedPipe }
