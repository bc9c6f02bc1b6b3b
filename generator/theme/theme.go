// Package theme reads how a firm's and a job's packs look: name, mark, colours and contact block from firm.yaml, a folder
// of files that stand in place of the program's own, and pages of the firm's.
//
//	firm/mark.svg                   the mark that firm.yaml names
//	firm/theme/site/style.css       in place of a style sheet of the program: style.css or another of Sheets
//	firm/theme/site/added.css       after all of them
//	firm/theme/templates/NAME.html  in place of a page's template, its parts or the frame; or further parts
//	firm/theme/files/*              copied beside the pages, for pages to link to
//	firm/pages/NAME.md              a page, NAME.de.md the same in German
//
// A job has the same folders, and its files win. What is read at the wall is measured: a pair of colours below 7:1, or an
// edge below 3:1, is a fault with its ratio, in every scheme. Scripts are no part of a theme.
package theme

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/sorting"
)

// Theme is what stands over the program's own look. The zero theme is that look.
type Theme struct {
	Over   map[string]File // files in place of the program's, by name: templates/room.html, site/style.css
	Added  []File          // styles after the style sheets, the firm's before the job's; then the colours of firm.yaml
	Mark   *Picture        // nil: none
	Lines  []string        // of the contact block, under name, address and contact
	Footer string
	Pages  []Page // by name
	Files  []Copy // beside the pages
}

// File is the text of a theme's file.
type File struct {
	At   string // what findings call it
	Text string
}

// Copy is a file that lies beside the pages.
type Copy struct {
	Path string // in the pack: files/NAME
	Data []byte
}

// Folder is a folder that may hold a theme: a firm's with its look, a job's.
type Folder struct {
	Dir  string // what findings show before a file's name
	FS   fs.FS
	Look job.Look
}

// Program is what a theme stands over, and what its pages may name.
type Program struct {
	Styles []File   // the style sheets, At their names in Sheets, in that order
	Menu   []string // names of the menu's entries, behind which a page may stand
}

// Sheets are the style sheets of the program in the order in which a page takes those it needs: a later one wins. The
// last one is for paper.
var Sheets = []string{"style.css", "rooms.css", "lists.css", "office.css", "languages.css", "single.css", "paper.css"}

// ReadStyles gives the style sheets of the program.
func ReadStyles(program fs.FS) ([]File, error) {
	var out []File
	for _, name := range Sheets {
		text, err := fs.ReadFile(program, "site/"+name)
		if err != nil {
			return nil, err
		}
		out = append(out, File{At: "site/" + name, Text: string(text)})
	}
	return out, nil
}

// The bounds of a theme's files. Own choice: a style sheet has up to 14 kB, the largest template 10 kB.
const (
	maxText  = 256 << 10
	maxCopy  = 8 << 20
	maxFiles = 60
)

// Read reads the themes of the folders in order; a later one's file wins. Faults are files that no theme has, pictures and
// styles that could carry a program or ask for something outside the pack, and colours that cannot be read on site.
func Read(from []Folder, p Program, found *diag.List) Theme {
	t := Theme{Over: map[string]File{}}
	var colours []job.Colour
	for _, f := range from {
		r := reader{f, p, found}
		r.files(&t)
		r.pages(&t)
		if f.Look.Logo != "" {
			t.Mark = r.mark()
		}
		t.Lines, t.Footer = append(t.Lines, f.Look.Lines...), f.Look.Footer+t.Footer
		colours = append(colours, f.Look.Colours...)
		if f.Look.Accent != "" {
			colours = append(colours, job.Colour{Scheme: "usual", Name: "touch", Value: f.Look.Accent, Pos: f.Look.AccentPos})
		}
	}
	sorting.Func(t.Pages, func(a, b Page) int { return strings.Compare(a.Name, b.Name) })
	t.style(p, colours, found)
	return t
}

// Own reports whether anything stands over the program's look.
func (t Theme) Own() bool {
	return len(t.Over)+len(t.Added)+len(t.Pages)+len(t.Files)+len(t.Lines) > 0 || t.Mark != nil || t.Footer != ""
}

// Text gives the text of one of the program's files, or what stands in its place.
func (t Theme) Text(program fs.FS, name, under string) (string, error) {
	if f, ok := t.Over[path.Join(under, name)]; ok {
		return f.Text, nil
	}
	text, err := fs.ReadFile(program, name)
	return string(text), err
}

