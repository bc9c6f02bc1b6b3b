package page

import (
	"fmt"
	"html/template"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/pack"
)

// foreign is what stands round a text that has no translation: its language for those who hear the page, a mark for those
// who see it.
const (
	foreignOpen  = `<span lang="` + lang.Source + `" class="en">`
	foreignClose = `</span>`
)

// plainElements hold text only, so that no mark can stand in them.
var plainElements = []string{"title", "desc", "option", "textarea", "script", "style"}

// foreign writes the marks of missing translations as elements where text may have them and leaves them out elsewhere. It
// gives how many texts were marked.
func foreign(text string) (out string, marked int) {
	if !lang.Marked(text) {
		return text, 0
	}
	var b strings.Builder
	b.Grow(len(text) + 1024)
	drawing, plain := 0, ""
	for text != "" {
		end := strings.IndexByte(text, '<')
		if end < 0 {
			end = len(text)
		}
		n := 0
		if drawing > 0 || plain != "" {
			n = strings.Count(text[:end], string(lang.Begin))
			b.WriteString(lang.Plain(text[:end]))
		} else {
			n = spans(&b, text[:end])
		}
		marked += n
		text = text[end:]
		tag := tagOf(text)
		switch name, closes := strings.CutPrefix(tagName(tag), "/"); {
		case name == "svg" && closes:
			drawing = max(0, drawing-1)
		case name == "svg" && !strings.HasSuffix(tag, "/>"):
			drawing++
		case closes && name == plain:
			plain = ""
		case plain == "" && isPlainElement(name):
			plain = name
		}
		b.WriteString(lang.Plain(tag))
		text = text[len(tag):]
	}
	return b.String(), marked
}

// spans writes a run of text; a mark that is never closed is left out.
func spans(b *strings.Builder, text string) (marked int) {
	for {
		before, rest, begun := strings.Cut(text, string(lang.Begin))
		inside, after, ended := strings.Cut(rest, string(lang.End))
		b.WriteString(lang.Plain(before))
		if !begun {
			return marked
		}
		if !ended {
			b.WriteString(lang.Plain(rest))
			return marked
		}
		b.WriteString(foreignOpen + lang.Plain(inside) + foreignClose)
		marked++
		text = after
	}
}

// tagOf gives the tag that a text begins with, quoted values and all.
func tagOf(text string) string {
	quoted := false
	for i := range len(text) {
		switch text[i] {
		case '"':
			quoted = !quoted
		case '>':
			if !quoted {
				return text[:i+1]
			}
		}
	}
	return text
}

func tagName(tag string) string {
	name := strings.TrimPrefix(tag, "<")
	if end := strings.IndexAny(strings.TrimPrefix(name, "/"), " \t\n/>"); end >= 0 {
		name = name[:len(name)-len(strings.TrimPrefix(name, "/"))+end]
	}
	return name
}

func isPlainElement(name string) bool {
	for _, p := range plainElements {
		if name == p {
			return true
		}
	}
	return false
}

// beyond is the way from the root of this language's pages to the root of another's.
func (r *renderer) beyond(l pack.Language) string {
	to := l.Folder
	if to != "" {
		to += "/"
	}
	if r.base != "" {
		to = "../" + to
	}
	return to
}

// baseOf is the folder of the pages of a pack's own language, with its slash; empty for the first language.
func baseOf(h pack.Head) string {
	for _, l := range h.Languages {
		if l.Here && l.Folder != "" {
			return l.Folder + "/"
		}
	}
	return ""
}

// fileStem begins the names of the single files: the pack's, and the tag of a further language.
func fileStem(h pack.Head) string {
	if base := baseOf(h); base != "" {
		return h.PackID + "-" + strings.TrimSuffix(base, "/")
	}
	return h.PackID
}

// stemIn is the same for another language of the pack.
func stemIn(h pack.Head, l pack.Language) string {
	if l.Folder != "" {
		return h.PackID + "-" + l.Folder
	}
	return h.PackID
}

// otherLanguages are links to the same page in the pack's other languages.
func (r *renderer) otherLanguages(s *section, e edition) string {
	if len(r.pack.Head.Languages) == 0 {
		return ""
	}
	esc := template.HTMLEscapeString
	var b strings.Builder
	b.WriteString(`<nav class="tongues" aria-label="` + esc(r.say("Languages")) + `">`)
	for _, l := range r.pack.Head.Languages {
		if l.Here {
			fmt.Fprintf(&b, `<b lang="%s">%s</b> `, esc(l.Tag), esc(l.Name))
			continue
		}
		href := s.up + r.beyond(l) + s.page.Path
		if e.single {
			file := r.shares.list[max(e.part, 0)].file
			href = stemIn(r.pack.Head, l) + strings.TrimPrefix(file, fileStem(r.pack.Head)) + "#" + s.anchor
		}
		fmt.Fprintf(&b, `<a href="%s" lang="%s" hreflang="%s">%s</a> `, esc(href), esc(l.Tag), esc(l.Tag), esc(l.Name))
	}
	b.WriteString("</nav>")
	return b.String()
}

// leftEnglish is the line at the end of a page on which texts have no translation yet.
func (r *renderer) leftEnglish(marked int) string {
	if marked == 0 {
		return ""
	}
	return `<p class="q missing" lang="` + template.HTMLEscapeString(r.pack.Head.Language) + `">` +
		template.HTMLEscapeString(lang.Plain(r.say("%d texts of this page are not translated yet and stand in English.", marked))) + "</p>"
}

func (r *renderer) say(pattern string, values ...any) string {
	return r.pack.Lang.Say(pattern, values...)
}
