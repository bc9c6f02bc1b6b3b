package workbook

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
)

// Limits bound what Read takes from a file. Each must be given: nothing is read beyond one that is 0.
type Limits struct {
	Bytes   int64 // unpacked, of all parts that are read
	Part    int64 // unpacked, of one part
	Sheets  int
	Rows    int // of a sheet, down to the last that holds something
	Columns int // of a sheet, as far as the last cell that holds something
	Cells   int // of all sheets, with the blank ones between; and texts that cells share
	Text    int // bytes of one cell
}

// ErrCompound is given for a compound document: a workbook with a password, or one in the binary format before 2007.
var ErrCompound = errors.New("this workbook is locked with a password, or of the old kind (.xls): save it as .xlsx without a password")

// compound is how a compound document begins.
const compound = "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"

// IsCompound says whether a file begins as a compound document; eight bytes tell.
func IsCompound(head []byte) bool { return strings.HasPrefix(string(head), compound) }

// book is a workbook while it is read.
type book struct {
	limits Limits
	left   int64 // bytes that may still be unpacked
	cells  int   // that may still be kept
	parts  map[string]*zip.File
	shared []string // texts that cells name by number
}

// Read reads the sheets of a workbook in its order, hidden ones too, with the values that are stored and not as they are
// shown. A sheet of another kind, such as a chart, has no rows.
func Read(data io.ReaderAt, size int64, limits Limits) ([]Sheet, error) {
	begin := make([]byte, len(compound))
	if n, err := data.ReadAt(begin, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	} else if IsCompound(begin[:n]) {
		return nil, ErrCompound
	}
	z, err := zip.NewReader(data, size)
	if err != nil {
		return nil, fmt.Errorf("this is no workbook, or only a part of one: %w", err)
	}
	b := &book{limits: limits, left: limits.Bytes, cells: limits.Cells, parts: map[string]*zip.File{}}
	for _, f := range z.File {
		name := partName(f.Name)
		if _, twice := b.parts[name]; twice {
			return nil, fmt.Errorf("two parts have the name %s", name)
		}
		b.parts[name] = f
	}
	return b.read()
}

// partName is the name of a part as names are compared: without regard to capitals (part 2, 9.1.1), from the root.
func partName(name string) string {
	return strings.ToLower(strings.TrimPrefix(path.Clean("/"+strings.ReplaceAll(name, `\`, "/")), "/"))
}

func (b *book) read() ([]Sheet, error) {
	main := "xl/workbook.xml"
	root, err := b.relationships("")
	if err != nil {
		return nil, err
	}
	for _, r := range root {
		if r.kind == "officeDocument" {
			main = r.target
		}
	}
	found, err := b.relationships(main)
	if err != nil {
		return nil, err
	}
	listed, err := b.sheetList(main)
	if err != nil {
		return nil, err
	}
	for _, r := range found {
		if r.kind == "sharedStrings" {
			if err := b.readShared(r.target); err != nil {
				return nil, err
			}
		}
	}
	sheets := make([]Sheet, len(listed))
	for i, l := range listed {
		r, ok := found[l.id]
		if !ok {
			return nil, fmt.Errorf("sheet %s: the workbook does not say where it is", l.name)
		}
		sheets[i].Name = l.name
		if r.kind != "worksheet" {
			continue
		}
		if sheets[i].Rows, err = b.readRows(r.target); err != nil {
			return nil, fmt.Errorf("sheet %s: %w", l.name, err)
		}
	}
	return sheets, nil
}

// relationship is what a part says of another.
type relationship struct{ kind, target string }

// relationships reads what a part says of others, by id; for "" what the whole file says. A part that says nothing has none.
func (b *book) relationships(of string) (map[string]relationship, error) {
	dir, base := path.Split(of)
	name := path.Join(dir, "_rels", base+".rels")
	if b.parts[name] == nil {
		return nil, nil
	}
	out := map[string]relationship{}
	err := b.each(name, func(x *tokens, e xml.StartElement) error {
		if e.Name.Local != "Relationship" || attr(e, "TargetMode") == "External" {
			return nil
		}
		kind, target := attr(e, "Type"), attr(e, "Target")
		if !strings.HasPrefix(target, "/") {
			target = dir + target
		}
		// Both sets of names, .../officeDocument/2006/relationships/X and .../officeDocument/relationships/X, end in the kind.
		out[attr(e, "Id")] = relationship{kind[strings.LastIndexByte(kind, '/')+1:], partName(target)}
		return nil
	})
	return out, err
}

// listed is a sheet as the workbook names it.
type listed struct{ name, id string }

func (b *book) sheetList(main string) ([]listed, error) {
	var out []listed
	err := b.each(main, func(x *tokens, e xml.StartElement) error {
		if e.Name.Local != "sheet" || x.depth != 3 { // workbook, sheets, sheet
			return nil
		}
		if len(out) >= b.limits.Sheets {
			return fmt.Errorf("more than %d sheets", b.limits.Sheets)
		}
		l := listed{name: attr(e, "name")}
		for _, a := range e.Attr {
			if a.Name.Local == "id" && strings.HasSuffix(a.Name.Space, "/relationships") {
				l.id = a.Value
			}
		}
		out = append(out, l)
		return nil
	})
	if err == nil && len(out) == 0 {
		err = errors.New("the workbook has no sheet")
	}
	return out, err
}

// each calls visit for every element of a part in its order. What visit reads of it itself is not visited.
func (b *book) each(name string, visit func(x *tokens, e xml.StartElement) error) (err error) {
	file := b.parts[name]
	if file == nil {
		return fmt.Errorf("the part %s is missing", name)
	}
	in, err := file.Open()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	defer func() { err = errors.Join(err, in.Close()) }()
	x := &tokens{d: xml.NewDecoder(&guard{in: in, book: b, left: b.limits.Part})}
	for {
		t, err := x.next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if e, ok := t.(xml.StartElement); ok {
			if err := visit(x, e); err != nil {
				return err
			}
		}
	}
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
