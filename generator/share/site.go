package share

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"html"
	"html/template"
	"maps"
	"mime"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"lapwork/generator/output"
	"lapwork/generator/record"
)

// Site is a pack as it is served: read once, so that a pack written anew meanwhile never shows as half of each.
type Site struct {
	Name     string // what the first page is headed with
	Job      string // the job's reference
	Pack     string // the name records must carry
	Revision string
	files    map[string]*served       // by path, with / for the front page
	seals    map[string][]record.Line // words of every statement, by seal
}

// served is one file ready to be sent.
type served struct {
	data, gz       []byte
	kind, tag, csp string
}

// Load reads the pack at dir and holds every byte against its manifest. prepare changes a page as it is served, such as by
// telling it where to send records.
func Load(dir string, prepare func(page []byte) []byte) (Site, error) {
	m, err := output.ReadManifest(dir)
	if err != nil {
		return Site{}, fmt.Errorf("%s: %w\n\thint: write one with: lapwork pack JOB --out %s", dir, err, dir)
	}
	site := Site{Name: "Job " + m.Job, Job: m.Job, Pack: record.PackID(m.Job), Revision: m.Revision, files: map[string]*served{},
		seals: map[string][]record.Line{}}
	var singles []string
	for _, e := range m.Files {
		if !filepath.IsLocal(filepath.FromSlash(e.Path)) {
			return Site{}, fmt.Errorf("%s: the manifest names a file outside the pack: %q", dir, e.Path)
		}
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(e.Path)))
		if err == nil && output.Sum(data) != e.SHA256 {
			err = fmt.Errorf("%s: %s has changed since the pack was written\n\thint: lapwork verify %s", dir, e.Path, dir)
		}
		if err != nil {
			return Site{}, err
		}
		if isSingle(data) {
			singles = append(singles, e.Path)
			words, err := statements(data)
			if err != nil {
				return Site{}, fmt.Errorf("%s: %s: %w", dir, e.Path, err)
			}
			maps.Copy(site.seals, words)
		}
		if path.Ext(e.Path) == ".html" {
			data = prepare(data)
		}
		if site.files["/"+e.Path], err = ready(e.Path, data); err != nil {
			return Site{}, err
		}
	}
	return site, site.front(singles)
}

// isSingle tells a self-contained file by its first tag.
func isSingle(data []byte) bool {
	return bytes.Contains(data[:min(len(data), 1000)], []byte(` data-build="single"`))
}

// front chooses what stands at /: the single file, or a list where there is one for each storey.
func (s *Site) front(singles []string) error {
	switch len(singles) {
	case 0:
		return errors.New("the pack holds no self-contained file\n\thint: write it again with: lapwork pack")
	case 1:
		s.files["/"] = s.files["/"+singles[0]]
		return nil
	}
	slices.Sort(singles)
	var b bytes.Buffer
	if err := frontPage.Execute(&b, struct {
		Name, Revision string
		Files          []string
		Style          template.CSS
	}{s.Name, s.Revision, singles, doorStyle}); err != nil {
		return err
	}
	f, err := ready("index.html", b.Bytes())
	s.files["/"] = f
	return err
}

var frontPage = template.Must(template.New("front").Parse(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ` +
	source(doorStyle) + `; img-src data:; form-action 'none'; base-uri 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>{{.Name}}</title><link rel="icon" href="data:,">
<style>{{.Style}}</style></head><body><h1>{{.Name}}</h1><p>Revision {{.Revision}}. One file a storey:</p>
<ul>{{range .Files}}<li><a href="/{{.}}">{{.}}</a></li>{{end}}</ul></body></html>
`))

var policyTag = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`)

func ready(name string, data []byte) (*served, error) {
	f := &served{data: data, kind: contentType(name), tag: `"` + output.Sum(data)[:32] + `"`,
		csp: "default-src 'none'; frame-ancestors 'none'"}
	if m := policyTag.FindSubmatch(data[:min(len(data), 4000)]); m != nil {
		f.csp = html.UnescapeString(string(m[1])) + "; frame-ancestors 'none'"
	}
	if len(data) < 1000 || !strings.HasPrefix(f.kind, "text/") {
		return f, nil
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	err = z.Close()
	f.gz = b.Bytes()
	return f, err
}

// contentType names the types a pack holds itself, since the table of the computer may know others.
func contentType(name string) string {
	switch ext := path.Ext(name); ext {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".ics":
		return "text/calendar; charset=utf-8"
	case ".json":
		return "application/json"
	default:
		if t := mime.TypeByExtension(ext); t != "" {
			return t
		}
		return "application/octet-stream"
	}
}

func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	f := s.o.Site.files[path.Clean(r.URL.Path)]
	if f == nil {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", f.kind)
	h.Set("Content-Security-Policy", f.csp)
	h.Set("Cache-Control", "private, no-cache") // asks each time, and is answered 304 while the pack is the same
	h.Set("Vary", "Accept-Encoding")
	data, tag := f.data, f.tag
	if f.gz != nil && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		data, tag = f.gz, strings.TrimSuffix(f.tag, `"`)+`-gz"`
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("ETag", tag)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}
