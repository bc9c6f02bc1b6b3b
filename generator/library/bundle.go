package library

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
)

// Bundle is a library as firms share it: a folder or a zip with library/*.md, tables/*.csv and a library.yaml that
// names it. Anything else in it is left aside. Files holds a copy, so that it is what was hashed.
type Bundle struct {
	Name    string // from library.yaml, else the folder's or the archive's
	Version string // from library.yaml; empty: not stated
	Hash    string // sha256- and 64 hex digits over names and content of its files; folder and zip of one library agree
	Files   fs.FS
}

// Layer gives the bundle as a layer whose findings name dir.
func (b Bundle) Layer(dir string) Layer {
	return Layer{Name: b.Name, Edition: b.Edition(), Dir: dir, FS: b.Files}
}

// Edition is version and hash in words: "1.2, sha256-0123456789ab".
func (b Bundle) Edition() string {
	return strings.TrimPrefix(b.Version+", "+b.Hash[:len(hashPrefix)+12], ", ")
}

// Limits that keep a hostile or broken library from taking the machine with it.
const (
	maxFiles   = 2000
	maxFile    = 4 << 20
	maxAll     = 32 << 20
	maxArchive = 16 << 20
	maxRatio   = 100 // of content over its packed size, above the size where a small text packs well
	ratioFrom  = 64 << 10
)

const (
	hashPrefix   = "sha256-"
	manifestName = "library.yaml"
)

// OpenBundle reads the library at name in a file system: a folder, or a file that ends in .zip. Every error says what is
// wrong with it; faults of its library.yaml go to found, at places that begin with name.
func OpenBundle(fsys fs.FS, name string, found *diag.List) (Bundle, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return Bundle{}, err
	}
	var files map[string][]byte
	switch {
	case info.IsDir():
		files, err = folderFiles(fsys, name)
	case strings.HasSuffix(strings.ToLower(name), ".zip"):
		files, err = archiveFiles(fsys, name, info.Size())
	default:
		err = fmt.Errorf("%s is neither a folder nor a .zip", name)
	}
	if err != nil {
		return Bundle{}, err
	}
	return bundleOf(name, files, found)
}

func bundleOf(name string, files map[string][]byte, found *diag.List) (Bundle, error) {
	maps.DeleteFunc(files, func(at string, _ []byte) bool { return !isLibraryFile(at) })
	if len(files) == 0 {
		return Bundle{}, fmt.Errorf("%s holds no library: no library/*.md, no tables/*.csv", name)
	}
	held, err := memory(files)
	if err != nil {
		return Bundle{}, err
	}
	base := path.Base(name)
	b := Bundle{Name: strings.TrimSuffix(base, path.Ext(base)), Hash: hashOf(files), Files: held}
	if !idShape.MatchString(b.Name) {
		b.Name = "library"
	}
	if text, ok := files[manifestName]; ok {
		b.named(string(text), path.Join(name, manifestName), found)
	}
	return b, nil
}

// isLibraryFile is whether a file counts: what the loader reads, and library.yaml.
func isLibraryFile(at string) bool {
	dir, file := path.Split(at)
	return at == manifestName || dir == "library/" && path.Ext(file) == ".md" || dir == "tables/" && path.Ext(file) == ".csv"
}

// hashOf is the SHA-256 of a list with one line for each file in the order of names: its SHA-256, two spaces, its name.
func hashOf(files map[string][]byte) string {
	all := sha256.New()
	for _, at := range slices.Sorted(maps.Keys(files)) {
		sum := sha256.Sum256(files[at])
		fmt.Fprintf(all, "%x  %s\n", sum, at)
	}
	return hashPrefix + hex.EncodeToString(all.Sum(nil))
}

// memory holds files as a file system: a stored archive is one already.
func memory(files map[string][]byte) (fs.FS, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, at := range slices.Sorted(maps.Keys(files)) {
		f, err := w.CreateHeader(&zip.FileHeader{Name: at, Method: zip.Store})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(files[at]); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
}

// named reads name and version from library.yaml.
func (b *Bundle) named(text, file string, found *diag.List) {
	d := &document{file: file, lines: strings.Split(text, "\n"), found: found}
	p := parser{d, compiler{found: found}}
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(text), &root); err != nil {
		p.syntax(err)
		return
	}
	if len(root.Content) == 0 || !p.plain(&root) {
		return
	}
	m, ok := d.mapping(root.Content[0], manifestName, []string{"name", "version", "about"})
	if !ok {
		return
	}
	if name := p.id(m, "name"); name != "" {
		b.Name = name
		if oneOf(name, []string{BuiltIn, "firm", "job"}) {
			d.faultf(m.values["name"], "give it a name of its own", "%q is the name of a layer of every job", name)
		}
	}
	b.Version = m.text("version")
	if len(b.Version) > 40 {
		d.faultf(m.values["version"], "write 1.2 or a date", "the version is longer than 40 letters")
	}
}
