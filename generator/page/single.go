package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"html/template"
	"strings"

	"lapwork/generator/output"
	"lapwork/generator/pack"
)

// single gives the self-contained file, or one for each storey of a large job: its rooms with every common page.
func (r *renderer) single() ([]output.File, error) {
	parts := r.parts()
	var files []output.File
	for _, part := range parts {
		text, err := r.singleFile(part, parts)
		if err != nil {
			return nil, err
		}
		files = append(files, output.File{Path: part.file, Data: []byte(text)})
	}
	return files, nil
}

// part is one single file; rooms are the paths it carries, nil for all.
type part struct {
	file, title string
	rooms       map[string]bool
}

func (p part) holds(s *section) bool { return s.room == "" || p.rooms == nil || p.rooms[s.room] }

func (r *renderer) parts() []part {
	n := 0
	for _, pg := range r.pack.Pages {
		if pg.Kind == pack.KindRoom {
			n++
		}
	}
	head := r.pack.Head
	if n <= maxRooms {
		return []part{{file: head.PackID + ".html", title: head.Job}}
	}
	var parts []part
	byStorey := map[string]int{}
	for _, pg := range r.pack.Pages {
		if pg.Kind != pack.KindRoom {
			continue
		}
		storey := pg.Room.Storey
		i, ok := byStorey[storey]
		if !ok {
			i = len(parts)
			byStorey[storey] = i
			parts = append(parts, part{head.PackID + "-" + fileName(storey) + ".html", head.Job + ", " + storey, map[string]bool{}})
		}
		parts[i].rooms[pg.Path] = true
	}
	return parts
}

// fileName keeps letters, digits and hyphens of a storey's name.
func fileName(s string) string {
	return strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= '0' && r <= '9', r >= 'a' && r <= 'z':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '-'
	}, s), "-")
}

func (r *renderer) singleFile(p part, parts []part) (string, error) {
	var body strings.Builder
	var carried []*section
	for _, pg := range r.pack.Pages {
		s := r.pages[pg.Path]
		if !p.holds(s) {
			continue
		}
		carried = append(carried, s)
		prefix := anchor(s) + ":"
		body.WriteString(opening(s) + rewrite(s.tokens, rules{
			ids:  s.ids,
			id:   func(id string) string { return prefix + id },
			href: func(href string) string { return r.hash(p, parts, s, href) },
		}) + "</section>\n")
	}
	data, err := r.data(true, true)
	if err != nil {
		return "", err
	}
	shell, err := r.frame("single", r.singleFrame(p.title, data, hatches(carried...)))
	if err != nil {
		return "", err
	}
	plain := rules{id: func(id string) string { return id }, href: func(href string) string { return r.hash(p, parts, nil, href) }}
	return join(rewrite(scanFrame(shell), plain), body.String()), nil
}

func (r *renderer) singleFrame(title string, data, hatches template.HTML) frame {
	a := r.assets
	var sources, inline []string
	for _, text := range a.scripts {
		sources = append(sources, source(text))
		inline = append(inline, "<script>"+text+"</script>")
	}
	return frame{Head: r.pack.Head, Title: title, Home: r.home(), Section: hole, Data: data, Hatches: hatches,
		Policy: "default-src 'none'; script-src " + strings.Join(sources, " ") + "; style-src " + source(a.style) +
			"; img-src data: blob:; form-action 'none'; base-uri 'none'",
		Style:      template.HTML("<style>" + a.style + "</style>"),
		HeadScript: template.HTML(inline[0]),
		Script:     template.HTML(strings.Join(inline[1:], "\n")),
	}
}

// source names an inline text by its hash in a content security policy.
func source(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// hash writes a link inside the single file p, or into the other storey's file that carries the page.
func (r *renderer) hash(p part, parts []part, from *section, href string) string {
	t, ok := r.resolve(from, href)
	if !ok {
		return href
	}
	if t.page == nil {
		return "#" + t.id
	}
	link := "#" + anchor(t.page)
	if t.id != "" {
		link += ":" + t.id
	}
	if p.holds(t.page) {
		return link
	}
	for _, other := range parts {
		if other.holds(t.page) {
			return other.file + link
		}
	}
	r.links.miss("%s: the page of link %q is in no single file", nameOf(from), href)
	return link
}

// Served is a single file as a local server hands it out: its script posts records to path on the same server. Nothing
// else changes, so the hashes in its policy still hold.
func Served(file []byte, path string) []byte {
	file = bytes.Replace(file, []byte("default-src &#39;none&#39;;"), []byte("default-src &#39;none&#39;; connect-src &#39;self&#39;;"), 1)
	return bytes.Replace(file, []byte(` data-build="`), []byte(` data-post="`+template.HTMLEscapeString(path)+`" data-build="`), 1)
}
