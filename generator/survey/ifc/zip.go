package ifc

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"

	"lapwork/generator/diag"
)

// maxPacked bounds a packed file, which has to lie in memory to be unpacked.
const maxPacked = 256 << 20

// packed says whether the first bytes are those of a zip.
func packed(head []byte) bool { return bytes.HasPrefix(head, []byte("PK\x03\x04")) }

// unpack opens the one .ifc in an .ifczip. Its length is bounded where it is read, whatever the directory says.
func unpack(file string, r io.Reader, found *diag.List) (name string, inner io.ReadCloser, err error) {
	at := diag.Pos{File: file}
	b, err := io.ReadAll(io.LimitReader(r, maxPacked+1))
	if err != nil {
		return "", nil, fmt.Errorf("read %s: %w", file, err)
	}
	if len(b) > maxPacked {
		found.Faultf(at, "unpack it and give the .ifc", "the packed file holds more than %d MB", maxPacked>>20)
		return "", nil, nil
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		found.Faultf(at, "pack the file again", "the zip cannot be read: %v", err)
		return "", nil, nil
	}
	var models []*zip.File
	for _, f := range z.File {
		if strings.EqualFold(path.Ext(f.Name), ".ifc") {
			models = append(models, f)
		}
	}
	if len(models) != 1 {
		found.Faultf(at, "give a zip with one .ifc in it", "the zip holds %d .ifc files; one is needed", len(models))
		return "", nil, nil
	}
	if inner, err = models[0].Open(); err != nil {
		found.Faultf(at, "pack the file again", "%s in the zip cannot be read: %v", models[0].Name, err)
		return "", nil, nil
	}
	return file + "!" + path.Base(models[0].Name), inner, nil
}
