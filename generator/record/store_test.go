package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwork/generator/diag"
)

// made is a small chain of one tablet with a photo. Its bytes are any, since the store does not look at pictures.
func made(t *testing.T, dev, n int) Export {
	t.Helper()
	data := fmt.Appendf(nil, "photo of %d", dev)
	said := []Line{{Key: "A1/QA-17/0#title", Text: fmt.Sprintf("Lap %d", dev)}}
	e := Export{Pack: "p", Photos: map[string][]byte{digest(data): data}, Words: map[string][]Line{Seal(said): said}}
	prev := ""
	for i := range n {
		r := Record{V: 1, ID: fmt.Sprintf("%012x%012x", dev, i), Pack: "p", Rev: "1", Lang: "en", Dev: fmt.Sprintf("%024x", dev), Seq: i + 1,
			Prev: prev, At: "2026-11-25T05:00:00Z", Kind: Tick, Check: fmt.Sprintf("A1/QA-17/%d", i), Seal: Seal(said), Value: "yes"}
		if i == n-1 {
			r.Kind, r.Value = Photo, digest(data)
		}
		sum, err := r.Sum()
		if err != nil {
			t.Fatal(err)
		}
		r.Hash, prev = sum, sum
		e.Records = append(e.Records, r)
	}
	return e
}

// files reads a folder as path to content, without what was never acknowledged.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.Contains(path, unfinishedDir) {
			return err
		}
		data, err := os.ReadFile(path)
		rel, relErr := filepath.Rel(dir, path)
		out[filepath.ToSlash(rel)] = string(data)
		return errors.Join(err, relErr)
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return out
}

func TestAddThenLoad(t *testing.T) {
	dir := t.TempDir()
	e := made(t, 1, 4)
	kept, err := At(dir).Add(e)
	if err != nil || len(kept.Records) != 4 || kept.Photos != 1 || kept.Known != 0 {
		t.Fatalf("kept %+v, %v", kept, err)
	}
	before := files(t, dir)
	kept, err = At(dir).Add(e)
	if err != nil || len(kept.Records) != 0 || kept.Photos != 0 || kept.Known != 4 {
		t.Errorf("again: kept %+v, %v", kept, err)
	}
	if after := files(t, dir); fmt.Sprint(after) != fmt.Sprint(before) {
		t.Errorf("adding again changed the folder: %v", after)
	}
	j, found := Load(os.DirFS(dir))
	if len(found.Sorted()) != 0 || len(j.Records) != 4 || len(j.Photos) != 1 || len(j.Statements[e.Records[0].Seal]) != 1 {
		t.Errorf("loaded %d records, %d photos, %d statements: %v", len(j.Records), len(j.Photos), len(j.Statements), found.Sorted())
	}
	// A person reads a tablet's day by putting its files behind one another.
	if text := before["records/tablets/000000000000000000000001/000001-"+e.Records[0].Hash+".json"]; strings.Count(text, "\n") != 1 || !strings.HasSuffix(text, "}\n") {
		t.Errorf("a record's file is not one line: %q", text)
	}
}

