package jobfile

import (
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

const jobs = "../../testdata/jobs"

// someTables are a few rows of each table, enough for the bad jobs to miss them.
var someTables = Known{
	Substrates: SetOf("timber-planed", "timber-rough", "osb", "screed", "plasterboard", "plaster-gypsum"),
	Components: SetOf("sheet-variable", "sheet-retarder", "tape-single-60"),
	Materials:  SetOf("MAT-01", "MAT-04", "MAT-14"),
	Climates:   SetOf("mannheim", "chicago"),
	Limits:     SetOf("de-plant", "de-natural"),
	Documents:  SetOf("D-01", "D-14"),
	Flags:      map[string][]string{"clamp_batten": nil, "gap_filler": {"none", "strip", "foam"}},
	Settings:   map[string]Range{"lap_mm": {"mm", 80, 150}, "turn_mm": {"mm", 40, 100}},
}

// findings gives every finding about the job in a folder as text.
func findings(dir string) string {
	var found diag.List
	Read(os.DirFS(dir), ".", someTables, &found)
	var b strings.Builder
	for _, f := range found.Sorted() {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

// Each folder bad-* holds a job and, in want.txt, everything that is to be said about it: the words a person reads are
// part of the format.
func TestBadJobs(t *testing.T) {
	dirs, err := filepath.Glob(jobs + "/bad-*")
	if err != nil || len(dirs) < 14 {
		t.Fatalf("%d bad jobs, %v", len(dirs), err)
	}
	for _, dir := range dirs {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			got, file := findings(dir), filepath.Join(dir, "want.txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// A finding about a key stands where the key stands: each key of the one-room job is misspelt in turn.
func TestPositionsPointAtTheWords(t *testing.T) {
	for _, key := range []string{"height", "kind", "substrate", "plan", "storey", "openings", "reveal"} {
		text := strings.Replace(oneRoom, key+":", "x"+key+":", 1)
		hit := false
		_, found := read(text)
		for _, f := range found.Sorted() {
			if strings.Contains(f.Msg, "no key \"x"+key) {
				hit = strings.HasPrefix(strings.Split(text, "\n")[f.Pos.Line-1][f.Pos.Col-1:], "x"+key)
			}
		}
		if !hit {
			t.Errorf("x%s: no finding at its place: %v", key, found.Err())
		}
	}
}

// Columns count bytes from 1 (as compilers count), lines from 1, also after letters of several bytes.
func TestColumnsCountBytes(t *testing.T) {
	_, found := read("näme: {ü: 1}\n")
	pos := diag.Pos{File: "job.yaml", Line: 1, Col: 1}
	if f := found.Sorted()[0]; f.Pos != pos {
		t.Errorf("%+v, want %+v", f.Pos, pos)
	}
	_, found = read("place: {address: Küche, höhe: 3}\n")
	hit := false
	for _, f := range found.Sorted() {
		hit = hit || strings.Contains(f.Msg, "höhe") && f.Pos.Col == 26 // 24 letters before it, ü counts two bytes
	}
	if !hit {
		t.Errorf("no finding at column 26: %v", found.Sorted())
	}
}

func TestReadFirm(t *testing.T) {
	var found diag.List
	if sheet := ReadFirm(os.DirFS(jobs+"/bad-empty"), "bad-empty", Known{}, &found); sheet != nil || found.Err() != nil {
		t.Errorf("a folder without firm.yaml: %v, %v", sheet, found.Err())
	}
	sheet := ReadFirm(os.DirFS("../../content/demo"), "demo", Known{}, &found)
	if found.Err() != nil || sheet == nil || sheet.Name == "" || sheet.Crew != 2 || len(sheet.Components) == 0 {
		t.Fatalf("%+v, %v", sheet, found.Err())
	}
	if got := (job.Firm{Crew: 3}).Over(sheet.Firm); got.Crew != 3 || got.Name != sheet.Name {
		t.Errorf("%+v: the job's crew, the firm's name", got)
	}
	if got := path.Base(sheet.Pos.File); got != "firm.yaml" {
		t.Errorf("position in %s", got)
	}
}
