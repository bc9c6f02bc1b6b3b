package generator

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/picture"
	"lapwork/generator/record"
)

// Pictures stand in a page as small ones. Together they may take this much of it; later ones are named and lie in the
// folder only, so that the single file stays below its aim of 3 MB. Own choice.
const (
	smallSide    = 320
	maxSmallSum  = 1 << 20
	photosFolder = "photos"
)

// siteWork is what came home from the site: records, photos, and what is wrong with them.
type siteWork struct {
	journal record.Journal
	photos  map[string]pack.Photo
	files   []output.File // the whole photos
	notes   []diag.Finding
}

// fromSite puts the photos to a job's records, with what is wrong with either.
func fromSite(jobFS fs.FS, journal record.Journal, found diag.List) siteWork {
	small, files, spoilt := photos(jobFS, journal)
	found.Add(spoilt...)
	return siteWork{journal, small, files, found.Sorted()}
}

// calendarFile is the calendar beside the pages; none where the job has no days.
func calendarFile(r *assess.Results) []output.File {
	data, dated := Calendar(r)
	if !dated {
		return nil
	}
	return []output.File{{Path: pack.CalendarFile, Data: data}}
}

// photos makes the small picture of each photo of the journal, in the order of their records, and puts the whole ones beside
// the pages. A photo that cannot be read or is not what its name says is a finding, and its record stays.
func photos(jobFS fs.FS, j record.Journal) (map[string]pack.Photo, []output.File, []diag.Finding) {
	var found diag.List
	small := map[string]pack.Photo{}
	sum := 0
	for _, r := range record.Latest(j.Records) {
		name, here := j.Photos[r.Value]
		if _, seen := small[r.Value]; r.Kind != record.Photo || !here || seen {
			continue
		}
		data, err := fs.ReadFile(jobFS, name)
		if err == nil && hashOf(data) != r.Value {
			err = fmt.Errorf("photo %s was changed after it was taken", r.Value[:6])
		}
		p := pack.Photo{File: path.Join(photosFolder, r.Value+".jpg")}
		if err == nil && sum < maxSmallSum {
			var bytes []byte
			if bytes, p.Width, p.Height, err = picture.Small(data, smallSide); err == nil {
				p.Small = "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(bytes)
				sum += len(p.Small)
			}
		}
		if err != nil {
			found.Openf(diag.Pos{File: name}, r.Check, "gather the tablet's export again, or take the file from a backup", "%v; the pack goes without it", err)
			continue
		}
		small[r.Value] = p
	}
	var files []output.File
	for _, hash := range slices.Sorted(maps.Keys(small)) {
		files = append(files, copied(jobFS, j.Photos[hash], small[hash].File, hash))
	}
	return small, files, found.Sorted()
}

// papers puts the attachments beside the pages.
func papers(jobFS fs.FS, j *job.Job) []output.File {
	var files []output.File
	for _, a := range j.Attachments {
		files = append(files, copied(jobFS, a.Path, pack.PaperFile(a), a.Hash))
	}
	return files
}

// copied is a file of the job as a file of the pack, read when it is written; one that has changed since its hash was taken
// stops the writing.
func copied(jobFS fs.FS, from, to, hash string) output.File {
	return output.File{Path: to, Make: func(b []byte) ([]byte, error) {
		data, err := fs.ReadFile(jobFS, from)
		if err == nil && hashOf(data) != hash {
			err = fmt.Errorf("%s changed while the pack was made", from)
		}
		return append(b, data...), err
	}}
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
