package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// TestFolderKeepsInside holds a folder to what a reader may see of it: links inside it count, links out of it and what is
// no file do not.
func TestFolderKeepsInside(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "job")
	for name, text := range map[string]string{"secret.txt": "s", "job/a.md": "a", "job/sub/b.md": "b"} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(top, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(top, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for link, to := range map[string]string{"in.md": "sub/b.md", "out.txt": "../secret.txt", "abs.txt": filepath.Join(top, "secret.txt"), "up": "..", "gone.md": "nothing"} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	f := openFolder(dir)
	for name, want := range map[string]string{"a.md": "a", "sub/b.md": "b", "in.md": "b"} {
		if got, err := fs.ReadFile(f, name); err != nil || string(got) != want {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	for _, name := range []string{"out.txt", "abs.txt", "up/secret.txt", "../secret.txt", "gone.md", "b.md"} {
		if got, err := fs.ReadFile(f, name); err == nil {
			t.Errorf("%s was read: %q", name, got)
		}
	}
	if info, err := fs.Lstat(f, "in.md"); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("in.md is not shown as a link: %v, %v", info, err)
	}
	if to, err := fs.ReadLink(f, "in.md"); err != nil || to != "sub/b.md" {
		t.Errorf("in.md leads to %q, %v", to, err)
	}
}

// TestFolderOpensNoPipe: the pipe is refused before it is opened.
func TestFolderOpensNoPipe(t *testing.T) {
	dir := t.TempDir()
	makePipe(t, filepath.Join(dir, "a.md"))
	if _, err := openFolder(dir).Open("a.md"); !errors.Is(err, errNoFile) {
		t.Errorf("a pipe opened: %v", err)
	}
}
