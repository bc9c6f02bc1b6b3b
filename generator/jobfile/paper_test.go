package jobfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwork/generator/diag"
)

// paperJob writes the one-room job with attachments into a folder, and beside it what must not be reached.
func paperJob(t *testing.T, more string) string {
	t.Helper()
	top := t.TempDir()
	dir := filepath.Join(top, "job")
	for _, d := range []string{"papers", "papers/dir.pdf"} {
		if err := os.MkdirAll(filepath.Join(dir, d), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	put := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("papers/abc.txt", "abc")
	put("../secret.txt", "not for the pack")
	if err := os.Symlink(filepath.Join(top, "secret.txt"), filepath.Join(dir, "papers/link.txt")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(top, filepath.Join(dir, "out")); err != nil {
		t.Fatal(err)
	}
	big, err := os.Create(filepath.Join(dir, "papers/big.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	if err := big.Truncate(maxPaper + 1); err != nil {
		t.Fatal(err)
	}
	if err := big.Close(); err != nil {
		t.Fatal(err)
	}
	put("job.yaml", oneRoom+more)
	return dir
}

func TestAttachments(t *testing.T) {
	var found diag.List
	j := Read(os.DirFS(paperJob(t, "attachments:\n  - {file: papers/abc.txt, kind: survey, title: Survey of the ground floor, for: A1}\n"+
		"instruments:\n  - {id: MM1, kind: moisture-meter, calibrated: 2026-01-05, due: 2027-01-05}\n")), ".", someTables, &found)
	if found.Err() != nil || len(j.Attachments) != 1 || len(j.Instruments) != 1 {
		t.Fatalf("%+v", found.Sorted())
	}
	// SHA-256 of "abc": the first example of FIPS 180-4.
	if a := j.Attachments[0]; a.Bytes != 3 || a.Hash != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("%+v", a)
	}
	if i := j.Instruments[0]; i.ID != "MM1" || i.Due != "2027-01-05" {
		t.Errorf("%+v", i)
	}
}

func TestAttachmentsThatAreRefused(t *testing.T) {
	for _, c := range []struct{ file, want string }{
		{"../secret.txt", "cannot be an attachment"},
		{"/etc/hostname.txt", "cannot be an attachment"},
		{"papers/../../secret.txt", "cannot be an attachment"},
		{"papers/page.html", "cannot be an attachment"},
		{"papers/drawing.svg", "cannot be an attachment"},
		{"papers/none.pdf", "is not there"},
		{"papers/link.txt", "is a link"},
		{"out/secret.txt", "is a link"},
		{"papers/dir.pdf", "is a link or no plain file"},
		{"papers/big.pdf", "larger than 20 MB"},
	} {
		var found diag.List
		Read(os.DirFS(paperJob(t, "attachments:\n  - {file: \""+c.file+"\", kind: other, title: x}\n")), ".", someTables, &found)
		hit := false
		for _, f := range found.Sorted() {
			hit = hit || f.Level == diag.Fault && strings.Contains(f.Msg, c.want) && f.Pos.Line > 0
		}
		if !hit {
			t.Errorf("%s: want a fault with %q, got %v", c.file, c.want, found.Sorted())
		}
	}
	var found diag.List
	Read(os.DirFS(paperJob(t, "attachments:\n  - {file: papers/abc.txt, kind: other, title: x}\n  - {file: papers/abc.txt, kind: other, title: y}\n"+
		"instruments:\n  - {id: MM1, kind: fan}\n  - {id: MM1, kind: fan}\n  - {id: F2, kind: fan, calibrated: 2026-05-01, due: 2026-04-01}\n")), ".", someTables, &found)
	if n := found.Count(diag.Fault); n != 3 {
		t.Errorf("%d faults, want the second of each and the days turned round: %v", n, found.Sorted())
	}
}
