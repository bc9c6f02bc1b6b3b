// Package content holds what a pack is made from besides the job: the demo job, the detail library, its languages, the tables of the
// trade and the schema of the records. It is handed in as a file system, so that a folder can stand in for it. The schema of
// the job files is made from the keys that read them; the one kept here is for editors and is not embedded.
package content

import (
	"archive/zip"
	"embed"
	"io"
	"io/fs"
	"slices"
	"strings"
	"sync"
)

//go:embed demo library schema/records.schema.json start tables
var plain embed.FS

// The languages go into the program compressed: they are 2 MB of text, of which a pack reads one language or two.
//
//go:embed lang.zip
var zipped string

// FS holds everything under content. What it holds under lang stands in lang.zip; after a change there
// "go test ./content -update" packs it anew.
var FS fs.FS = folder{}

var languages = sync.OnceValue(func() *zip.Reader {
	r, err := zip.NewReader(strings.NewReader(zipped), int64(len(zipped)))
	if err != nil {
		panic("content: lang.zip: " + err.Error()) // it is part of the program and tested
	}
	return r
})

// folder is the plain files and the compressed ones as one.
type folder struct{}

// in is the file system that has a name.
func in(name string) fs.FS {
	if name == "lang" || strings.HasPrefix(name, "lang/") {
		return languages()
	}
	return plain
}

func (folder) Open(name string) (fs.File, error) {
	f, err := in(name).Open(name)
	if name == "." && err == nil {
		list, err := folder{}.ReadDir(name)
		return &root{File: f, left: list}, err
	}
	return f, err
}

func (folder) ReadFile(name string) ([]byte, error) { return fs.ReadFile(in(name), name) }

func (folder) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(in(name), name)
	if name != "." || err != nil {
		return list, err
	}
	more, err := fs.ReadDir(languages(), name)
	list = append(list, more...)
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return list, err
}

// root is the folder itself, opened.
type root struct {
	fs.File
	left []fs.DirEntry // not yet read
}

func (r *root) ReadDir(n int) ([]fs.DirEntry, error) {
	if n > 0 && len(r.left) == 0 {
		return nil, io.EOF
	}
	if n <= 0 || n > len(r.left) {
		n = len(r.left)
	}
	list := r.left[:n]
	r.left = r.left[n:]
	return list, nil
}
