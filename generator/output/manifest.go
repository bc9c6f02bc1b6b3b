package output

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"lapwork/generator/sorting"
)

// ManifestName is the manifest's file name in a pack.
const ManifestName = "manifest.json"

const maxManifest = 64 << 20

// Manifest lists every file of a pack.
type Manifest struct {
	Program  string  `json:"program"` // always "Lapwork"
	Version  int     `json:"version"`
	Job      string  `json:"job"`
	Revision string  `json:"revision"`
	Files    []Entry `json:"files"`
}

// Entry is one file of a pack.
type Entry struct {
	Path   string `json:"path"`
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
}

func makeManifest(p Pack, entries []Entry) Manifest {
	m := Manifest{Program: "Lapwork", Version: 1, Job: p.Job, Revision: p.Revision, Files: append([]Entry{}, entries...)}
	sorting.Func(m.Files, func(a, b Entry) int { return cmp.Compare(a.Path, b.Path) })
	return m
}

func (m Manifest) text() ([]byte, error) {
	data, err := json.MarshalIndent(m, "", " ")
	return append(data, '\n'), err
}

// ErrNoPack says that a folder holds no pack of ours.
var ErrNoPack = errors.New("no Lapwork pack stands here")

// ReadManifest reads the manifest of the pack at dir; ErrNoPack where there is none.
func ReadManifest(dir string) (Manifest, error) {
	var m Manifest
	info, err := os.Lstat(filepath.Join(dir, ManifestName))
	if err != nil || !info.Mode().IsRegular() || info.Size() > maxManifest {
		return m, ErrNoPack
	}
	data, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if err != nil {
		return m, err
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	if dec.Decode(&m) != nil || m.Program != "Lapwork" || m.Version != 1 {
		return m, ErrNoPack
	}
	return m, nil
}

// Change is a difference between a pack and its manifest.
type Change struct{ Path, What string }

// Verify compares the pack at dir with its manifest, byte for byte.
func Verify(dir string) ([]Change, error) {
	m, err := ReadManifest(dir)
	if err != nil {
		return nil, err
	}
	changes, err := strangers(dir, m)
	if err != nil {
		return nil, err
	}
	for _, e := range m.Files {
		if !filepath.IsLocal(filepath.FromSlash(e.Path)) {
			changes = append(changes, Change{e.Path, "the manifest names a file outside the pack"})
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(e.Path)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			changes = append(changes, Change{e.Path, "is missing"})
		case err != nil:
			return nil, err
		case Sum(data) != e.SHA256:
			changes = append(changes, Change{e.Path, "has changed"})
		}
	}
	sorting.Func(changes, func(a, b Change) int { return cmp.Compare(a.Path, b.Path) })
	return changes, nil
}

// strangers lists what stands in dir and not in the manifest: files, links, folders without a listed file.
func strangers(dir string, m Manifest) ([]Change, error) {
	listed := map[string]bool{ManifestName: true, ".": true}
	for _, e := range m.Files {
		listed[e.Path] = true
		for d := filepath.ToSlash(filepath.Dir(filepath.FromSlash(e.Path))); d != "." && d != "/"; d = filepath.ToSlash(filepath.Dir(d)) {
			listed[d+"/"] = true
		}
	}
	var found []Change
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		if entry.IsDir() && name != "." {
			name += "/"
		}
		switch {
		case !listed[name]:
			found = append(found, Change{name, "is not of this pack"})
			if entry.IsDir() {
				return filepath.SkipDir
			}
		case !entry.IsDir() && !entry.Type().IsRegular():
			found = append(found, Change{name, "is a link or a device, not a file"})
		}
		return nil
	})
	return found, err
}

// mayReplace is nil where nothing stands at dir or a pack of ours with nothing of a stranger's in it.
func mayReplace(dir string) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return &Refusal{dir, "this is a file or a link, not a folder", "choose another folder with --out"}
	}
	m, err := ReadManifest(dir)
	if errors.Is(err, ErrNoPack) {
		return &Refusal{dir, "this folder holds no pack of Lapwork's", "choose a folder that does not exist yet, with --out"}
	}
	if err != nil {
		return err
	}
	found, err := strangers(dir, m)
	if err != nil {
		return err
	}
	if len(found) > 0 {
		return &Refusal{dir, fmt.Sprintf("%s %s", found[0].Path, found[0].What), "move it out of the folder, or choose another with --out"}
	}
	return nil
}