// Templates adds the names of the theme's own templates to those of the program.
func (t Theme) Templates(program []string) []string {
	out := slices.Clone(program)
	for name := range t.Over {
		if file, ok := strings.CutPrefix(name, "templates/"); ok {
			out = append(out, file)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

type reader struct {
	Folder
	program Program
	found   *diag.List
}

func (r reader) at(name string) diag.Pos { return diag.Pos{File: path.Join(r.Dir, name)} }

// read reads a file within a bound; ok is false where it is not there or was reported.
func (r reader) read(name string, most int) (data []byte, ok bool) {
	info, err := fs.Stat(r.FS, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false
	}
	if err == nil && info.Size() > int64(most) {
		r.found.Faultf(r.at(name), "make it smaller", "the file has %d bytes; more than %d are not taken", info.Size(), most)
		return nil, false
	}
	if err == nil {
		data, err = fs.ReadFile(r.FS, name)
	}
	if err != nil {
		r.found.Faultf(r.at(name), "", "cannot read the file: %v", err)
		return nil, false
	}
	return data, true
}

// files reads the folder of theme files.
func (r reader) files(t *Theme) {
	dir := r.Look.Theme
	if dir == "" {
		dir = "theme"
	}
	info, err := fs.Stat(r.FS, dir)
	switch {
	case errors.Is(err, fs.ErrNotExist) && r.Look.Theme == "":
		return
	case err != nil || !info.IsDir():
		r.found.Faultf(r.Look.ThemePos, "make the folder beside firm.yaml", "there is no folder %q of theme files", dir)
		return
	}
	n := 0
	err = fs.WalkDir(r.FS, dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if n++; n > maxFiles {
			r.found.Faultf(r.at(dir), "", "more than %d files in one theme", maxFiles)
			return fs.SkipAll
		}
		r.file(t, name, strings.TrimPrefix(name, dir+"/"))
		return nil
	})
	if err != nil {
		r.found.Faultf(r.at(dir), "", "cannot read the folder: %v", err)
	}
}

// file takes one file of the folder.
func (r reader) file(t *Theme, name, inside string) {
	under, file := path.Split(inside)
	switch {
	case under == "templates/" && path.Ext(file) == ".html", under == "site/" && slices.Contains(Sheets, file):
		if text, ok := r.text(name); ok {
			t.Over[inside] = File{r.at(name).File, text}
		}
	case inside == "site/added.css":
		if text, ok := r.text(name); ok {
			t.Added = append(t.Added, File{r.at(name).File, text})
		}
	case under == "files/":
		r.copy(t, name, file)
	case path.Ext(file) == ".js":
		r.found.Faultf(r.at(name), "leave it out", "scripts are no part of a theme: they keep what is signed")
	case strings.EqualFold(file, "readme.md"):
	default:
		r.found.Faultf(r.at(name), "site/"+strings.Join(Sheets, ", ")+"; site/added.css, templates/*.html, files/*", "a theme has no file %s", inside)
	}
}

// text reads a text file.
func (r reader) text(name string) (string, bool) {
	data, ok := r.read(name, maxText)
	if !ok {
		return "", false
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	if i := strings.IndexFunc(text, func(c rune) bool { return c == '\uFFFD' || c < ' ' && c != '\n' && c != '\t' }); i >= 0 {
		r.found.Faultf(place(r.at(name).File, text, i), "save it as UTF-8 text", "the file holds a character that no text has")
		return "", false
	}
	return text, true
}

// copied are the endings of files that may lie beside the pages.
var copied = []string{".pdf", ".txt", ".csv", ".png", ".jpg", ".jpeg", ".svg"}

func (r reader) copy(t *Theme, name, file string) {
	ending := strings.ToLower(path.Ext(file))
	if !slices.Contains(copied, ending) || !plainName(file) {
		r.found.Faultf(r.at(name), "letters, digits, - and _, with one of "+strings.Join(copied, " "), "%s is no file that lies beside a pack", file)
		return
	}
	data, ok := r.read(name, maxCopy)
	if !ok {
		return
	}
	if slices.Contains(pictures, ending) {
		if _, ok := r.picture(name, data, maxCopy); !ok {
			return
		}
	}
	c := Copy{path.Join("files", file), data}
	t.Files = append(slices.DeleteFunc(t.Files, func(o Copy) bool { return o.Path == c.Path }), c)
}

func plainName(name string) bool {
	return !strings.HasPrefix(name, ".") && !strings.ContainsFunc(name, func(c rune) bool {
		return c > 'z' || !strings.ContainsRune("-_.", c) && (c < '0' || c > '9') && (c < 'A' || c > 'Z') && (c < 'a' || c > 'z')
	})
}

// place is the position of a byte of a text.
func place(file, text string, offset int) diag.Pos {
	before := text[:max(0, min(offset, len(text)))]
	return diag.Pos{File: file, Line: 1 + strings.Count(before, "\n"), Col: len(before) - strings.LastIndexByte(before, '\n')}
}
