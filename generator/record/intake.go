package record

import (
	"bytes"
	"image/jpeg"
	"maps"
	"slices"
	"strings"
	"time"

	"lapwork/generator/diag"
)

// Bounds of what is taken in beside those of an export. A tablet's photo of 1600 px is 0.5 MB. Own choice.
const (
	MaxPhoto  = 8 << 20 // bytes
	maxPixels = 8_000   // longest side
	aheadBy   = 24 * time.Hour
)

// PackID is the name under which tablets keep records of the job with this reference: letters, digits and hyphens of it.
func PackID(reference string) string {
	id := strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '-'
	}, reference), "-")
	if id == "" {
		return "job"
	}
	return id
}

// Terms are what an export is held against before it is taken in.
type Terms struct {
	Pack string    // the job's PackID
	Now  time.Time // the clock of the computer that takes in
}

// Admit gives what of an export may be kept. An export of another job is a fault and none of it is kept. A photo that is
// too large or no picture is left out and its record stays. A tablet's clock a day or more ahead is a note: its records
// stay, and sort after those of tablets that are right.
func (t Terms) Admit(file string, e Export) (Export, diag.List) {
	var found diag.List
	pos := diag.Pos{File: file}
	if others := t.foreign(e); len(others) > 0 {
		found.Faultf(pos, "gather it into the job it was made for", "it belongs to pack %s, this job's is %s", strings.Join(others, ", "), t.Pack)
		return Export{}, found
	}
	photos := map[string][]byte{}
	for _, hash := range slices.Sorted(maps.Keys(e.Photos)) {
		if why := unfit(e.Photos[hash]); why != "" {
			found.Openf(pos, "", "take the photo again, smaller", "photo %s %s and is not kept; its record is", short(hash), why)
			continue
		}
		photos[hash] = e.Photos[hash]
	}
	e.Photos, e.Words = photos, wordsOf(e)
	t.ahead(pos, e, &found)
	return e, found
}

// wordsOf are the statements of an export that its records were made against; others have no business in it.
func wordsOf(e Export) map[string][]Line {
	out := map[string][]Line{}
	for _, r := range e.Records {
		for _, seal := range append(slices.Collect(maps.Values(r.Seals)), r.Seal) {
			if lines, ok := e.Words[seal]; ok {
				out[seal] = lines
			}
		}
	}
	return out
}

// foreign lists the packs named in an export that are not this job's.
func (t Terms) foreign(e Export) []string {
	others := map[string]bool{}
	if e.Pack != t.Pack {
		others[quoted(e.Pack)] = true
	}
	for _, r := range e.Records {
		if r.Pack != t.Pack {
			others[quoted(r.Pack)] = true
		}
	}
	return slices.Sorted(maps.Keys(others))
}

func quoted(name string) string {
	if len(name) > 40 {
		name = name[:40]
	}
	return `"` + strings.ToValidUTF8(name, "") + `"`
}

// unfit says why bytes are no photo to keep; empty: they are one.
func unfit(data []byte) string {
	if len(data) > MaxPhoto {
		return "is larger than 8 MB"
	}
	size, err := jpeg.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return "is not a JPEG picture"
	case size.Width > maxPixels || size.Height > maxPixels:
		return "has more than 8000 pixels a side"
	}
	return ""
}

// ahead notes each tablet whose clock is a day or more ahead.
func (t Terms) ahead(pos diag.Pos, e Export, found *diag.List) {
	latest := map[string]time.Time{}
	for _, r := range e.Records {
		if at, err := time.Parse(time.RFC3339, r.At); err == nil && at.After(latest[r.Dev]) {
			latest[r.Dev] = at
		}
	}
	for _, dev := range slices.Sorted(maps.Keys(latest)) {
		if at := latest[dev]; at.After(t.Now.Add(aheadBy)) {
			found.Add(diag.Finding{Level: diag.Note, Pos: pos, Hint: "set the tablet's clock",
				Msg: "the clock of tablet " + short(dev) + " is ahead: it says " + at.Format("2006-01-02 15:04")})
		}
	}
}
