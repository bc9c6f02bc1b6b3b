package jobfile

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"path"
	"regexp"
	"strings"

	"lapwork/generator/job"
)

type rawInstrument struct{ id, kind, name, serial, calibrated, due at[string] }

var instrumentValue = object("an instrument",
	field("id", "short name that is written beside a reading", id(plainName), func(i *rawInstrument) *at[string] { return &i.id }).required(),
	field("kind", "what it measures", word(job.InstrumentKinds...), func(i *rawInstrument) *at[string] { return &i.kind }).required(),
	field("name", "what it is", text(120), func(i *rawInstrument) *at[string] { return &i.name }),
	field("serial", "number on it", text(60), func(i *rawInstrument) *at[string] { return &i.serial }),
	field("calibrated", "day of its last calibration", date, func(i *rawInstrument) *at[string] { return &i.calibrated }),
	field("due", "day to which that holds; a reading later than this is flagged", date, func(i *rawInstrument) *at[string] { return &i.due }),
)

type rawAttachment struct{ file, kind, title, about, document at[string] }

var attachmentValue = object("an attachment",
	field("file", "a .pdf, .jpg, .png, .txt or .csv file inside the job's folder", id(paperName), func(a *rawAttachment) *at[string] { return &a.file }).required(),
	field("kind", "what it is", word(job.AttachmentKinds...), func(a *rawAttachment) *at[string] { return &a.kind }).required(),
	field("title", "what stands in the list", text(120), func(a *rawAttachment) *at[string] { return &a.title }).required(),
	field("for", "room, surface or component it is about", text(80), func(a *rawAttachment) *at[string] { return &a.about }),
	field("document", "document of the handover that it is: D-14", knownID("a document of the handover", func(k Known) Set { return k.Documents }), func(a *rawAttachment) *at[string] { return &a.document }),
)

// paperName allows what a browser shows or saves and never runs.
var paperName = nameRule{"an attachment", regexp.MustCompile(`^[A-Za-z0-9_][A-Za-z0-9_.-]*(/[A-Za-z0-9_][A-Za-z0-9_.-]*)*\.(pdf|jpg|jpeg|png|txt|csv)$`),
	"a .pdf, .jpg, .png, .txt or .csv file inside the job's folder: papers/survey.pdf"}

// Bounds of the attachments: what a pack can carry to a tablet. Own choice.
const (
	maxPaper     = 20 << 20
	maxAllPapers = 100 << 20
	mostPapers   = 200
)

// papers resolves the instruments and reads, measures and hashes the attachments.
func (s *resolver) papers() {
	seen := map[string]bool{}
	for _, i := range s.raw.instruments.v {
		v := i.v
		if v.id.v == "" {
			continue
		}
		if seen[v.id.v] {
			s.fault(v.id.pos, "give each instrument an id of its own", "instrument %q is stated twice", clip(v.id.v))
			continue
		}
		seen[v.id.v] = true
		if v.due.set() && v.calibrated.set() && v.due.v < v.calibrated.v {
			s.fault(v.due.pos, "correct one of the two days", "the calibration of %s ends on %s, before it was made on %s", clip(v.id.v), v.due.v, v.calibrated.v)
		}
		s.job.Instruments = append(s.job.Instruments, job.Instrument{ID: v.id.v, Kind: v.kind.v, Name: v.name.v, Serial: v.serial.v,
			Calibrated: v.calibrated.v, Due: v.due.v, Pos: i.pos})
	}
	var all int64
	files := map[string]bool{}
	for _, a := range s.raw.attachments.v {
		v := a.v
		if v.file.v == "" {
			continue
		}
		if files[v.file.v] {
			s.fault(v.file.pos, "name it once", "attachment %q is stated twice", clip(v.file.v))
			continue
		}
		files[v.file.v] = true
		one := job.Attachment{File: v.file.v, Path: path.Join(s.dir, v.file.v), Kind: v.kind.v, Title: v.title.v, For: v.about.v, Is: v.document.v, Pos: a.pos}
		var err error
		one.Bytes, one.Hash, err = paper(s.fsys, one.Path)
		if all += one.Bytes; err == nil && all > maxAllPapers {
			s.fault(v.file.pos, "leave out what the site does not need", "the attachments are larger than 100 MB together")
			return
		}
		if err != nil {
			s.fault(v.file.pos, "put a plain file of at most 20 MB there, inside the job's folder", "attachment %q %s", clip(v.file.v), whyNot(err))
			continue
		}
		s.job.Attachments = append(s.job.Attachments, one)
	}
}

var errLink = errors.New("is a link or no plain file")

func whyNot(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "is not there"
	case errors.Is(err, errTooLarge):
		return "is larger than 20 MB"
	case errors.Is(err, errLink):
		return errLink.Error()
	}
	return "cannot be read"
}

// paper measures and hashes a file. A link on the way to it is refused: it might lead out of the job's folder.
func paper(fsys fs.FS, name string) (size int64, hash string, err error) {
	steps := strings.Split(name, "/")
	for i := range steps {
		info, err := fs.Lstat(fsys, path.Join(steps[:i+1]...))
		if err != nil {
			return 0, "", err
		}
		if last := i == len(steps)-1; last && !info.Mode().IsRegular() || !last && !info.IsDir() {
			return 0, "", errLink
		}
	}
	f, err := fsys.Open(name)
	if err != nil {
		return 0, "", err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	sum := sha256.New()
	size, err = io.Copy(sum, io.LimitReader(f, maxPaper+1))
	if err == nil && size > maxPaper {
		return 0, "", errTooLarge
	}
	return size, hex.EncodeToString(sum.Sum(nil)), err
}
