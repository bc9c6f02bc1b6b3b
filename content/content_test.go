package content

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"flag"
	"io"
	"io/fs"
	"os"
	"slices"
	"testing"
	"testing/fstest"
)

var update = flag.Bool("update", false, "pack content/lang into lang.zip")

// The program carries the languages as they stand in the folder: no file more or less, no byte other.
func TestLanguagesArePacked(t *testing.T) {
	if *update {
		if err := os.WriteFile("lang.zip", packed(t), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Skip("lang.zip is written; run the test again without -update")
	}
	want := files(t, os.DirFS("."))
	got := files(t, FS)
	if !slices.Equal(want, got) {
		t.Fatalf("lang.zip has %d files, content/lang %d; run this test with -update", len(got), len(want))
	}
	for _, name := range want {
		a, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		b, err := fs.ReadFile(FS, name)
		if err != nil || !bytes.Equal(a, b) {
			t.Fatalf("%s stands otherwise in lang.zip (%v); run this test with -update", name, err)
		}
	}
	if len(want) < 300 {
		t.Errorf("only %d files of languages", len(want))
	}
}

// What embeds is one file system by the rules of io/fs, whatever lies in the zip.
func TestOneFileSystem(t *testing.T) {
	if err := fstest.TestFS(FS, "lang/de/common.yaml", "demo/job.yaml", "tables/checks.csv", "schema/records.schema.json"); err != nil {
		t.Error(err)
	}
}

// files are the files under lang.
func files(t *testing.T, fsys fs.FS) []string {
	t.Helper()
	var names []string
	err := fs.WalkDir(fsys, "lang", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// packed is the folder as a zip without times, so that the same texts give the same bytes.
func packed(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	w.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) { return flate.NewWriter(out, flate.BestCompression) })
	for _, name := range files(t, os.DirFS(".")) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write(data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
