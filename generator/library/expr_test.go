package library

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
)

// compileHere compiles against the built-in names at a known place.
func compileHere(t testing.TB, source string) (Formula, []diag.Finding) {
	t.Helper()
	var found diag.List
	f, _ := compiler{builtin(t).flagIndex(), &found}.formula(source, diag.Pos{File: "a.md", Line: 7, Col: 11})
	return f, found.Sorted()
}

func TestExpressionFindingsPointIntoTheExpression(t *testing.T) {
	for _, c := range []struct {
		source string
		col    int // 11 + byte offset
		msg    string
		hint   string
	}{
		{"lenght_m*2", 11, `unknown name "lenght_m"`, `did you mean "length_m"?`},
		{"2*lap_m", 13, `unknown name "lap_m"`, `did you mean "lap_mm"?`},
		{"count*(flag_yes)", 18, `unknown name "flag_yes"`, ""},
		{"sub.bead_facter*2", 15, "has no field bead_facter", ""},
		{`edge * 2`, 16, "invalid operation", ""},
		{"length_m +", 21, "unexpected token EOF", ""},
		{"floor(length_m)", 11, `unknown name "floor"`, ""},
		{"length_m ?? 2", 20, `operator "??" is not part`, ""},
		{`edge`, 11, "expected a number", ""},
	} {
		_, found := compileHere(t, c.source)
		if len(found) == 0 {
			t.Errorf("%s: no finding", c.source)
			continue
		}
		f := found[0]
		if !strings.Contains(f.Msg, c.msg) || !strings.Contains(f.Hint, c.hint) {
			t.Errorf("%s: %q, hint %q", c.source, f.Msg, f.Hint)
		}
		if f.Pos.Line != 7 || f.Pos.Col < 11 || f.Pos.Col > 11+len(c.source) {
			t.Errorf("%s: reported at %v, outside the expression", c.source, f.Pos)
		}
		if c.msg != "" && f.Pos.Col != c.col && !strings.Contains(c.msg, "expected") {
			t.Errorf("%s: reported at column %d, want %d", c.source, f.Pos.Col, c.col)
		}
	}
	if _, found := compileHere(t, "lenght_m*heigth_m"); len(found) != 2 {
		t.Errorf("two unknown names make %d findings", len(found))
	}
}

func TestNoQuantityIsAnError(t *testing.T) {
	l := builtin(t)
	env := l.Env(&junction.Record{Count: 1}, Facts{})
	for _, source := range []string{"count/length_m", "length_m/length_m", "length_m-1", "0-count"} {
		f, found := compileHere(t, source)
		if len(found) > 0 {
			t.Fatal(found)
		}
		if x, err := f.Amount(env); !errors.Is(err, ErrAmount) || !strings.Contains(err.Error(), "a.md:7:11") {
			t.Errorf("%s = %g, %v", source, x, err)
		}
	}
}

// Against integer arithmetic: pieces of p millimetres in a run of n, computed in metres as the formulas do.
func TestRoundUpCountsExactFits(t *testing.T) {
	l := builtin(t)
	f, found := compileHere(t, "ceil(length_m/(staple_pitch_mm/1000))")
	if len(found) > 0 {
		t.Fatal(found)
	}
	rapid.Check(t, func(t *rapid.T) {
		run, pitch := rapid.IntRange(0, 100_000).Draw(t, "run"), rapid.IntRange(10, 3000).Draw(t, "pitch")
		env := l.Env(&junction.Record{Length: q.MM(run).Metres()}, Facts{Settings: []job.Setting{{Name: "staple_pitch_mm", Value: float64(pitch)}}})
		got, err := f.Amount(env)
		if want := float64((run + pitch - 1) / pitch); err != nil || got != want {
			t.Fatalf("ceil(%d/%d) = %g, want %g, %v", run, pitch, got, want, err)
		}
	})
	// 3.45/0.15 and its like come out a hair above the whole number: plain ceil would add a piece.
	miscounts := 0
	for n := 1; n <= 100; n++ {
		if math.Ceil(float64(n*150)/1000/(150.0/1000)) != float64(n) {
			miscounts++
		}
	}
	if miscounts == 0 {
		t.Error("plain ceil counts right in metres now; the language needs none of its own")
	}
}

func TestSettingsOverride(t *testing.T) {
	l := builtin(t)
	room := &job.Room{ID: "B2"}
	r := &junction.Record{ID: "B2-W3+C1", Room: room, Where: []string{"B2-W3", "B2-C1"}}
	given := []job.Setting{{Name: "lap_mm", Scope: "B2-W3", Value: 150}, {Name: "lap_mm", Value: 80},
		{Name: "lap_mm", Scope: "B2", Value: 120}, {Name: "lap_mm", Scope: "B3-W1", Value: 90}}
	for n, want := range map[int]float64{0: 100, 1: 150, 2: 150, 3: 150, 4: 150} {
		if env := l.Env(r, Facts{Settings: given[:n]}); env.LapMM != want {
			t.Errorf("with %d settings lap_mm is %g, want %g", n, env.LapMM, want)
		}
	}
	if env := l.Env(r, Facts{Settings: given[1:]}); env.LapMM != 120 {
		t.Errorf("room over job: %g", env.LapMM)
	}
	for _, c := range []struct {
		room job.RoomID
		surf job.SurfaceID
		want float64
	}{{"", "", 80}, {"B2", "", 120}, {"B2", "B2-W3", 150}, {"B3", "B3-W1", 90}, {"B3", "B3-W2", 80}} {
		if got, ok := l.Setting("lap_mm", given, c.room, c.surf); !ok || got != c.want {
			t.Errorf("lap_mm at %s %s = %g, want %g", c.room, c.surf, got, c.want)
		}
	}
	if _, ok := l.Setting("length_m", given, "", ""); ok {
		t.Error("a measure is no setting")
	}
}

func TestFlagAnswersTakeTheNarrowestScope(t *testing.T) {
	l := builtin(t)
	r := &junction.Record{ID: "B2-P02", Room: &job.Room{ID: "B2"}, Object: "B2-P02", Where: []string{"B2-W3"}}
	env := l.Env(r, Facts{Flags: []job.FlagAnswer{{Flag: "no_collar", Scope: "B2-P02", Value: "yes"},
		{Flag: "no_collar", Value: "no"}, {Flag: "rod", Scope: "B3", Value: "yes"}, {Flag: "gap_filler", Value: "foam"}}})
	if !env.FlagYes["no_collar"] || env.FlagYes["rod"] || env.FlagWord["gap_filler"] != "foam" {
		t.Errorf("answers: %v %v", env.FlagYes, env.FlagWord)
	}
	if env.unanswered["no_collar"] || !env.unanswered["rod"] {
		t.Errorf("open questions: %v", env.unanswered)
	}
}
