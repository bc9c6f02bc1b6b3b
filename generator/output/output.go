// Package output writes a pack to its folder whole or not at all, lists every file in a manifest, and tells later whether
// a byte has changed. It replaces only a folder that such a manifest describes completely. The guarantee is against being
// killed at any moment, not against a power cut: files are not forced to the disk.
package output

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"lapwork/generator/parallel"
)

// File is one file of a pack. Path is relative to the pack, with forward slashes. Make appends the bytes of a file that is
// made when it is written, so that a large pack is never held whole; it may be called beside other files' in several
// goroutines, and gives the same bytes each time. Where it is nil, Data has them.
type File struct {
	Path string
	Data []byte
	Make func(into []byte) ([]byte, error)
}

// Bytes gives the file's content.
func (f File) Bytes() ([]byte, error) {
	if f.Make != nil {
		return f.Make(nil)
	}
	return f.Data, nil
}

// Pack names what is written, for the manifest.
type Pack struct {
	Job, Revision string
	Files         []File
}

// Refusal is why a folder was left alone.
type Refusal struct{ Dir, Why, Hint string }

// Error gives the folder, the reason and what to do.
func (r *Refusal) Error() string {
	return fmt.Sprintf("%s: %s\n\thint: %s; nothing was changed", r.Dir, r.Why, r.Hint)
}

// Write puts the pack at dir. keep are folders that must survive, such as the job's own: dir may be neither one of them
// nor contain one. A pack of ours at dir is replaced; anything else there is refused and not touched.
func Write(dir string, p Pack, keep ...string) error {
	_, err := Put(dir, p, keep...)
	return err
}

// Put does what Write does and gives the manifest of what was written.
func Put(dir string, p Pack, keep ...string) (Manifest, error) {
	w := writer{step: func(string) error { return nil }, manifest: new(Manifest)}
	err := w.write(dir, p, keep)
	return *w.manifest, err
}

// writer carries the fail points of the tests: step is called before each change of the file system.
type writer struct {
	step     func(name string) error
	manifest *Manifest // filled in, where somebody wants it
}

func (w writer) write(dir string, p Pack, keep []string) error {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	if err := checkPaths(p.Files); err != nil {
		return err
	}
	if err := refuseOverlap(abs, keep); err != nil {
		return err
	}
	if err := w.restore(abs); err != nil {
		return err
	}
	if err := mayReplace(abs); err != nil {
		return err
	}
	if err := w.fill(abs+nextSuffix, p); err != nil {
		return errors.Join(err, removeUnfinished(abs+nextSuffix))
	}
	return w.swap(abs)
}

const (
	nextSuffix = ".next" // being written
	oldSuffix  = ".old"  // the pack before, until the new one stands
	marker     = "lapwork-unfinished"
)

// restore brings back a whole pack after an earlier run was killed, and clears what that run left behind.
func (w writer) restore(dir string) error {
	if err := removeUnfinished(dir + nextSuffix); err != nil {
		return err
	}
	old := dir + oldSuffix
	if !exists(old) {
		return nil
	}
	if err := mayReplace(old); err != nil {
		return err
	}
	if exists(dir) {
		if err := mayReplace(dir); err != nil {
			return err
		}
		return w.do("clear old", func() error { return os.RemoveAll(old) })
	}
	return w.do("restore", func() error { return os.Rename(old, dir) })
}

func (w writer) do(name string, change func() error) error {
	if err := w.step(name); err != nil {
		return err
	}
	return change()
}

// fill writes every file into next, the manifest last; the marker goes when all stands.
func (w writer) fill(next string, p Pack) error {
	if err := os.MkdirAll(filepath.Dir(next), 0o755); err != nil {
		return err
	}
	if err := os.Mkdir(next, 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(next, marker), nil, 0o644); err != nil {
		return err
	}
	half := len(p.Files) / 2
	first, err := putAll(next, p.Files[:half])
	if err != nil {
		return err
	}
	if err := w.step("half the files"); err != nil {
		return err
	}
	rest, err := putAll(next, p.Files[half:])
	if err != nil {
		return err
	}
	m := makeManifest(p, append(first, rest...))
	if w.manifest != nil {
		*w.manifest = m
	}
	text, err := m.text()
	if err != nil {
		return err
	}
	if _, err := put(next, File{Path: ManifestName, Data: text}); err != nil {
		return err
	}
	return w.do("unmark", func() error { return os.Remove(filepath.Join(next, marker)) })
}

