package page

import (
	"errors"
	"fmt"
	"html"
	"regexp"
	"strings"

	xhtml "golang.org/x/net/html"
)

// token is one piece of rendered HTML as it was written. Attributes stand only on start tags.
type token struct {
	raw     string
	start   bool
	refers  bool // a start tag with an id, or an attribute that may name one
	drawing int  // which svg of the page it belongs to, from 1; 0: none
}

// scan splits HTML into tokens without changing a byte.
func scan(body string) []token {
	z := xhtml.NewTokenizer(strings.NewReader(body))
	var out []token
	drawings, depth := 0, 0
	for {
		kind := z.Next()
		if kind == xhtml.ErrorToken {
			return out // a strings.Reader ends, it does not fail
		}
		t := token{raw: string(z.Raw()), start: kind == xhtml.StartTagToken || kind == xhtml.SelfClosingTagToken}
		t.refers = t.start && refers(t.raw)
		name, _ := z.TagName()
		if string(name) == "svg" {
			switch kind {
			case xhtml.StartTagToken:
				if depth == 0 {
					drawings++
				}
				depth++
			case xhtml.EndTagToken:
				depth--
			}
		}
		if depth > 0 {
			t.drawing = drawings
		}
		out = append(out, t)
	}
}

// refers tells the few tags that rewriting may change from the many lines of a drawing.
func refers(raw string) bool {
	for _, part := range []string{`id="`, `href="`, `src="`, `url(#`, `for="`, `list="`, `aria-`} {
		if strings.Contains(raw, part) {
			return true
		}
	}
	return false
}

// scanFrame scans a frame, where every id stays as it is: the patterns in it are there for all drawings.
func scanFrame(shell string) []token {
	tokens := scan(shell)
	for i := range tokens {
		tokens[i].drawing = 0
	}
	return tokens
}

var (
	attribute = regexp.MustCompile(`(\s)([a-zA-Z:_-]+)="([^"]*)"`)
	localURL  = regexp.MustCompile(`url\(#([^)]+)\)`)
	refused   = regexp.MustCompile(`(?i)^<(script|style|iframe|object|embed|base|meta|link)[\s/>]|\s(on[a-z]+|style)=`)
)

// declaredIDs collects the ids outside drawings, where links may point; a second one of a name is an error, as is
// anything that the content security policy would refuse.
func declaredIDs(tokens []token) (map[string]bool, error) {
	ids := map[string]bool{}
	var errs []error
	for _, t := range tokens {
		if !t.start {
			continue
		}
		if m := refused.FindString(t.raw); m != "" {
			errs = append(errs, fmt.Errorf("the policy refuses %q in %.80q", strings.TrimSpace(m), t.raw))
		}
		if !t.refers || t.drawing > 0 {
			continue
		}
		for _, m := range attribute.FindAllStringSubmatch(t.raw, -1) {
			if m[2] != "id" {
				continue
			}
			id := html.UnescapeString(m[3])
			if ids[id] {
				errs = append(errs, fmt.Errorf("id %q stands twice", id))
			}
			ids[id] = true
		}
	}
	return ids, errors.Join(errs...)
}

// rules say how links and ids are written in one build. ids are those the page declares; a name outside them belongs to
// the frame, such as the hatches that all drawings share, and stays as it is.
type rules struct {
	href func(string) string
	id   func(string) string
	ids  map[string]bool
}

// rewrite writes the tokens with every link and id passed through the rules. Ids inside a drawing get the drawing's
// number too, since each drawing names its own marks and all of them share the page.
func rewrite(tokens []token, r rules) string {
	own := drawingIDs(tokens)
	var b strings.Builder
	for _, t := range tokens {
		if !t.refers {
			b.WriteString(t.raw)
			continue
		}
		b.WriteString(rewriteTag(t, r, own))
	}
	return b.String()
}

type drawingID struct {
	drawing int
	id      string
}

func drawingIDs(tokens []token) map[drawingID]bool {
	own := map[drawingID]bool{}
	for _, t := range tokens {
		if !t.refers || t.drawing == 0 {
			continue
		}
		for _, m := range attribute.FindAllStringSubmatch(t.raw, -1) {
			if m[2] == "id" {
				own[drawingID{t.drawing, html.UnescapeString(m[3])}] = true
			}
		}
	}
	return own
}

func rewriteTag(t token, r rules, own map[drawingID]bool) string {
	id := func(name string) string {
		if own[drawingID{t.drawing, name}] {
			return r.id(fmt.Sprintf("fig%d.%s", t.drawing, name))
		}
		if !r.ids[name] {
			return name
		}
		return r.id(name)
	}
	return attribute.ReplaceAllStringFunc(t.raw, func(attr string) string {
		m := attribute.FindStringSubmatch(attr)
		space, name, value := m[1], m[2], html.UnescapeString(m[3])
		switch name {
		case "id", "for", "list":
			value = id(value)
		case "aria-labelledby", "aria-describedby":
			parts := strings.Fields(value)
			for i := range parts {
				parts[i] = id(parts[i])
			}
			value = strings.Join(parts, " ")
		case "href", "xlink:href", "src":
			if local, ok := strings.CutPrefix(value, "#"); ok && own[drawingID{t.drawing, local}] {
				value = "#" + id(local)
			} else {
				value = r.href(value)
			}
		default:
			if !strings.Contains(value, "url(#") {
				return attr
			}
			value = localURL.ReplaceAllStringFunc(value, func(u string) string {
				return "url(#" + id(localURL.FindStringSubmatch(u)[1]) + ")"
			})
		}
		return space + name + `="` + html.EscapeString(value) + `"`
	})
}
