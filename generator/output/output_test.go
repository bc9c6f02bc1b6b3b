package output

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func pack(text string) Pack {
	return Pack{Job: "T-1", Revision: "1", Files: []File{{Path: "index.html", Data: []byte(text)}, {Path: "rooms/A.html", Data: []byte(text + "A")}, {Path: "assets/x.css"}}}
}

func mustWrite(t *testing.T, dir, text string) {
	t.Helper()
	if err := Write(dir, pack(text)); err != nil {
		t.Fatal(err)
	}
}

// wholeAt tells which whole pack stands at dir: its text, or "" where none does.
func wholeAt(t *testing.T, dir string) string {
	t.Helper()
	changes, err := Verify(dir)
	if err != nil || len(changes) > 0 {
		return ""
	}
	data, err := os.ReadFile(filepath.Join(dir, "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestWriteReplacesAPackOfOurs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "out")
	mustWrite(t, dir, "one")
	mustWrite(t, dir, "two")
	if got := wholeAt(t, dir); got != "two" {
		t.Errorf("pack is %q, want two", got)
	}
	for _, left := range []string{dir + nextSuffix, dir + oldSuffix} {
		if exists(left) {
			t.Errorf("%s is left behind", left)
		}
	}
}

// Whatever moment a run is killed at, a whole pack stands at DIR or DIR.old, and the next run brings it back.
func TestKilledAtAnyMoment(t *testing.T) {
	killed := errors.New("killed")
	for _, at := range []string{"half the files", "unmark", "move old away", "move new in", "remove old"} {
		t.Run(at, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			mustWrite(t, dir, "one")
			func() {
				defer func() {
					if r := recover(); r != killed {
						t.Fatalf("the fail point %q was not reached: %v", at, r)
					}
				}()
				// A panic leaves the disk as a kill does: no clean-up code runs.
				err := writer{step: func(name string) error {
					if name == at {
						panic(killed)
					}
					return nil
				}}.write(dir, pack("two"), nil)
				t.Fatal(err)
			}()
			if wholeAt(t, dir) == "" && wholeAt(t, dir+oldSuffix) == "" {
				t.Fatal("no whole pack stands")
			}
			before := wholeAt(t, dir) + wholeAt(t, dir+oldSuffix)
			if err := (writer{step: func(string) error { return nil }}).restore(dir); err != nil {
				t.Fatal(err)
			}
			if got := wholeAt(t, dir); got == "" || !strings.Contains(before, got) {
				t.Errorf("restored %q of %q", got, before)
			}
			mustWrite(t, dir, "three")
			if got := wholeAt(t, dir); got != "three" || exists(dir+oldSuffix) || exists(dir+nextSuffix) {
				t.Errorf("after the next run: %q", got)
			}
		})
	}
}

// An error instead of a kill puts the old pack back at once.
func TestFailedStepPutsOldPackBack(t *testing.T) {
	for _, at := range []string{"half the files", "unmark", "move old away", "move new in"} {
		dir := filepath.Join(t.TempDir(), "out")
		mustWrite(t, dir, "one")
		err := writer{step: func(name string) error {
			if name == at {
				return errors.New("disk full")
			}
			return nil
		}}.write(dir, pack("two"), nil)
		if err == nil || wholeAt(t, dir) != "one" || exists(dir+nextSuffix) || exists(dir+oldSuffix) {
			t.Errorf("%s: err %v, pack %q", at, err, wholeAt(t, dir))
		}
	}
}

func TestRefusesWhatIsNotOurs(t *testing.T) {
	cases := map[string]struct {
		prepare func(t *testing.T, dir string)
		keep    func(dir string) string
		want    string
	}{
		"a stranger's folder": {prepare: func(t *testing.T, dir string) { write(t, dir, "letter.txt") }, want: "no pack"},
		"an empty folder":     {prepare: func(t *testing.T, dir string) { mkdir(t, dir) }, want: "no pack"},
		"an extra file": {prepare: func(t *testing.T, dir string) { mustWrite(t, dir, "one"); write(t, dir, "rooms/note.txt") },
			want: "rooms/note.txt"},
		"an extra folder": {prepare: func(t *testing.T, dir string) { mustWrite(t, dir, "one"); mkdir(t, filepath.Join(dir, "photos")) },
			want: "photos/"},
		"a link inside": {prepare: func(t *testing.T, dir string) {
			mustWrite(t, dir, "one")
			link(t, "/", filepath.Join(dir, "root"))
		}, want: "root"},
		"a link": {prepare: func(t *testing.T, dir string) {
			mustWrite(t, dir+"-real", "one")
			link(t, dir+"-real", dir)
		}, want: "link"},
		"a file":            {prepare: func(t *testing.T, dir string) { write(t, filepath.Dir(dir), "out") }, want: "not a folder"},
		"the job folder":    {prepare: func(t *testing.T, dir string) { mustWrite(t, dir, "one") }, keep: func(dir string) string { return dir }, want: "job folder"},
		"a parent of it":    {prepare: func(t *testing.T, dir string) { mustWrite(t, dir, "one") }, keep: func(dir string) string { return filepath.Join(dir, "rooms") }, want: "job folder"},
		"a stranger's old":  {prepare: func(t *testing.T, dir string) { write(t, dir+oldSuffix, "letter.txt") }, want: "no pack"},
		"a stranger's next": {prepare: func(t *testing.T, dir string) { write(t, dir+nextSuffix, "letter.txt") }, want: "no pack"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			top := t.TempDir()
			dir := filepath.Join(top, "out")
			c.prepare(t, dir)
			before := tree(t, top)
			keep := ""
			if c.keep != nil {
				keep = c.keep(dir)
			}
			err := Write(dir, pack("two"), keep)
			var refused *Refusal
			if !errors.As(err, &refused) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want a refusal naming %q", err, c.want)
			}
			if after := tree(t, top); after != before {
				t.Errorf("touched:\n%s\nwas:\n%s", after, before)
			}
		})
	}
}

func TestRefusesPathsThatLeave(t *testing.T) {
	for _, p := range []string{"../x", "/x", "a/../../x", "", "manifest.json", "Index.HTML", `a\b`, "c:x"} {
		bad := Pack{Files: []File{{Path: "index.html"}, {Path: p}}}
		if err := Write(filepath.Join(t.TempDir(), "out"), bad); err == nil {
			t.Errorf("%q was written", p)
		}
	}
}

func TestVerifyNamesEveryChange(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	mustWrite(t, dir, "one")
	write(t, dir, "index.html")
	write(t, dir, "new.txt")
	if err := os.Remove(filepath.Join(dir, "rooms", "A.html")); err != nil {
		t.Fatal(err)
	}
	got, err := Verify(dir)
	want := []Change{{"index.html", "has changed"}, {"new.txt", "is not of this pack"}, {"rooms/A.html", "is missing"}}
	if err != nil || len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("got %v %v, want %v", got, err, want)
	}
}

func mkdir(t *testing.T, dir string) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
}

func write(t *testing.T, dir, name string) {
	t.Helper()
	path := filepath.Join(dir, name)
	mkdir(t, filepath.Dir(path))
	if err := os.WriteFile(path, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
}

func link(t *testing.T, to, at string) {
	t.Helper()
	if err := os.Symlink(to, at); err != nil {
		t.Skip("no links on this disk:", err)
	}
}

func tree(t *testing.T, top string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(top, func(p string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		b.WriteString(p)
		if d.Type().IsRegular() {
			data, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			b.WriteString(" " + Sum(data))
		}
		b.WriteString("\n")
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}
