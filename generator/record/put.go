package record

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
)

// file is one file to be kept; path is relative to the store.
type file struct {
	path  string
	data  []byte
	fresh bool   // it was not there before
	temp  string // where it stands until it is moved in
}

// writers is how many files are forced to the disk at once: a disk gathers them into one turn. Own choice.
const writers = 8

// put brings files in, all or some of them, each whole: they are written aside and forced to the disk, then moved to
// their names in the order given, then the folders are forced to the disk.
func (s *Store) put(files []file) error {
	var fresh []*file
	for i := range files {
		f := &files[i]
		there, err := same(filepath.Join(s.dir, f.path), f.data)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			f.fresh = true
			fresh = append(fresh, f)
		case err != nil:
			return err
		case !there:
			if err := s.setAside(f); err != nil {
				return err
			}
			fresh = append(fresh, f)
		}
	}
	if len(fresh) == 0 {
		return nil
	}
	touched, err := s.folders(fresh)
	if err != nil {
		return err
	}
	if err := s.write(fresh); err != nil {
		return errors.Join(err, s.drop(fresh))
	}
	for i, f := range fresh {
		if err := s.do("move in", func() error { return os.Rename(f.temp, filepath.Join(s.dir, f.path)) }); err != nil {
			return errors.Join(err, s.drop(fresh[i:]))
		}
	}
	for _, dir := range touched {
		if err := s.do("force folder", func() error { return s.syncDir(dir) }); err != nil {
			return err
		}
	}
	return nil
}

func (s *Store) do(name string, act func() error) error {
	if err := s.step(name); err != nil {
		return err
	}
	return act()
}

// setAside moves a file that was damaged on the disk out of the way of the true one, under a name of its own.
func (s *Store) setAside(f *file) error {
	at := filepath.Join(s.dir, f.path)
	info, err := os.Lstat(at)
	if err != nil || !info.Mode().IsRegular() {
		return errors.Join(err, errors.New(at+" is not a file; move it away"))
	}
	data, err := os.ReadFile(at)
	if err != nil {
		return err
	}
	return s.do("set aside", func() error { return os.Rename(at, at+damagedMark+digest(data)[:16]) })
}

const damagedMark = ".damaged-"

// folders makes what is missing and lists every folder whose entries change, parents last.
func (s *Store) folders(files []*file) ([]string, error) {
	var touched []string
	seen := map[string]bool{}
	need := func(dir string) error {
		for _, d := range []string{dir, filepath.Dir(dir)} {
			if !seen[d] {
				seen[d] = true
				touched = append(touched, d)
			}
		}
		return s.do("make folder", func() error { return os.MkdirAll(dir, 0o755) })
	}
	for _, f := range files {
		if err := need(filepath.Join(s.dir, filepath.Dir(f.path))); err != nil {
			return nil, err
		}
	}
	if err := need(filepath.Join(s.dir, unfinishedDir)); err != nil {
		return nil, err
	}
	if job := filepath.Dir(s.dir); !seen[job] {
		touched = append(touched, job)
	}
	return touched, s.explain()
}

// explain puts the note for people beside the records, once.
func (s *Store) explain() error {
	at := filepath.Join(s.dir, "README.txt")
	if _, err := os.Lstat(at); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return s.do("explain", func() error {
		temp, err := s.aside([]byte(readme))
		if err != nil {
			return err
		}
		return os.Rename(temp, at)
	})
}

// write puts every file aside, several at once. The first that fails ends it: on a full disk a thousand more would say the same.
func (s *Store) write(files []*file) error {
	errs := make([]error, len(files))
	next := make(chan int)
	var failed atomic.Bool
	var wait sync.WaitGroup
	for range min(writers, len(files)) {
		wait.Go(func() {
			for i := range next {
				if failed.Load() {
					continue
				}
				if files[i].temp, errs[i] = s.aside(files[i].data); errs[i] != nil {
					failed.Store(true)
				}
			}
		})
	}
	for i := range files {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// aside writes data to a new file and forces it to the disk.
func (s *Store) aside(data []byte) (string, error) {
	if err := s.step("write aside"); err != nil {
		return "", err
	}
	f, err := os.CreateTemp(filepath.Join(s.dir, unfinishedDir), "*.part")
	if err != nil {
		return "", err
	}
	half := len(data) / 2
	_, err = f.Write(data[:half])
	err = errors.Join(err, s.step("half a file"))
	if err == nil {
		_, err = f.Write(data[half:])
	}
	if err == nil {
		err = s.do("force file", func() error { return s.sync(f) })
	}
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err != nil {
		return "", errors.Join(err, s.do("drop", func() error { return os.Remove(f.Name()) }))
	}
	return f.Name(), nil
}

// drop takes away what was written aside and not moved in.
func (s *Store) drop(files []*file) error {
	var errs []error
	for _, f := range files {
		if f.temp != "" {
			err := s.do("drop", func() error { return os.Remove(f.temp) })
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

// syncDir forces a folder's entries to the disk. Windows does that with the file and opens no folder for it.
func (s *Store) syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(s.sync(f), f.Close())
}
