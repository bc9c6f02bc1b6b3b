package record

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"lapwork/generator/sorting"
)

// Folder is where a job keeps what came back from its tablets, inside the job's folder.
const Folder = "records"

// The folders inside Folder.
const (
	tabletsDir    = "tablets"    // a folder a tablet, a file a record: 000007-<hash>.json, one line of canonical text
	photosDir     = "photos"     // <hash>.jpg
	statementsDir = "statements" // <seal>.json: the words that were signed
	receivedDir   = "received"   // what the local server took in, and when
	pairedDir     = "paired"     // tablets the local server knows, by the hash of their token
	unfinishedDir = "unfinished" // files being written; nothing here was ever acknowledged
)

const readme = `What the tablets of this job recorded. Back this folder up with the job; nothing in it is ever overwritten.

tablets/     a folder a tablet, a file a record, in the order they were made. One line each: the files of one folder
             put behind one another are that tablet's whole chain.
photos/      pictures, named by the SHA-256 of their bytes, as their records name them
statements/  the words of each statement that was recorded against, named by its seal
received/    when the local server took records in
paired/      tablets that the local server lets in; delete a file to shut that tablet out
unfinished/  left over from an interrupted run; may be deleted

A file's name says what must stand in it, so folders from two computers can be copied together.
`

// Store is a job's folder of records. A file in it appears whole or not at all, under a name that its content decides, and
// is never written again: several programs may add at once, being killed at any moment leaves every record that was
// acknowledged, and the order of adding does not show.
type Store struct {
	dir  string
	step func(name string) error // before each change of the disk; the tests' fail points
	sync func(*os.File) error    // forces a file or folder to the disk
}

// At is the store of the job in folder jobDir. Nothing is made before the first record comes.
func At(jobDir string) *Store {
	return &Store{filepath.Join(jobDir, Folder), func(string) error { return nil }, (*os.File).Sync}
}

// Ready tells whether the store can be written to, before anybody relies on it.
func (s *Store) Ready() error {
	if err := os.MkdirAll(filepath.Join(s.dir, unfinishedDir), 0o755); err != nil {
		return err
	}
	temp, err := s.aside([]byte(readme))
	if err != nil {
		return err
	}
	return os.Remove(temp)
}

// Kept is what adding an export did.
type Kept struct {
	Records []Record // new ones, sorted by tablet and position
	Known   int      // records that were there before
	Photos  int      // new ones
}

// Add keeps the records, photos and words of an export that was read without a fault. When it returns without an error, all of it
// is on the disk and survives a power cut, as far as the disk keeps its word. Adding the same again changes nothing.
func (s *Store) Add(e Export) (Kept, error) {
	var kept Kept
	var files []file
	for hash, data := range e.Photos {
		files = append(files, file{path: filepath.Join(photosDir, hash+".jpg"), data: data})
	}
	sorting.Func(files, func(a, b file) int { return cmp.Compare(a.path, b.path) })
	photos := len(files)
	for _, seal := range slices.Sorted(maps.Keys(e.Words)) {
		f, err := statementFile(e.Words[seal])
		if err != nil {
			return kept, err
		}
		files = append(files, f)
	}
	beside := len(files)
	records := Merge(e.Records)
	for _, r := range records {
		text, err := Canonical(r)
		if err != nil {
			return kept, err
		}
		files = append(files, file{path: recordPath(r), data: append(text, '\n')})
	}
	if err := s.put(files); err != nil {
		return kept, err
	}
	for i, f := range files {
		switch {
		case i < photos && f.fresh:
			kept.Photos++
		case i >= beside && f.fresh:
			kept.Records = append(kept.Records, records[i-beside])
		case i >= beside:
			kept.Known++
		}
	}
	return kept, nil
}

// recordPath names a record's file by everything it says: its hash covers all of it.
func recordPath(r Record) string {
	return filepath.Join(tabletsDir, r.Dev, fmt.Sprintf("%06d-%s.json", r.Seq, r.Hash))
}

// AddStatement keeps the words that a seal stands for.
func (s *Store) AddStatement(lines []Line) error {
	f, err := statementFile(lines)
	if err != nil {
		return err
	}
	return s.put([]file{f})
}

func statementFile(lines []Line) (file, error) {
	text, err := Canonical(lines)
	return file{path: filepath.Join(statementsDir, Seal(lines)+".json"), data: append(text, '\n')}, err
}

// Receipt says that a record had left its tablet at a time, so that a later change of the chain before it shows.
type Receipt struct {
	At   string `json:"at"`   // RFC 3339, the clock of the computer that received
	From string `json:"from"` // network address
	Dev  string `json:"dev"`
	Seq  int    `json:"seq"`
	Hash string `json:"hash"`
}

// AddReceipts keeps a receipt for the last of the records of each tablet, unless it has one: the first time counts.
func (s *Store) AddReceipts(at time.Time, from string, records []Record) error {
	var files []file
	for _, r := range Heads(records) {
		path := filepath.Join(receivedDir, fmt.Sprintf("%s-%06d-%s.json", r.Dev, r.Seq, r.Hash[:16]))
		if _, err := os.Lstat(filepath.Join(s.dir, path)); !errors.Is(err, fs.ErrNotExist) {
			if err != nil {
				return err
			}
			continue
		}
		text, err := Canonical(Receipt{at.Format(time.RFC3339), from, r.Dev, r.Seq, r.Hash})
		if err != nil {
			return err
		}
		files = append(files, file{path: path, data: append(text, '\n')})
	}
	return s.put(files)
}

// AddTablet keeps the hash of a token that a tablet was given, so that it is still known after the server starts again.
func (s *Store) AddTablet(at time.Time, from, tokenHash string) error {
	text, err := Canonical(map[string]string{"at": at.Format(time.RFC3339), "from": from, "token": tokenHash})
	if err != nil {
		return err
	}
	return s.put([]file{{path: filepath.Join(pairedDir, tokenHash+".json"), data: append(text, '\n')}})
}

// Tablets lists the hashes of the tokens that were given out.
func (s *Store) Tablets() ([]string, error) {
	entries, err := os.ReadDir(filepath.Join(s.dir, pairedDir))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var out []string
	for _, e := range entries {
		if hash, ok := hashName(e.Name(), ".json"); ok {
			out = append(out, hash)
		}
	}
	return out, err
}

// Sweep clears what interrupted runs left half written, where it is older than the given time.
func (s *Store) Sweep(before time.Time) error {
	dir := filepath.Join(s.dir, unfinishedDir)
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	errs := []error{err}
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && info.Mode().IsRegular() && info.ModTime().Before(before) {
			errs = append(errs, os.Remove(filepath.Join(dir, e.Name())))
		}
	}
	return errors.Join(errs...)
}

// same tells whether the file at path holds exactly data; a missing one is an error of its own.
func same(path string, data []byte) (bool, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return false, err
	}
	if !info.Mode().IsRegular() || info.Size() != int64(len(data)) {
		return false, nil
	}
	old, err := os.ReadFile(path)
	return bytes.Equal(old, data), err
}
