package main

import (
	"errors"
	"io/fs"
	"os"
)

// folder is a folder of the machine as readers see it: nothing outside it is read through a link, and nothing is opened that
// is neither a file nor a folder. A pipe would wait for somebody to write into it, for ever.
type folder struct{ inside fs.FS }

var (
	errNoFile = errors.New("neither a file nor a folder")
	errLink   = errors.New("a link that leads nowhere, or out of the folder")
)

// openFolder shows a folder to the readers. A folder that is not there gives its error with the first file.
func openFolder(dir string) fs.FS {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return os.DirFS(dir)
	}
	return folder{root.FS()} // held open until nobody holds the file system
}

// Open opens a file or a folder inside the folder.
func (f folder) Open(name string) (fs.File, error) {
	info, err := fs.Stat(f.inside, name)
	if err != nil {
		if _, there := fs.Lstat(f.inside, name); there == nil {
			err = &fs.PathError{Op: "open", Path: name, Err: errLink}
		}
		return nil, err
	}
	if !info.IsDir() && !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errNoFile}
	}
	return f.inside.Open(name)
}

// Stat describes what a name leads to, without opening it.
func (f folder) Stat(name string) (fs.FileInfo, error) { return fs.Stat(f.inside, name) }

// ReadDir lists a folder.
func (f folder) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(f.inside, name) }

// Lstat describes a name itself, a link as a link.
func (f folder) Lstat(name string) (fs.FileInfo, error) { return fs.Lstat(f.inside, name) }

// ReadLink gives where a link leads.
func (f folder) ReadLink(name string) (string, error) { return fs.ReadLink(f.inside, name) }
