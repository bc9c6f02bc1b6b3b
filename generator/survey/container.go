package survey

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
)

// MaxText is how many bytes of text a reader takes from one file, unpacked. It keeps a container of a few kilobytes from
// filling the memory; models of whole hospitals stay below it.
const MaxText = 256 << 20

// maxMembers is how many files a container may hold.
const maxMembers = 2000

// ErrTooLong is given where a file goes on beyond MaxText.
var ErrTooLong = fmt.Errorf("the text is longer than %d MB", MaxText>>20)

// IsZip says whether a file begins as a zip container.
func IsZip(head []byte) bool { return len(head) >= 4 && string(head[:4]) == "PK\x03\x04" }

// Unpack opens the one file of a container whose name has one of the endings (".xml"), in the order of endings. The name
// it gives is that of the file inside. Nothing is read beyond MaxText.
func Unpack(data io.ReaderAt, size int64, endings ...string) (name string, content io.ReadCloser, err error) {
	z, err := zip.NewReader(data, size)
	if err != nil {
		return "", nil, fmt.Errorf("the container cannot be read: %w", err)
	}
	if len(z.File) > maxMembers {
		return "", nil, fmt.Errorf("the container holds %d files, more than %d", len(z.File), maxMembers)
	}
	for _, ending := range endings {
		var fit []*zip.File
		for _, f := range z.File {
			if !strings.HasPrefix(f.Name, "__MACOSX/") && strings.EqualFold(path.Ext(f.Name), ending) {
				fit = append(fit, f)
			}
		}
		switch {
		case len(fit) > 1:
			return "", nil, fmt.Errorf("the container holds %d %s files: take out the one that is meant", len(fit), ending)
		case len(fit) == 1 && fit[0].UncompressedSize64 > MaxText:
			return fit[0].Name, nil, ErrTooLong
		case len(fit) == 1:
			rc, err := fit[0].Open()
			return fit[0].Name, rc, err
		}
	}
	return "", nil, errors.New("the container holds no file of the kind looked for: " + strings.Join(endings, ", "))
}

// bounded fails after MaxText bytes rather than ending quietly.
type bounded struct {
	from io.Reader
	left int64
}

// Bounded is a reader that fails with ErrTooLong beyond MaxText.
func Bounded(r io.Reader) io.Reader { return &bounded{r, MaxText} }

// Read reads on.
func (b *bounded) Read(p []byte) (int, error) {
	if b.left <= 0 {
		var one [1]byte
		if n, err := b.from.Read(one[:]); n == 0 {
			return 0, err
		}
		return 0, ErrTooLong
	}
	if int64(len(p)) > b.left {
		p = p[:b.left]
	}
	n, err := b.from.Read(p)
	b.left -= int64(n)
	return n, err
}
