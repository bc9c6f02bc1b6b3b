package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"lapwork/generator/diag"
)

// Journal is everything a job has of its tablets.
type Journal struct {
	Records    []Record          // sorted by tablet, position and hash
	Photos     map[string]string // path in the job's folder, by SHA-256 of the bytes
	Statements map[string][]Line // words by seal, as far as they are known
	Receipts   []Receipt         // by tablet and position
}

// maxRecordFile is the size of the largest file of one record or statement: a signature of MaxPoints numbers and texts to
// their bound fit in. Own choice.
const maxRecordFile = 4 << 20

// Load reads the records in a job's folder. A job without any has an empty journal. Whatever is damaged is left out and
// needs a person; nothing here stops a pack, since a pack is needed on site whatever became of a record.
func Load(job fs.FS) (Journal, diag.List) {
	l := loader{fsys: job, out: Journal{Photos: map[string]string{}, Statements: map[string][]Line{}}}
	l.each(tabletsDir, func(dir string, e fs.DirEntry) {
		if e.IsDir() && isHex(e.Name(), 24) {
			l.each(path.Join(tabletsDir, e.Name()), l.record)
		} else {
			l.stranger(path.Join(dir, e.Name()))
		}
	})
	l.each(photosDir, l.photo)
	l.each(statementsDir, l.statement)
	l.each(receivedDir, l.receipt)
	l.out.Records = Merge(l.out.Records)
	l.chains()
	return l.out, l.found
}

type loader struct {
	fsys  fs.FS
	out   Journal
	found diag.List
}

func (l *loader) each(dir string, visit func(dir string, e fs.DirEntry)) {
	dir = path.Join(Folder, strings.TrimPrefix(dir, Folder+"/"))
	entries, err := fs.ReadDir(l.fsys, dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		l.damaged(dir, err.Error())
	}
	for _, e := range entries {
		visit(dir, e)
	}
}

const fromBackup = "gather the tablet's export again, or take the file from a backup"

func (l *loader) damaged(file, why string) {
	l.found.Openf(diag.Pos{File: file}, "", fromBackup, "%s; it is left out", why)
}

func (l *loader) stranger(file string) {
	if strings.Contains(path.Base(file), damagedMark) {
		l.found.Notef(diag.Pos{File: file}, "", "a damaged file was set aside here, the true one stands beside it")
		return
	}
	l.found.Notef(diag.Pos{File: file}, "", "this is no file of the records; it is left out")
}

// read gives a file's bytes; false where it is a stranger or cannot be read, which is then reported.
func (l *loader) read(file string, e fs.DirEntry) ([]byte, bool) {
	info, err := e.Info()
	if err == nil && (!info.Mode().IsRegular() || info.Size() > maxRecordFile) {
		err = errors.New("this is no file of one record")
	}
	var data []byte
	if err == nil {
		data, err = fs.ReadFile(l.fsys, file)
	}
	if err != nil {
		l.damaged(file, err.Error())
	}
	return data, err == nil
}

func (l *loader) record(dir string, e fs.DirEntry) {
	file := path.Join(dir, e.Name())
	if path.Ext(file) != ".json" {
		l.stranger(file)
		return
	}
	data, ok := l.read(file, e)
	if !ok {
		return
	}
	r, err := decode(data)
	if err != nil {
		l.damaged(file, err.Error())
		return
	}
	sum, err := r.Sum()
	if err != nil || sum != r.Hash {
		l.damaged(file, "record "+r.ID+" was changed after it was made")
		return
	}
	if want := path.Base(recordPath(r)); e.Name() != want || path.Base(dir) != r.Dev {
		l.damaged(file, "its name does not fit what stands in it: "+r.Dev+"/"+want)
		return
	}
	l.out.Records = append(l.out.Records, r)
}

// decode reads one record strictly, so that nothing stands in it that its hash does not cover.
func decode(raw []byte) (Record, error) {
	var r Record
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return r, err
	}
	if dec.More() {
		return r, errors.New("more than one record stands in it")
	}
	if why := r.malformed(); why != "" {
		return r, errors.New(why)
	}
	return r, nil
}

func (l *loader) photo(dir string, e fs.DirEntry) {
	file := path.Join(dir, e.Name())
	if hash, ok := hashName(e.Name(), ".jpg"); ok && e.Type().IsRegular() {
		l.out.Photos[hash] = file
	} else {
		l.stranger(file)
	}
}

func (l *loader) statement(dir string, e fs.DirEntry) {
	file := path.Join(dir, e.Name())
	seal, ok := hashName(e.Name(), ".json")
	if !ok {
		l.stranger(file)
		return
	}
	data, ok := l.read(file, e)
	if !ok {
		return
	}
	var lines []Line
	if err := json.Unmarshal(data, &lines); err != nil || Seal(lines) != seal {
		l.damaged(file, "these are not the words of that seal")
		return
	}
	l.out.Statements[seal] = lines
}

func (l *loader) receipt(dir string, e fs.DirEntry) {
	file := path.Join(dir, e.Name())
	if path.Ext(file) != ".json" {
		l.stranger(file)
		return
	}
	data, ok := l.read(file, e)
	if !ok {
		return
	}
	var r Receipt
	if err := json.Unmarshal(data, &r); err != nil || !isHex(r.Hash, 64) || !isHex(r.Dev, 24) {
		l.damaged(file, "this is no receipt")
		return
	}
	l.out.Receipts = append(l.out.Receipts, r)
}

// chains reports gaps, forks and what was once received and is gone.
func (l *loader) chains() {
	chain := Verify(l.out.Records)
	for _, f := range chain.Sorted() {
		f.Level, f.Pos.File = diag.Open, path.Join(Folder, tabletsDir)
		l.found.Add(f)
	}
	have := map[string]bool{}
	for _, r := range l.out.Records {
		have[r.Hash] = true
	}
	for _, r := range l.out.Receipts {
		if !have[r.Hash] {
			l.found.Openf(diag.Pos{File: path.Join(Folder, tabletsDir)}, "", fromBackup,
				"record %d of tablet %s was received %s and is no longer here", r.Seq, short(r.Dev), r.At)
		}
	}
	missing := 0
	for _, r := range l.out.Records {
		if r.Kind == Photo && l.out.Photos[r.Value] == "" {
			missing++
		}
	}
	if missing > 0 {
		l.found.Openf(diag.Pos{File: path.Join(Folder, photosDir)}, "", "export again from the tablet and gather the file",
			"%d photos are recorded and not here", missing)
	}
}

// CheckPhotos holds every photo's bytes against its name. It reads them all, which Load does not.
func CheckPhotos(job fs.FS, j Journal) diag.List {
	var found diag.List
	var names []string
	for hash := range j.Photos {
		names = append(names, hash)
	}
	slices.Sort(names)
	for _, hash := range names {
		data, err := fs.ReadFile(job, j.Photos[hash])
		if err == nil && digest(data) != hash {
			err = fmt.Errorf("photo %s was changed after it was taken", short(hash))
		}
		if err != nil {
			found.Openf(diag.Pos{File: j.Photos[hash]}, "", fromBackup, "%v", err)
		}
	}
	return found
}

// hashName takes a file name of 64 hex digits and an ending apart.
func hashName(name, ending string) (string, bool) {
	hash, ok := strings.CutSuffix(name, ending)
	return hash, ok && isHex(hash, 64)
}
