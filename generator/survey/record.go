package survey

import (
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"path/filepath"
)

// RecordFile is the file of a job's folder that remembers what a survey wrote, so that a later one can tell what people
// changed since from what changed in the surveyed file.
const RecordFile = "survey.json"

// record is the content of RecordFile.
type record struct {
	About  string       `json:"about"`
	Source string       `json:"source"`
	SHA256 string       `json:"sha256,omitempty"`
	Rooms  []recordRoom `json:"rooms"`

	Assumed []string `json:"assumed,omitempty"` // what was written into the job's list of it
}

// recordRoom is a room as a survey wrote it: each key as text, lists by the id in the job.
type recordRoom struct {
	ID     string                       `json:"id"`
	Source string                       `json:"source"`
	Part   int                          `json:"part,omitempty"` // of a space that became several rooms, from 1
	Keys   map[string]string            `json:"keys"`
	Items  map[string]map[string]string `json:"items,omitempty"` // list, item id, text
	From   map[string]map[string]string `json:"from,omitempty"`  // list, item id, id in the file
}

const about = "What the last survey wrote. Lapwork reads it when the file is surveyed again; do not edit."

// record writes the record of the rooms as surveyed now; kept are rooms of an earlier one that the file no longer holds.
func (w *writer) record(kept []recordRoom) []byte {
	rec := record{About: about, Source: path.Base(filepath.ToSlash(w.Source.Name)), SHA256: w.Source.SHA256, Rooms: []recordRoom{}, Assumed: w.assumptions()}
	for _, r := range w.Rooms {
		rec.Rooms = append(rec.Rooms, w.recordRoom(r))
	}
	rec.Rooms = append(rec.Rooms, kept...)
	out, err := json.MarshalIndent(rec, "", " ")
	if err != nil { // strings and maps of strings always encode
		panic(err)
	}
	return append(out, '\n')
}

func (w *writer) recordRoom(r *Room) recordRoom {
	out := recordRoom{ID: string(r.ID), Source: r.Space.ID, Part: w.partOf(r), Keys: map[string]string{}}
	for _, kv := range w.roomKeys(r)[1:] {
		if kv.items == nil {
			out.Keys[kv.key] = kv.text
			continue
		}
		items, from := map[string]string{}, map[string]string{}
		for _, it := range kv.items {
			items[it.id], from[it.id] = it.text, it.source
		}
		if out.Items == nil {
			out.Items, out.From = map[string]map[string]string{}, map[string]map[string]string{}
		}
		out.Items[kv.key], out.From[kv.key] = items, from
	}
	return out
}

// partOf numbers the rooms of one space, from 1; 0 for a space that is one room.
func (s *Survey) partOf(r *Room) int {
	n, own := 0, 0
	for _, o := range s.Rooms {
		if o.Space == r.Space {
			n++
			if o == r {
				own = n
			}
		}
	}
	if n == 1 {
		return 0
	}
	return own
}

// readRecord reads a record.
func readRecord(data []byte) (record, error) {
	var rec record
	if err := json.Unmarshal(data, &rec); err != nil {
		return rec, fmt.Errorf("%s: %w", RecordFile, err)
	}
	for _, r := range rec.Rooms {
		if r.ID == "" {
			return rec, errors.New(RecordFile + ": a room has no id")
		}
	}
	return rec, nil
}