// TestKilledAtAnyStep stops for good at every step of the disk in turn, as a kill does: nothing runs after it, clean-up
// neither. What was added before stays, every file is whole, and adding again completes it to the same bytes.
func TestKilledAtAnyStep(t *testing.T) {
	killed := errors.New("killed")
	first, second := made(t, 1, 2), made(t, 2, 4)
	reference := t.TempDir()
	for _, e := range []Export{first, second} {
		if _, err := Unforced(reference).Add(e); err != nil {
			t.Fatal(err)
		}
	}
	want := files(t, reference)
	for at := 1; ; at++ {
		dir := t.TempDir()
		if _, err := Unforced(dir).Add(first); err != nil {
			t.Fatal(err)
		}
		before := files(t, dir)
		s, left := Unforced(dir), at
		lock := make(chan struct{}, 1) // files are written several at once
		s.step = func(string) error {
			lock <- struct{}{}
			defer func() { <-lock }()
			if left--; left <= 0 {
				return killed
			}
			return nil
		}
		_, err := s.Add(second)
		if err == nil {
			if at < 20 {
				t.Fatalf("only %d steps", at)
			}
			return
		}
		now := files(t, dir)
		for path, text := range before {
			if now[path] != text {
				t.Fatalf("step %d: %s was lost", at, path)
			}
		}
		for path, text := range now {
			if want[path] != text {
				t.Fatalf("step %d: %s is not whole: %q", at, path, text)
			}
		}
		if _, found := Load(os.DirFS(dir)); found.Count(diag.Fault) > 0 {
			t.Fatalf("step %d: %v", at, found.Sorted())
		}
		if _, err := Unforced(dir).Add(second); err != nil {
			t.Fatal(err)
		}
		if again := files(t, dir); fmt.Sprint(again) != fmt.Sprint(want) {
			t.Fatalf("step %d: completed to %v", at, again)
		}
		if err := Unforced(dir).Sweep(time.Now().Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
		if rest, err := os.ReadDir(filepath.Join(dir, Folder, unfinishedDir)); err != nil || len(rest) > 0 {
			t.Fatalf("step %d: swept, and left %v, %v", at, rest, err)
		}
	}
}

// A failed disk, unlike a kill, leaves nothing half written behind.
func TestFailedWriteLeavesNothing(t *testing.T) {
	for _, name := range []string{"write aside", "half a file", "force file", "move in"} {
		dir := t.TempDir()
		s := Unforced(dir)
		s.step = func(step string) error {
			if step == name {
				return errors.New("disk full")
			}
			return nil
		}
		if _, err := s.Add(made(t, 1, 300)); err == nil || strings.Count(err.Error(), "disk full") != 1 {
			t.Errorf("%s: %v, want it said once", name, err)
		}
		rest, err := os.ReadDir(filepath.Join(dir, Folder, unfinishedDir))
		if err != nil || len(rest) > 0 {
			t.Errorf("%s: left %v, %v", name, rest, err)
		}
	}
}

// A file that the disk spoilt is never written over: it is set aside, and the true one takes its place.
func TestDamagedFileIsSetAside(t *testing.T) {
	dir := t.TempDir()
	e := made(t, 1, 3)
	if _, err := Unforced(dir).Add(e); err != nil {
		t.Fatal(err)
	}
	want := files(t, dir)
	spoilt := filepath.Join(dir, Folder, recordPath(e.Records[1]))
	if err := os.WriteFile(spoilt, []byte(`{"v":1,`), 0o644); err != nil {
		t.Fatal(err)
	}
	j, found := Load(os.DirFS(dir))
	if len(j.Records) != 2 || found.Count(diag.Open) != 2 || found.Err() != nil { // the file, and the gap it leaves
		t.Errorf("loaded %d records: %v", len(j.Records), found.Sorted())
	}
	if _, err := Unforced(dir).Add(e); err != nil {
		t.Fatal(err)
	}
	got := files(t, dir)
	for path, text := range want {
		if got[path] != text {
			t.Errorf("%s is %q", path, got[path])
		}
		delete(got, path)
	}
	if len(got) != 1 {
		t.Errorf("beside the true files stand %v, want the spoilt one", got)
	}
	if j, found := Load(os.DirFS(dir)); len(j.Records) != 3 || found.Count(diag.Open) != 0 || found.Count(diag.Note) != 1 {
		t.Errorf("loaded %d records: %v", len(j.Records), found.Sorted())
	}
}

// Load leaves out what was tampered with and says so, never as a fault.
func TestLoadFindings(t *testing.T) {
	e := made(t, 1, 3)
	second := filepath.Join(Folder, recordPath(e.Records[1]))
	for _, c := range []struct {
		name, want string
		records    int
		spoil      func(dir string) error
	}{
		{"a value", "was changed", 2, func(dir string) error { return rewrite(filepath.Join(dir, second), `"yes"`, `"no"`) }},
		{"a name", "its name does not fit", 2, func(dir string) error {
			return os.Rename(filepath.Join(dir, second), filepath.Join(dir, strings.Replace(second, "000002", "000009", 1)))
		}},
		{"an added word", "unknown field", 2, func(dir string) error { return rewrite(filepath.Join(dir, second), `{`, `{"approved":"yes",`) }},
		{"two in a file", "more than one", 2, func(dir string) error { return rewrite(filepath.Join(dir, second), "\n", "\n{}") }},
		{"a received record taken out", "no longer here", 2, func(dir string) error {
			return os.Remove(filepath.Join(dir, Folder, recordPath(e.Records[2])))
		}},
		{"a photo taken out", "1 photos are recorded and not here", 3, func(dir string) error {
			return os.RemoveAll(filepath.Join(dir, Folder, photosDir))
		}},
		{"a stranger's file", "no file of the records", 3, func(dir string) error {
			return os.WriteFile(filepath.Join(dir, Folder, tabletsDir, "letter.txt"), nil, 0o644)
		}},
		{"a statement", "not the words of that seal", 3, func(dir string) error {
			return rewrite(filepath.Join(dir, Folder, statementsDir, Seal(words)+".json"), "Lap", "Gap")
		}},
	} {
		dir := t.TempDir()
		s := Unforced(dir)
		_, err := s.Add(e)
		err = errors.Join(err, s.AddStatement(words), s.AddReceipts(time.Unix(1_800_000_000, 0), "192.168.1.20", e.Records), c.spoil(dir))
		if err != nil {
			t.Fatal(err)
		}
		j, found := Load(os.DirFS(dir))
		var texts []string
		for _, f := range found.Sorted() {
			texts = append(texts, f.String())
		}
		if len(j.Records) != c.records || found.Err() != nil || !strings.Contains(strings.Join(texts, "\n"), c.want) {
			t.Errorf("%s: %d records, want %d; %q in %v", c.name, len(j.Records), c.records, c.want, texts)
		}
	}
}

var words = []Line{{Key: "A1/QA-17/1#title", Text: "Lap"}, {Key: "A1/QA-17/1#accept", Text: "100", Unit: "mm"}}

func rewrite(file, old, new string) error {
	data, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	text := strings.Replace(string(data), old, new, 1)
	if text == string(data) {
		return errors.New("nothing was changed in " + file)
	}
	return os.WriteFile(file, []byte(text), 0o644)
}

func TestLoadOfNothing(t *testing.T) {
	if j, found := Load(os.DirFS(t.TempDir())); len(j.Records) != 0 || len(found.Sorted()) != 0 {
		t.Errorf("%+v %v", j, found.Sorted())
	}
}

func TestCheckPhotos(t *testing.T) {
	dir := t.TempDir()
	if _, err := Unforced(dir).Add(made(t, 1, 2)); err != nil {
		t.Fatal(err)
	}
	j, _ := Load(os.DirFS(dir))
	if found := CheckPhotos(os.DirFS(dir), j); len(found.Sorted()) != 0 {
		t.Errorf("%v", found.Sorted())
	}
	for _, path := range j.Photos {
		if err := rewrite(filepath.Join(dir, path), "photo", "phono"); err != nil {
			t.Fatal(err)
		}
	}
	if found := CheckPhotos(os.DirFS(dir), j); found.Count(diag.Open) != 1 {
		t.Errorf("a changed photo: %v", found.Sorted())
	}
}
