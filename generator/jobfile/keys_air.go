package jobfile

import (
	"errors"
	"io/fs"
	"path"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

type rawMeasures struct {
	volume, envelope, floor at[float64]
	reason                  at[string]
}

var measuresValue = object("measures",
	field("volume", "internal volume V in m³", number(1, 1e7), func(m *rawMeasures) *at[float64] { return &m.volume }),
	field("envelope-area", "envelope area AE in m²", number(1, 1e7), func(m *rawMeasures) *at[float64] { return &m.envelope }),
	field("floor-area", "floor area AF in m²", number(1, 1e7), func(m *rawMeasures) *at[float64] { return &m.floor }),
	field("reason", "who took them, how, and why not from the rooms", text(400), func(m *rawMeasures) *at[string] { return &m.reason }).required(),
)

type rawTest struct{ file, kind, by, role, report at[string] }

var testValue = object("a fan test",
	field("file", "its readings, a .csv file inside the job's folder", id(readingsName), func(t *rawTest) *at[string] { return &t.file }).required(),
	field("kind", "which test it is", word(string(job.BaselineTest), string(job.InterimTest), string(job.FinalTest)), func(t *rawTest) *at[string] { return &t.kind }).required(),
	field("by", "who read it", text(120), func(t *rawTest) *at[string] { return &t.by }).required(),
	field("role", "that person's part in the job; anybody's but the tester's counts as the firm's own reading", word(job.Roles...), func(t *rawTest) *at[string] { return &t.role }),
	field("report", "number of the tester's signed report", text(120), func(t *rawTest) *at[string] { return &t.report }),
)

// air resolves the stated measures and reads the files of the fan tests.
func (s *resolver) air() {
	if m := s.raw.measures; m.set() {
		s.job.Measures = &job.Measures{Volume: q.Volume(m.v.volume.v), EnvelopeArea: q.Area(m.v.envelope.v), FloorArea: q.Area(m.v.floor.v),
			Reason: m.v.reason.v, Pos: m.pos}
	}
	for _, t := range s.raw.tests.v {
		if t.v.file.v == "" {
			continue
		}
		readings, ok := s.readings(t.v.file)
		if !ok {
			continue
		}
		s.job.Tests = append(s.job.Tests, job.FanTest{File: t.v.file.v, Shown: path.Join(s.shown, t.v.file.v), Readings: readings,
			Kind: job.TestKind(t.v.kind.v), By: t.v.by.v, Role: t.v.role.v, Report: t.v.report.v, Pos: t.pos})
	}
	s.unnamedTests()
}

// mostUnnamed bounds the notes about readings that the job does not name.
const mostUnnamed = 10

// unnamedTests notes readings that lie in the folder tests and that the job does not name: they count for nothing.
func (s *resolver) unnamedTests() {
	entries, err := fs.ReadDir(s.fsys, path.Join(s.dir, "tests"))
	if err != nil {
		return // no such folder
	}
	named, left := map[string]bool{}, 0
	for _, t := range s.raw.tests.v {
		named[path.Clean(t.v.file.v)] = true
	}
	for _, e := range entries {
		name := path.Join("tests", e.Name())
		if e.IsDir() || path.Ext(name) != ".csv" || named[name] {
			continue
		}
		if left++; left <= mostUnnamed {
			var told diag.List
			told.Openf(diag.Pos{File: path.Join(s.shown, "job.yaml")}, "", "name it under tests: with file, kind and by; or move it away", "the readings %s are not named in the job and count for nothing", clip(name))
			for _, f := range told.Sorted() {
				f.Level = diag.Note // nothing waits for it
				s.found.Add(f)
			}
		}
	}
}

// readings reads the file of a fan test as it stands.
func (s *resolver) readings(file at[string]) ([]byte, bool) {
	return s.attached(file, "check that it is a file of readings that you may read")
}

// attached reads another file of the job's folder as it stands.
func (s *resolver) attached(file at[string], hint string) ([]byte, bool) {
	text, err := readLimited(s.fsys, path.Join(s.dir, file.v))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		s.fault(file.pos, "check the name, or put the file there", "there is no file %q in the job folder", clip(file.v))
		return nil, false
	case errors.Is(err, errTooLarge):
		s.fault(file.pos, hint, "%q is larger than 4 MiB", clip(file.v))
		return nil, false
	case err != nil:
		s.fault(file.pos, hint, "%q cannot be read", clip(file.v))
		return nil, false
	}
	s.bytes += len(text)
	if s.bytes > maxAllBytes {
		s.fault(file.pos, "leave out what the job does not need", "the job's files are larger than 32 MiB together")
		return nil, false
	}
	return text, true
}
