// Package record is the Go side of what tablets record: ticks, readings, photos, notes, defects and signatures. A record
// is one entry of one tablet's append-only chain; an export is a file of them. The same canonical text and the same
// SHA-256 are computed here and in the pack's script, so that a changed value shows on either side.
package record

import (
	"crypto/sha256"
	"encoding/hex"
)

// Kind says what a record holds.
type Kind string

// The kinds of record.
const (
	Tick    Kind = "tick"   // Value yes, no or na; But names the places a yes leaves out
	Reading Kind = "meas"   // Value a decimal string with a point, Unit its unit
	Photo   Kind = "photo"  // Value the SHA-256 of the picture's bytes, hex
	Note    Kind = "note"   // Text
	Defect  Kind = "defect" // Value the kind of defect; Place, Severity, Cause, Text; Of and Value "closed" close one
	Sign    Kind = "sign"   // Name, Role, Strokes, Seals, Covers
	Void    Kind = "void"   // Of the id it takes back, Reason

	// The kinds that came with version 2.
	Cut    Kind = "cut"    // a strip measured on site: Value its clear length in mm, Place the strip
	Stand  Kind = "stand"  // still true as built: Covers the hashes of superseded records of Check, Name and Reason
	Settle Kind = "settle" // a spot without a method settled on site: Place the junction, Value the method, Name who decided, Text the instruction
	Start  Kind = "start"  // today's readings: Fields air, rh, surface, timber, answer
	Goods  Kind = "goods"  // goods taken in: Place the component, Value the batch, Fields useby, amount
	Work   Kind = "work"   // time taken: Place the room, Value person-minutes, Fields kind (a statement), places (how many of them; none: all of the room)
	Day    Kind = "day"    // a day's sheet: Value the date, Name who signs, Fields crew, hours, climate, done, blocked, minutes
)

// Record is one entry. Empty fields are left out of its canonical text.
type Record struct {
	V     int    `json:"v"`  // version of this form: 1, or 2 for what came later
	ID    string `json:"id"` // 24 hex digits, drawn by the tablet
	Pack  string `json:"pack"`
	Rev   string `json:"rev"`
	Lang  string `json:"lang"` // language shown: the seal differs with it
	Dev   string `json:"dev"`  // the tablet: 24 hex digits
	Seq   int    `json:"seq"`  // position in the tablet's chain, from 1
	Prev  string `json:"prev,omitempty"`
	At    string `json:"at"` // RFC 3339 with the tablet's offset: what its clock said
	Who   string `json:"who,omitempty"`
	Job   string `json:"job,omitempty"`
	Check string `json:"check,omitempty"` // room, QA id, object id; the same in every build and language
	Seal  string `json:"seal,omitempty"`  // of the statement shown
	Kind  Kind   `json:"kind"`

	Value    string            `json:"value,omitempty"`
	Unit     string            `json:"unit,omitempty"`
	Reason   string            `json:"reason,omitempty"`
	But      []string          `json:"but,omitempty"`
	Name     string            `json:"name,omitempty"`
	Role     string            `json:"role,omitempty"`
	Strokes  [][]int           `json:"strokes,omitempty"` // x, y, x, y ... in a box of 1000 x 300
	Seals    map[string]string `json:"seals,omitempty"`   // page to seal
	Covers   []string          `json:"covers,omitempty"`  // hashes of the entries then shown
	Of       string            `json:"of,omitempty"`
	Place    string            `json:"place,omitempty"`
	Severity string            `json:"severity,omitempty"`
	Cause    string            `json:"cause,omitempty"`
	Text     string            `json:"text,omitempty"`
	Tool     string            `json:"tool,omitempty"`   // instrument of a reading; version 2
	Fields   map[string]string `json:"fields,omitempty"` // what else a kind of version 2 holds

	Hash string `json:"hash,omitempty"` // SHA-256 of the canonical text without this field, hex
}

// Sum is the hash that r should carry.
func (r Record) Sum() (string, error) {
	r.Hash = ""
	text, err := Canonical(r)
	if err != nil {
		return "", err
	}
	return digest(text), nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
