package record

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"unicode/utf8"

	"lapwork/generator/diag"
)

// Form is what an export says it is.
const Form = "lapwork-records"

// Bounds of an export: what one job's tablet can reach with room to spare. Own choice.
const (
	MaxBytes   = 96 << 20
	MaxRecords = 200_000
	MaxText    = 8_000  // bytes of one text field
	MaxPoints  = 40_000 // numbers in one signature
)

// Export is one file from a tablet. A part of a split export carries every record and some of the photos.
type Export struct {
	Pack, Rev, Dev, At string
	Records            []Record
	Photos             map[string][]byte // by SHA-256, hex
	Words              map[string][]Line // statements that were recorded against, by seal; older packs sent none
}

// Parse reads an export; file names it in findings. It looks at content, not at the name. Every fault is reported; the
// export holds what could be read, and nothing of it may be used where there is a fault.
func Parse(file string, data []byte) (Export, diag.List) {
	p := &parser{file: file, data: data}
	p.read()
	return p.out, p.found
}

type parser struct {
	file  string
	data  []byte
	dec   *json.Decoder
	out   Export
	form  string
	v     int
	found diag.List
}

// errStop ends reading after its cause is in the findings.
var errStop = errors.New("reading stopped")

func (p *parser) pos() diag.Pos {
	at := min(int(p.dec.InputOffset()), len(p.data))
	before := p.data[:at]
	line := bytes.Count(before, []byte("\n")) + 1
	return diag.Pos{File: p.file, Line: line, Col: at - bytes.LastIndexByte(before, '\n')}
}

func (p *parser) stop(hint, format string, args ...any) error {
	p.found.Faultf(p.pos(), hint, format, args...)
	return errStop
}

const again = "export again from the tablet"

func (p *parser) read() {
	p.dec = json.NewDecoder(bytes.NewReader(p.data))
	if len(p.data) > MaxBytes {
		p.found.Faultf(diag.Pos{File: p.file}, "split it by room when exporting", "the file is larger than %d MB", MaxBytes>>20)
		return
	}
	if !utf8.Valid(p.data) {
		p.found.Faultf(diag.Pos{File: p.file}, again, "the file is not UTF-8 text")
		return
	}
	if err := p.object(p.field); err != nil {
		return
	}
	if _, err := p.dec.Token(); err != io.EOF {
		p.found.Faultf(p.pos(), again, "there is more after the end of the export")
	}
	switch {
	case p.form != Form:
		p.found.Faultf(p.pos(), "is it an export of a pack?", "this is not a %s file", Form)
		return
	case p.v != 1:
		p.found.Faultf(p.pos(), "the pack is newer than this program", "this export is of version %d; version 1 can be read", p.v)
		return
	}
	chain := Verify(p.out.Records)
	for _, f := range chain.Sorted() {
		f.Pos.File = p.file
		p.found.Add(f)
	}
	p.missingPhotos()
}

// object reads one object and hands each key to field, which must take the value.
func (p *parser) object(field func(key string) error) error {
	if err := p.delim('{'); err != nil {
		return err
	}
	for p.dec.More() {
		tok, err := p.dec.Token()
		if err != nil {
			return p.stop(again, "the file is cut off or damaged: %v", err)
		}
		key, ok := tok.(string)
		if !ok {
			return p.stop(again, "a name is expected here")
		}
		if err := field(key); err != nil {
			return err
		}
	}
	return p.delim('}')
}

func (p *parser) delim(want json.Delim) error {
	tok, err := p.dec.Token()
	if err != nil {
		return p.stop(again, "the file is cut off or damaged: %v", err)
	}
	if tok != want {
		return p.stop("is it an export of a pack?", "%q is expected here", want.String())
	}
	return nil
}

func (p *parser) into(v any) error {
	if err := p.dec.Decode(v); err != nil {
		return p.stop(again, "the file is cut off or damaged: %v", err)
	}
	return nil
}

func (p *parser) field(key string) error {
	switch key {
	case "v":
		return p.into(&p.v)
	case "form":
		return p.into(&p.form)
	case "pack":
		return p.into(&p.out.Pack)
	case "rev":
		return p.into(&p.out.Rev)
	case "dev":
		return p.into(&p.out.Dev)
	case "at":
		return p.into(&p.out.At)
	case "records":
		return p.records()
	case "photos":
		return p.object(p.photo)
	case "words":
		return p.object(p.words)
	}
	return p.stop("the pack is newer than this program", "unknown name %q in the export", key)
}

func (p *parser) records() error {
	if err := p.delim('['); err != nil {
		return err
	}
	for p.dec.More() {
		if len(p.out.Records) >= MaxRecords {
			return p.stop("split it by room when exporting", "more than %d records", MaxRecords)
		}
		var raw json.RawMessage
		if err := p.into(&raw); err != nil {
			return err
		}
		p.record(raw)
	}
	return p.delim(']')
}

func (p *parser) record(raw json.RawMessage) {
	r, err := decode(raw)
	if err != nil {
		p.found.Faultf(p.pos(), again, "record %d of the file: %v", len(p.out.Records)+1, err)
		return
	}
	p.out.Records = append(p.out.Records, r)
}

func (p *parser) photo(hash string) error {
	var text string
	if err := p.into(&text); err != nil {
		return err
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil || digest(data) != hash {
		p.found.Faultf(p.pos(), again, "photo %s was changed after it was taken", short(hash))
		return nil
	}
	if p.out.Photos == nil {
		p.out.Photos = map[string][]byte{}
	}
	p.out.Photos[hash] = data
	return nil
}

// words takes one statement. Its seal is the hash of its words, so that a changed one shows.
func (p *parser) words(seal string) error {
	var lines []Line
	if err := p.into(&lines); err != nil {
		return err
	}
	if len(p.out.Words) >= MaxRecords {
		return p.stop("split it by room when exporting", "more than %d statements", MaxRecords)
	}
	if len(lines) > maxLines || slices.ContainsFunc(lines, Line.tooLong) || Seal(lines) != seal {
		p.found.Faultf(p.pos(), again, "the words of seal %s were changed", short(seal))
		return nil
	}
	if p.out.Words == nil {
		p.out.Words = map[string][]Line{}
	}
	p.out.Words[seal] = lines
	return nil
}

// maxLines is the most lines of one statement: a check has six. Own choice.
const maxLines = 100

func (l Line) tooLong() bool { return len(l.Key)+len(l.Text)+len(l.Unit) > MaxText }

func (p *parser) missingPhotos() {
	n := 0
	for _, r := range p.out.Records {
		if r.Kind == Photo && p.out.Photos[r.Value] == nil {
			n++
		}
	}
	if n > 0 {
		p.found.Notef(diag.Pos{File: p.file}, "", "%d photos are not in this file; they may be in another part of it", n)
	}
}