// putAll makes and writes files, as many at a time as there are processors, and gives their entries in order. They are
// taken by turns from either end: neighbours lie in one folder, and a file system adds to a folder one file at a time.
func putAll(next string, files []File) ([]Entry, error) {
	n := len(files)
	turn := func(i int) int {
		if i%2 == 1 {
			return n - 1 - i/2
		}
		return i / 2
	}
	written, err := parallel.Try(n, func(i int) (Entry, error) { return put(next, files[turn(i)]) })
	entries := make([]Entry, n)
	for i, e := range written {
		entries[turn(i)] = e
	}
	return entries, err
}

// made are buffers for files that are made while they are written.
var made = sync.Pool{New: func() any { return new([]byte) }}

func put(next string, f File) (Entry, error) {
	at := filepath.Join(next, filepath.FromSlash(f.Path))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return Entry{}, err
	}
	data := f.Data
	if f.Make != nil {
		room := made.Get().(*[]byte)
		defer made.Put(room)
		var err error
		if data, err = f.Make((*room)[:0]); err != nil {
			return Entry{}, fmt.Errorf("%s: %w", f.Path, err)
		}
		*room = data
	}
	return Entry{f.Path, len(data), Sum(data)}, os.WriteFile(at, data, 0o644)
}

// swap puts next in the place of dir. Between the two renames the whole pack stands at dir.old.
func (w writer) swap(dir string) error {
	next, old := dir+nextSuffix, dir+oldSuffix
	had := exists(dir)
	if had {
		if err := w.do("move old away", func() error { return os.Rename(dir, old) }); err != nil {
			return errors.Join(err, os.RemoveAll(next))
		}
	}
	if err := w.do("move new in", func() error { return os.Rename(next, dir) }); err != nil {
		if had {
			return errors.Join(err, os.Rename(old, dir), os.RemoveAll(next))
		}
		return errors.Join(err, os.RemoveAll(next))
	}
	if !had {
		return nil
	}
	return w.do("remove old", func() error { return os.RemoveAll(old) })
}

// removeUnfinished clears a folder that a killed run left half written, or whole but not yet moved in. Anything else at
// that name is refused.
func removeUnfinished(next string) error {
	if !exists(next) {
		return nil
	}
	info, err := os.Lstat(filepath.Join(next, marker))
	if err == nil && info.Mode().IsRegular() {
		return os.RemoveAll(next)
	}
	if err := mayReplace(next); err != nil {
		return err
	}
	return os.RemoveAll(next)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// refuseOverlap refuses a target that is, or contains, a folder that must survive.
func refuseOverlap(dir string, keep []string) error {
	for _, k := range keep {
		if k == "" {
			continue
		}
		kept, err := filepath.Abs(k)
		if err != nil {
			return err
		}
		for _, pair := range [][2]string{{dir, kept}, {real(dir), real(kept)}} {
			rel, err := filepath.Rel(pair[0], pair[1])
			if err == nil && (rel == "." || filepath.IsLocal(rel)) {
				return &Refusal{dir, "this folder is or holds the job folder", "choose another folder with --out"}
			}
		}
	}
	return nil
}

// real resolves links where the path exists, so that two names of one folder are seen as one.
func real(path string) string {
	if p, err := filepath.EvalSymlinks(path); err == nil {
		return p
	}
	return path
}

// checkPaths refuses a path that leaves the pack, hides the manifest, or meets another on a disk that ignores case.
func checkPaths(files []File) error {
	seen := map[string]bool{strings.ToLower(ManifestName): true, marker: true}
	for _, f := range files {
		low := strings.ToLower(f.Path)
		if !filepath.IsLocal(filepath.FromSlash(f.Path)) || strings.ContainsAny(f.Path, "\\:") || seen[low] {
			return fmt.Errorf("output: path %q cannot stand in a pack", f.Path)
		}
		seen[low] = true
	}
	return nil
}

// Sum gives the SHA-256 of data as 64 hex digits.
func Sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}
