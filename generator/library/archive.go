package library

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
)

// errBounds is wrapped where a library is too large.
var errBounds = errors.New("too large for a library")

// folderFiles reads the files of a folder. Links are refused, so that nothing outside the folder is read through one.
func folderFiles(fsys fs.FS, dir string) (map[string][]byte, error) {
	files, total := map[string][]byte{}, 0
	for _, sub := range []string{".", "library", "tables"} {
		entries, err := fs.ReadDir(fsys, path.Join(dir, sub))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		for _, e := range entries {
			name, at := path.Join(sub, e.Name()), path.Join(dir, sub, e.Name())
			if e.Type()&fs.ModeSymlink != 0 && (isLibraryFile(name) || oneOf(name, []string{"library", "tables"})) {
				return nil, fmt.Errorf("%s is a link; a library has none", at)
			}
			if !isLibraryFile(name) || !e.Type().IsRegular() {
				continue
			}
			if len(files) == maxFiles {
				return nil, fmt.Errorf("%s: %w: more than %d files", dir, errBounds, maxFiles)
			}
			if files[name], err = readBounded(fsys, at, maxFile); err != nil {
				return nil, err
			}
			if total += len(files[name]); total > maxAll {
				return nil, fmt.Errorf("%s: %w: more than %d MiB together", dir, errBounds, maxAll>>20)
			}
		}
	}
	return files, nil
}

// readBounded reads a file of at most so many bytes.
func readBounded(fsys fs.FS, at string, most int64) (data []byte, err error) {
	f, err := fsys.Open(at)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	data, err = io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		return nil, fmt.Errorf("%s: %w: more than %d MiB", at, errBounds, most>>20)
	}
	return data, err
}

// archiveFiles unpacks a zip into memory. An entry that is no plain file, whose name leaves the archive, stands twice, or
// that unpacks to more than its bounds refuses the whole archive.
func archiveFiles(fsys fs.FS, name string, size int64) (map[string][]byte, error) {
	if size > maxArchive {
		return nil, fmt.Errorf("%s: %w: more than %d MiB", name, errBounds, maxArchive>>20)
	}
	data, err := readBounded(fsys, name, maxArchive)
	if err != nil {
		return nil, err
	}
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, fmt.Errorf("%s is no zip: %w", name, err)
	}
	if len(r.File) > maxFiles {
		return nil, fmt.Errorf("%s: %w: more than %d files", name, errBounds, maxFiles)
	}
	files, total := map[string][]byte{}, uint64(0)
	seen := map[string]bool{}
	for _, f := range r.File {
		if err := refuseEntry(f, seen); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if total += f.UncompressedSize64; total > maxAll {
			return nil, fmt.Errorf("%s: %w: more than %d MiB together", name, errBounds, maxAll>>20)
		}
		if strings.HasSuffix(f.Name, "/") {
			continue
		}
		if files[f.Name], err = unpack(f); err != nil {
			return nil, fmt.Errorf("%s: %s: %w", name, f.Name, err)
		}
	}
	return withoutTop(files), nil
}

func refuseEntry(f *zip.File, seen map[string]bool) error {
	at := strings.TrimSuffix(f.Name, "/")
	low := strings.ToLower(at)
	switch {
	case !fs.ValidPath(at) || strings.ContainsAny(at, "\\:\x00"):
		return fmt.Errorf("the name %q leaves the library", f.Name)
	case !f.Mode().IsRegular() && !f.Mode().IsDir() || f.Mode().IsDir() != strings.HasSuffix(f.Name, "/"):
		return fmt.Errorf("%s is no plain file; a library has none else", f.Name)
	case seen[low]:
		return fmt.Errorf("%s stands twice", f.Name)
	case f.UncompressedSize64 > maxFile:
		return fmt.Errorf("%s: %w: more than %d MiB", f.Name, errBounds, maxFile>>20)
	case f.UncompressedSize64 > ratioFrom && f.UncompressedSize64/max(1, f.CompressedSize64) > maxRatio:
		return fmt.Errorf("%s: %w: it unpacks to more than %d times its size", f.Name, errBounds, maxRatio)
	}
	seen[low] = true
	return nil
}

// unpack reads an entry; one that holds more than its header says is an error of the archive.
func unpack(f *zip.File) (data []byte, err error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	data, err = io.ReadAll(io.LimitReader(r, maxFile+1))
	if err == nil && len(data) > maxFile {
		return nil, errBounds
	}
	return data, err
}

// withoutTop takes away the one folder that everything in an archive lies in, if it does.
func withoutTop(files map[string][]byte) map[string][]byte {
	top := ""
	for at := range files {
		first, _, inFolder := strings.Cut(at, "/")
		if isLibraryFile(at) || !inFolder || top != "" && first != top {
			return files
		}
		top = first
	}
	out := map[string][]byte{}
	for at, data := range files {
		out[strings.TrimPrefix(at, top+"/")] = data
	}
	return out
}
