package jobfile

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// Read reads the job in a folder of fsys: job.yaml and the files it names. Everything wrong goes into found, in one run.
// The job is nil when nothing could be read; with faults in found it is incomplete and only good for further checks.
// Paths never leave the folder as named; whether a link inside it may, is up to fsys.
func Read(fsys fs.FS, dir string, known Known, found *diag.List) *job.Job {
	return readJob(&reader{fsys: fsys, dir: dir, shown: dir, known: known, found: found})
}

// ReadFolder reads the job that fsys itself is the folder of. Findings call the folder by the name shown, which may be any
// path that a user writes.
func ReadFolder(fsys fs.FS, shown string, known Known, found *diag.List) *job.Job {
	return readJob(&reader{fsys: fsys, dir: ".", shown: shown, known: known, found: found})
}

func readJob(r *reader) *job.Job {
	top := diag.Pos{File: path.Join(r.shown, "job.yaml")}
	root := r.open("job.yaml", top)
	if root == nil {
		return nil
	}
	top = r.pos(root)
	r.unit = lengthsOf(root)
	var raw rawJob
	if !readKeys(r, root, "the job", optional(jobKeys()), &raw) {
		return nil
	}
	for _, f := range r.fileNames(raw.files.v) {
		if part := r.open(f.v, f.pos); part != nil {
			readKeys(r, part, "a file of the job", optional(partKeys()), &raw)
		}
	}
	r.tellBare()
	units := r.repeat(&raw)
	if len(raw.rooms.v) > maxRooms {
		r.fault(raw.rooms.pos, "split the job", "%d rooms are more than %d", len(raw.rooms.v), maxRooms)
		return nil
	}
	j := r.resolve(&raw, top)
	j.Units = units
	return j
}

// ReadFirm reads firm.yaml of the folder that fsys is, which findings call by the name shown; nil when it is not there (no
// finding) or cannot be read.
func ReadFirm(fsys fs.FS, shown string, known Known, found *diag.List) *job.FirmSheet {
	if _, err := fs.Stat(fsys, "firm.yaml"); err != nil {
		return nil
	}
	r := &reader{fsys: fsys, dir: ".", shown: shown, known: known, found: found}
	root := r.open("firm.yaml", diag.Pos{File: path.Join(shown, "firm.yaml")})
	if root == nil {
		return nil
	}
	r.unit = lengthsOf(root)
	raw, ok := firmValue.read(r, root)
	r.tellBare()
	if !ok {
		return nil
	}
	return r.resolveFirm(raw, r.pos(root))
}

// Libraries reads from firm.yaml only which detail libraries it pins: they must be loaded before the rest can be checked
// against them. Faults are left to ReadFirm.
func Libraries(fsys fs.FS, shown string) []job.LibraryPin {
	var quiet diag.List
	sheet := ReadFirm(fsys, shown, Known{}, &quiet)
	if sheet == nil {
		return nil
	}
	return sheet.Libraries
}

// Commands reads from firm.yaml only what flags it sets: a command asks before anything else is read. Faults are left to
// ReadFirm.
func Commands(fsys fs.FS) []job.Command {
	var quiet diag.List
	sheet := ReadFirm(fsys, ".", Known{}, &quiet)
	if sheet == nil {
		return nil
	}
	return sheet.Commands
}

// lengthsOf looks ahead for the unit of bare lengths.
func lengthsOf(root *yaml.Node) unit {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Kind == yaml.MappingNode && root.Content[i].Value == "lengths" {
			return units[strings.TrimSpace(root.Content[i+1].Value)]
		}
	}
	return 0
}

// optional gives keys none of which is missed: a job's files together must state them, not each of them.
func optional(keys []*key[*rawJob]) []*key[*rawJob] {
	out := make([]*key[*rawJob], len(keys))
	for i, k := range keys {
		free := *k
		free.must = false
		out[i] = &free
	}
	return out
}

// partKeys are the keys of a further file.
func partKeys() []*key[*rawJob] {
	return slices.DeleteFunc(jobKeys(), func(k *key[*rawJob]) bool { return k.name == "files" || k.name == "lengths" })
}

// fileNames gives the files named, patterns expanded in the order of names, each once.
func (r *reader) fileNames(stated []at[string]) []at[string] {
	var out []at[string]
	seen := map[string]bool{"job.yaml": true, "firm.yaml": true}
	for _, f := range stated {
		names := []string{f.v}
		if strings.Contains(f.v, "*") {
			names = r.glob(f)
		} else if seen[f.v] {
			r.fault(f.pos, "name every further file once", "%q is read already", f.v)
			continue
		}
		for _, name := range names {
			if seen[name] {
				continue
			}
			seen[name] = true
			out = append(out, at[string]{name, f.pos})
		}
	}
	if len(out) > maxFiles {
		r.fault(out[maxFiles].pos, "put several rooms into one file", "%d files are more than %d", len(out), maxFiles)
		return out[:maxFiles]
	}
	return out
}

// glob expands a pattern inside the job's folder.
func (r *reader) glob(f at[string]) []string {
	sub, err := fs.Sub(r.fsys, path.Join(r.dir, "."))
	if err != nil {
		r.fault(f.pos, "check the folder", "the job folder cannot be read")
		return nil
	}
	names, err := fs.Glob(sub, f.v)
	if err != nil || len(names) == 0 {
		r.fault(f.pos, "check the name, or make the files", "no file in the job folder fits %q", f.v)
	}
	return names
}
