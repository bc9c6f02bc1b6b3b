package airtight_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/airtight"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

func parse(t *testing.T, name string) airtight.Input {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(checks, name))
	if err != nil {
		t.Fatal(err)
	}
	var found diag.List
	in := airtight.ParseReadings(name, text, &found)
	for _, f := range found.Sorted() {
		t.Error(f)
	}
	return in
}

// The same series as S02 and S03, written as testers do, give the reference's answers (expected.csv).
func TestReadingsFiles(t *testing.T) {
	for name, want := range map[string]float64{"readings-both.csv": 604.7433, "readings-semicolon.csv": 1256.984} {
		test := analyse(t, parse(t, name), airtight.ISO9972())
		if got := float64(flow(t, test, 50).Value) * 3600; !near(got, want, 1e-4) || test.Verdict != airtight.Valid {
			t.Errorf("%s: q50 %v, %v; want %v", name, got, test.Verdict, want)
		}
	}
}

const good = `volume, 300, m3
inside temperature, 20, C
outside temperature, 20, C
inside humidity, 0, %
outside humidity, 0, %
air pressure, 101325, Pa
zero before, 0, Pa
zero after, 0, Pa
direction, phase, pressure [Pa], flow [m3/h], weight
under, step, -10, 178.7, 1
under, step, -50, 508.6, 1
`

// Every bad row is named with its line and column, all in one run.
func TestReadingsFaults(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"508.6", "5o8.6", `r.csv:11:19: "5o8.6" is no number`},
		{"508.6", "NaN", `"NaN" is no number`},
		{"508.6", "1e999", `"1e999" is no number`},
		{"508.6", "0x1p3", `is no number`},
		{"508.6", "", "r.csv:11:1: the step has no flow"},
		{"-50,", ",", "r.csv:11:1: the row has no pressure"},
		{"-50,", "-5000,", "r.csv:11:14: a pressure of -5000 Pa cannot be"},
		{"under, step, -50", "sideways, step, -50", `"sideways" is no direction`},
		{"under, step, -50", "under, stop, -50", `"stop" is no phase`},
		{"under, step, -50", "under, before, -50", "a zero-flow pressure has a flow"},
		{"508.6, 1", "508.6, -1", "r.csv:11:26: a weight of -1 cannot be"},
		{"508.6, 1", "508.6, 1, 2", "r.csv:11:29: the row has 6 cells, the header 5"},
		{"[m3/h]", "[gal]", `"flow [gal]" has no known unit`},
		{"[m3/h]", "", `"flow" has no known unit`},
		{"weight", "guess", `unknown column "guess"`},
		{"weight", "flow [L/s]", "stands twice"},
		{"flow [m3/h], weight", "weight", `the column "flow" is missing`},
		{"volume, 300, m3", "volume, 300, m2", `r.csv:1:14: "m2" is no unit of volume`},
		{"volume, 300, m3", "volume, 0, m3", "r.csv:1:9: volume of 0 m3 cannot be"},
		{"volume, 300, m3", "volume", "has no value"},
		{"volume, 300, m3", "volume, 300, m3, under", "no direction of volume"},
		{"volume, 300, m3", "volumen, 300, m3", `unknown setting "volumen"`},
		{"zero after", "zero before", "stands twice"},
		{"zero after, 0, Pa\n", "", "the zero-flow pressure after the depressurisation is missing"},
		{"inside temperature, 20, C\n", "", "inside temperature of the depressurisation is missing"},
		{"inside temperature, 20, C", "inside temperature, 20, K", "cannot be"},
		{"inside temperature, 20, C", `inside temperature, 2"0, C`, "breaks the quoting"},
		{good, "", "there is no table of readings"},
		{"under, step, -10, 178.7, 1\nunder, step, -50, 508.6, 1\n", "", "there is no step"},
	} {
		var found diag.List
		airtight.ParseReadings("r.csv", []byte(strings.Replace(good, c.old, c.new, 1)), &found)
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q for %q: %v; want %q", c.new, c.old, err, c.want)
		}
	}
	var found diag.List
	airtight.ParseReadings("r.csv", []byte(strings.NewReplacer("178.7", "x", "508.6", "y", "300", "z").Replace(good)), &found)
	if n := found.Count(diag.Fault); n != 3 {
		t.Errorf("%d faults of 3 in one run: %v", n, found.Err())
	}
}

// What is not stated is taken by name, not in silence.
func TestReadingsAssumptions(t *testing.T) {
	var found diag.List
	text := strings.NewReplacer("inside humidity, 0, %\n", "", "air pressure, 101325, Pa\n", "").Replace(good)
	in := airtight.ParseReadings("r.csv", []byte(text), &found)
	if found.Err() != nil || found.Count(diag.Note) != 2 || in.Series[0].Inside.Humidity != 0.5 || in.Series[0].Barometer != 101325 {
		t.Errorf("%v", found.Sorted())
	}
}

