package library

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/diag"
)

// entry is one entry of an archive under test.
type entry struct {
	name, text string
	mode       fs.FileMode
}

func archive(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	w.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) { return flate.NewWriter(out, flate.BestCompression) })
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		if e.mode != 0 {
			h.SetMode(e.mode)
		}
		f, err := w.CreateHeader(h)
		if err == nil {
			_, err = io.WriteString(f, e.text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func open(data []byte) (Bundle, error) {
	var found diag.List
	b, err := OpenBundle(fstest.MapFS{"x.zip": {Data: data}}, "x.zip", &found)
	return b, errors.Join(err, found.Err())
}

// Folder, zip and zip with a top folder of one library have one hash. It is computed here by hand from the definition:
// SHA-256 over a line "SHA-256 of the file, two spaces, name" for each file in the order of names.
func TestBundleHash(t *testing.T) {
	a, tab, about := "text of a", "id\n", "name: masonry\nversion: \"1.2\"\n"
	var lines strings.Builder
	for _, f := range [][2]string{{"library.yaml", about}, {"library/a.md", a}, {"tables/rules.csv", tab}} {
		fmt.Fprintf(&lines, "%x  %s\n", sha256.Sum256([]byte(f[1])), f[0])
	}
	sum := sha256.Sum256([]byte(lines.String()))
	want := "sha256-" + hex.EncodeToString(sum[:])

	folder := fstest.MapFS{"lib/library/a.md": {Data: []byte(a)}, "lib/tables/rules.csv": {Data: []byte(tab)},
		"lib/library.yaml": {Data: []byte(about)}, "lib/notes.txt": {Data: []byte("left aside")}}
	var found diag.List
	fromFolder, err := OpenBundle(folder, "lib", &found)
	if err != nil || found.Err() != nil {
		t.Fatal(err, found.Err())
	}
	flat, err := open(archive(t, entry{name: "tables/rules.csv", text: tab}, entry{name: "library/a.md", text: a}, entry{name: "library.yaml", text: about}))
	if err != nil {
		t.Fatal(err)
	}
	top, err := open(archive(t, entry{name: "m-1/library.yaml", text: about}, entry{name: "m-1/library/a.md", text: a}, entry{name: "m-1/tables/rules.csv", text: tab}))
	if err != nil {
		t.Fatal(err)
	}
	for what, b := range map[string]Bundle{"folder": fromFolder, "zip": flat, "zip with a top folder": top} {
		if b.Hash != want || b.Name != "masonry" || b.Version != "1.2" || b.Edition() != "1.2, "+want[:19] {
			t.Errorf("%s: %s %s %s, want %s", what, b.Name, b.Version, b.Hash, want)
		}
		if text, err := fs.ReadFile(b.Files, "library/a.md"); err != nil || string(text) != a {
			t.Errorf("%s: reads %q, %v", what, text, err)
		}
	}
	if _, err := fs.ReadFile(fromFolder.Files, "notes.txt"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what was not hashed can be read: %v", err)
	}
	changed, err := open(archive(t, entry{name: "library/a.md", text: a + " "}))
	if err != nil || changed.Hash == want {
		t.Errorf("another text has the same hash: %v", err)
	}
}

// What an archive may not hold. Each refuses the whole of it.
func TestHostileArchives(t *testing.T) {
	ok := entry{name: "library/a.md", text: "x"}
	var many []entry
	for i := range maxFiles + 1 {
		many = append(many, entry{name: fmt.Sprintf("library/a%d.md", i)})
	}
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"upward":        {archive(t, ok, entry{name: "../library/b.md"}), "leaves the library"},
		"inner upward":  {archive(t, ok, entry{name: "library/../../b.md"}), "leaves the library"},
		"absolute":      {archive(t, ok, entry{name: "/etc/b.md"}), "leaves the library"},
		"backslash":     {archive(t, ok, entry{name: `library\b.md`}), "leaves the library"},
		"drive":         {archive(t, ok, entry{name: "c:b.md"}), "leaves the library"},
		"dot":           {archive(t, ok, entry{name: "./library/b.md"}), "leaves the library"},
		"link":          {archive(t, ok, entry{name: "library/b.md", text: "/etc/passwd", mode: fs.ModeSymlink | 0o777}), "no plain file"},
		"device":        {archive(t, ok, entry{name: "library/b.md", mode: fs.ModeDevice | 0o666}), "no plain file"},
		"twice":         {archive(t, ok, entry{name: "library/A.md"}), "stands twice"},
		"too many":      {archive(t, many...), "more than 2000 files"},
		"bomb":          {archive(t, entry{name: "library/a.md", text: strings.Repeat(" ", maxFile)}), "more than 100 times"},
		"large file":    {archive(t, entry{name: "library/a.md", text: strings.Repeat(" ", maxFile+1)}), "more than 4 MiB"},
		"large archive": {make([]byte, maxArchive+1), "more than 16 MiB"},
		"no zip":        {[]byte("PK"), "is no zip"},
		"no library":    {archive(t, entry{name: "readme.txt", text: "x"}), "holds no library"},
		"taken name":    {archive(t, ok, entry{name: "library.yaml", text: "name: built-in\n"}), "name of a layer"},
		"unknown key":   {archive(t, ok, entry{name: "library.yaml", text: "name: b\nverson: 1\n"}), `did you mean "version"?`},
	} {
		if _, err := open(c.data); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// A header that claims less than the entry holds does not get more past the bounds.
func TestAnArchiveThatUnderstates(t *testing.T) {
	data := archive(t, entry{name: "library/a.md", text: strings.Repeat("x", 100_000)})
	// The size after unpacking stands 24 bytes into the entry of the central directory (APPNOTE 6.3.x, 4.3.12).
	at := bytes.Index(data, []byte("PK\x01\x02")) + 24
	copy(data[at:], []byte{16, 0, 0, 0})
	if _, err := open(data); err == nil {
		t.Error("an entry larger than its header was taken")
	}
}

// A folder cannot reach outside through a link.
func TestALinkInAFolder(t *testing.T) {
	dir, outside := t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(outside, "a.md"), []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, at := range map[string]string{"file": "one/library/a.md", "folder": "two/library"} {
		link := filepath.Join(dir, filepath.FromSlash(at))
		if err := os.MkdirAll(filepath.Dir(link), 0o755); err != nil {
			t.Fatal(err)
		}
		target := outside
		if name == "file" {
			target = filepath.Join(outside, "a.md")
		}
		if err := os.Symlink(target, link); err != nil {
			t.Skip("no links here:", err)
		}
		var found diag.List
		if _, err := OpenBundle(os.DirFS(dir), strings.Split(at, "/")[0], &found); err == nil || !strings.Contains(err.Error(), "is a link") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// FuzzArchive: no panic, and what opens holds only files of a library, within the bounds.
func FuzzArchive(f *testing.F) {
	f.Add(archive(f, entry{name: "library/a.md", text: "---\nid: a\n---\n"}, entry{name: "library.yaml", text: "name: a\n"}))
	f.Add(archive(f, entry{name: "top/tables/rules.csv", text: "id\n"}))
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := open(data)
		if err != nil {
			return
		}
		total := 0
		err = fs.WalkDir(b.Files, ".", func(at string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			text, err := fs.ReadFile(b.Files, at)
			total += len(text)
			if !isLibraryFile(at) {
				t.Errorf("%q is no file of a library", at)
			}
			return err
		})
		if err != nil || total > maxAll {
			t.Errorf("%d bytes, %v", total, err)
		}
	})
}
