package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"html/template"
	"slices"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/output"
)

// single gives the self-contained file, or one for each storey of a large job: its rooms with every common page, less
// what of those belongs to other storeys.
func (r *renderer) single() []output.File {
	var files []output.File
	for i, p := range r.shares.list {
		e := edition{single: true, whole: len(r.shares.list) == 1, part: i}
		files = append(files, output.File{Path: p.file, Make: func(b []byte) ([]byte, error) { return r.singleFile(b, p.title, e) }})
	}
	return files
}

func (r *renderer) singleFile(b []byte, title string, e edition) ([]byte, error) {
	shell, err := r.shell("single", r.singleFrame(title), e)
	if err != nil {
		return nil, err
	}
	var carried []*section
	size := len(shell.text) + 1<<16
	for _, s := range r.sections {
		if e.holds(s) {
			carried = append(carried, s)
			own := len(s.text) + len(s.opening) + len(s.marks)*(len(s.anchor)+1)
			if !e.whole && len(s.carries) > 1 {
				own = own/len(s.carries) + 1<<15 // its storey's part, and some that is common
			}
			size += own
		}
	}
	around := place{edition: e}
	around.fill = func(b []byte, hole string) []byte {
		switch hole {
		case "foot":
			return r.appendText(b, r.feet[e.part+1], around)
		case "hatches":
			return append(b, hatches(carried...)...)
		case "data":
			return append(b, r.data(true, true, e)+r.kitOf(carried...)...)
		case "style":
			return append(b, "<style>"+r.assets.style()+"</style>"...)
		case "head-script":
			return append(b, "<script>"+r.assets.scripts[0].text+"</script>"...)
		case "script":
			for _, s := range r.assets.scripts[1:] {
				b = append(b, "<script>"+s.text+"</script>\n"...)
			}
			return b
		}
		for _, s := range carried {
			b = append(append(b, s.opening...), r.otherLanguages(s, e)...)
			b = r.appendText(b, s.scanned, place{edition: e, section: s})
			b = append(b, "</section>\n"...)
		}
		return b
	}
	return r.appendText(slices.Grow(b, size), shell, around), nil
}

// singleFrame is the frame of a single file; its policy names each inline text by its hash.
func (r *renderer) singleFrame(title string) frame {
	var sources []string
	for _, s := range r.assets.scripts {
		sources = append(sources, source(s.text))
	}
	return frame{Title: template.HTML("<title>" + template.HTMLEscapeString(lang.Plain(title)) + "</title>"), Policy: "default-src 'none'; script-src " + strings.Join(sources, " ") + "; style-src " + source(r.assets.style()) +
		"; img-src data: blob:; form-action 'none'; base-uri 'none'"}
}

// source names an inline text by its hash in a content security policy.
func source(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// Served is a single file as a local server hands it out: its script posts records to path on the same server. Nothing
// else changes, so the hashes in its policy still hold.
func Served(file []byte, path string) []byte {
	file = bytes.Replace(file, []byte("default-src &#39;none&#39;;"), []byte("default-src &#39;none&#39;; connect-src &#39;self&#39;;"), 1)
	return bytes.Replace(file, []byte(` data-build="`), []byte(` data-post="`+template.HTMLEscapeString(path)+`" data-build="`), 1)
}
