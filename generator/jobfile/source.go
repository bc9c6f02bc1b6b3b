package jobfile

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"path"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
)

// Limits that keep a hostile or broken job folder from taking the machine with it.
const (
	maxFileBytes = 4 << 20
	maxAllBytes  = 32 << 20
	maxFiles     = 200
	maxDepth     = 24
	maxRooms     = 20_000
	maxFindings  = 500
)

// source is one file's text, split into lines to place findings in.
type source struct {
	file  string
	lines []string
}

// newSource splits a text; a text that ends in a line break has an empty last line, as in an editor.
func newSource(file string, text []byte) *source {
	return &source{file: file, lines: strings.Split(string(text), "\n")}
}

// place turns a line and a column counted in characters, as YAML counts them, into a position inside the file.
func (s *source) place(line, column int) diag.Pos {
	line = min(max(line, 1), len(s.lines))
	text := s.lines[line-1]
	offset := 0
	for range column - 1 {
		if offset >= len(text) {
			break
		}
		_, size := utf8.DecodeRuneInString(text[offset:])
		offset += size
	}
	return diag.Pos{File: s.file, Line: line, Col: offset + 1}
}

// open reads a file of the job within the limits and gives its top node; nil after a finding. An empty file gives nil too.
func (r *reader) open(name string, cause diag.Pos) *yaml.Node {
	text, err := readLimited(r.fsys, path.Join(r.dir, name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		r.fault(cause, "check the name, or make the file", "there is no file %q in the job folder", clip(name))
		return nil
	case errors.Is(err, errTooLarge):
		r.fault(cause, "split it into several files", "%q is larger than 4 MiB", clip(name))
		return nil
	case err != nil:
		r.fault(cause, "check that it is a file you may read", "%q cannot be read", clip(name))
		return nil
	}
	r.bytes += len(text)
	if r.bytes > maxAllBytes {
		r.fault(cause, "leave out what the job does not need", "the job's files are larger than 32 MiB together")
		return nil
	}
	r.src = newSource(path.Join(r.shown, name), text)
	if !r.plainText(text) {
		return nil
	}
	return r.parse(text)
}

var errTooLarge = errors.New("file too large")

func readLimited(fsys fs.FS, name string) (text []byte, err error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	text, err = io.ReadAll(io.LimitReader(f, maxFileBytes+1))
	if err == nil && len(text) > maxFileBytes {
		err = errTooLarge
	}
	return text, err
}

// plainText refuses text whose lines an editor and YAML would count differently.
func (r *reader) plainText(text []byte) bool {
	if bytes.HasPrefix(text, []byte("\xef\xbb\xbf")) {
		r.fault(r.src.place(1, 1), "save it as UTF-8 without a byte order mark", "the file begins with a byte order mark")
		return false
	}
	for i, line := range r.src.lines {
		line = strings.TrimSuffix(line, "\r")
		column := strings.IndexFunc(line, func(c rune) bool {
			return c == utf8.RuneError || c < ' ' && c != '\t' || c == 0x7f || c == 0x85 || c == 0x2028 || c == 0x2029 || c == 0xfeff
		})
		if column >= 0 {
			r.fault(diag.Pos{File: r.src.file, Line: i + 1, Col: column + 1}, "save the file as plain UTF-8 text",
				"this character cannot be read")
			return false
		}
	}
	return true
}

var yamlLine = regexp.MustCompile(`line (\d+): (.*)`)

// parse makes the node tree of one document.
func (r *reader) parse(text []byte) *yaml.Node {
	var doc, second yaml.Node
	dec := yaml.NewDecoder(bytes.NewReader(text))
	err := dec.Decode(&doc)
	if errors.Is(err, io.EOF) {
		hint := "begin with \"reference:\" and \"name:\""
		if path.Base(r.src.file) == "firm.yaml" {
			hint = "begin with \"name:\""
		}
		r.fault(r.src.place(1, 1), hint, "the file is empty")
		return nil
	}
	if err != nil {
		r.syntax(err)
		return nil
	}
	if err := dec.Decode(&second); err == nil {
		r.fault(r.src.place(second.Line, second.Column), "one job a file: delete the line \"---\" and what follows",
			"a second document begins here")
		return nil
	} else if !errors.Is(err, io.EOF) {
		r.syntax(err)
		return nil
	}
	if len(doc.Content) != 1 || !r.tame(doc.Content[0], 1) {
		return nil
	}
	return doc.Content[0]
}

// syntax reports text that is no YAML.
func (r *reader) syntax(err error) {
	line, what := 1, strings.TrimPrefix(err.Error(), "yaml: ")
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		if n, convErr := strconv.Atoi(m[1]); convErr == nil {
			line, what = n, m[2]
		}
	}
	r.fault(r.src.place(line, 1), "look at this line and the one above: indents in spaces, a blank after every colon, text with colons in quotes",
		"this is not readable: %s", clip(what))
}

// tame refuses what could blow up a small file (references to other parts) or hide a type, and depth beyond any job.
func (r *reader) tame(n *yaml.Node, depth int) bool {
	switch {
	case depth > maxDepth:
		r.fault(r.pos(n), "check the brackets", "nested deeper than %d levels", maxDepth)
		return false
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		r.fault(r.pos(n), "write it out, or use \"faces\" and \"like\"", "references (& and *) are not read")
		return false
	case n.Style&yaml.TaggedStyle != 0:
		r.fault(r.pos(n), "delete the tag", "type tags (!) are not read")
		return false
	}
	for _, child := range n.Content {
		if !r.tame(child, depth+1) {
			return false
		}
	}
	return true
}