// The unit of the input does not count. Factors: the foot is 0.3048 m by definition; °F and K by their definitions.
func TestUnitsDoNotCount(t *testing.T) {
	write := func(flows [3]string, unit, volume, inside string) string {
		s := strings.NewReplacer("300, m3", volume, "inside temperature, 20, C", "inside temperature, "+inside).Replace(good)
		head, _, _ := strings.Cut(s, "direction,")
		return head + "direction, phase, pressure [Pa], flow [" + unit + "]\nunder, step, -10, " + flows[0] + "\nunder, step, -30, " + flows[1] + "\nunder, step, -50, " + flows[2] + "\n"
	}
	rate := func(text string) float64 {
		var found diag.List
		in := airtight.ParseReadings("r.csv", []byte(text), &found)
		if err := found.Err(); err != nil {
			t.Fatal(err)
		}
		m, err := analyse(t, in, airtight.ISO9972()).Measure(airtight.N50())
		if err != nil {
			t.Fatal(err)
		}
		return float64(m.Value)
	}
	want := rate(write([3]string{"180", "360", "504"}, "m3/h", "300, m3", "20, C"))
	for _, text := range []string{
		write([3]string{"50", "100", "140"}, "L/s", "300, m3", "68, F"),
		write([3]string{"50", "100", "140"}, "l/s", "300, m³", "293.15, K"),
		write([3]string{"0.05", "0.1", "0.14"}, "m3/s", "10594.400016, ft3", "20, °C"),
		write([3]string{"105.9440001644", "211.8880003289", "296.6432004604"}, "cfm", "300, m3", "20, c"),
	} {
		// the cubic feet are written with ten digits
		if got := rate(text); !near(got, want, 1e-8) {
			t.Errorf("n50 %v, want %v:\n%s", got, want, text)
		}
	}
}

// Laws of the reader for any text: no panic, every place lies inside the text, every number is finite, and what it reads
// without a fault can be analysed.
func FuzzReadings(f *testing.F) {
	f.Add(good)
	for _, name := range []string{"readings-both.csv", "readings-semicolon.csv"} {
		text, err := os.ReadFile(filepath.Join(checks, name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, s := range []string{"", "direction\n", "\ufeffdirection;phase;pressure [Pa];flow [cfm]\nover;step;1,5;2\n", "\"", "volume,1e308,m3\n", "a\r\r\n\"b\n\"\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkReader(t, text) })
}

func checkReader(t rapid.TB, text string) {
	var found diag.List
	in := airtight.ParseReadings("r.csv", []byte(text), &found)
	lines := strings.Count(text, "\n") + 1
	for _, f := range found.Sorted() {
		if f.Pos.File != "r.csv" || f.Pos.Line > lines || f.Pos.Col > len(text)+1 || f.Msg == "" {
			t.Fatalf("%+v lies outside the text of %d lines", f, lines)
		}
	}
	if found.Err() != nil {
		return
	}
	test, err := airtight.Analyse(in, airtight.ISO9972(), q.English)
	if err != nil {
		t.Fatalf("read without a fault, yet: %v", err)
	}
	if len(test.Lines) == 0 {
		t.Fatal("read without a fault, yet nothing was measured")
	}
}

// Damaged sheets: lines dropped, doubled and cut keep the laws.
func TestDamagedReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := strings.SplitAfter(good, "\n")
		for range rapid.IntRange(1, 5).Draw(t, "damages") {
			i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
			switch rapid.IntRange(0, 2).Draw(t, "how") {
			case 0:
				lines[i] = ""
			case 1:
				lines[i] += lines[i]
			default:
				cut := rapid.IntRange(0, len(lines[i])).Draw(t, "cut")
				lines[i] = lines[i][:cut] + rapid.SampledFrom([]string{"", ",", ";", "\"", "-", "\n", "x", "0"}).Draw(t, "put") + lines[i][cut:]
			}
		}
		checkReader(t, strings.Join(lines, ""))
	})
}

// The table of limits under the same laws.
func FuzzLimits(f *testing.F) {
	text, err := os.ReadFile(limitsFile)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(text))
	f.Add(strings.Join(airtight.LimitColumns(), ",") + "\na,b,c,n50,at most,1,1/h,x,,required,any,2000,,s,confirmed\n")
	f.Fuzz(func(t *testing.T, text string) {
		var found diag.List
		for _, l := range airtight.ParseLimits("t.csv", []byte(text), &found) {
			if l.ID == "" || l.Comparison != airtight.NotCompared && !(l.Value > 0) || reflect.DeepEqual(l.Source, q.Source{}) {
				t.Fatalf("%+v", l)
			}
		}
		for _, f := range found.Sorted() {
			if f.Pos.Line > strings.Count(text, "\n")+1 {
				t.Fatalf("%+v lies outside the text", f)
			}
		}
	})
}
