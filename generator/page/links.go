package page

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
)

// links remembers what every link of the pack points at.
type links struct {
	missing map[string]bool
}

// dangling is an error naming every link that goes nowhere.
func (l *links) dangling() error {
	var errs []error
	for _, m := range sortedKeys(l.missing) {
		errs = append(errs, errors.New(m))
	}
	return errors.Join(errs...)
}

func (l *links) miss(format string, args ...any) {
	if l.missing == nil {
		l.missing = map[string]bool{}
	}
	l.missing[fmt.Sprintf(format, args...)] = true
}

func sortedKeys(m map[string]bool) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// target is a place in the pack.
type target struct {
	page *section // nil: the frame of the same page
	id   string   // empty: the page itself
}

// resolve finds what href on the page from means; ok is false where it leaves the pack or is an asset.
func (r *renderer) resolve(from *section, href string) (t target, ok bool) {
	if external(href) || strings.HasPrefix(href, "assets/") {
		return target{}, false
	}
	path, id, _ := strings.Cut(href, "#")
	id, err := url.PathUnescape(id)
	if err != nil {
		r.links.miss("%s: link %q cannot be read", nameOf(from), href)
		return target{}, false
	}
	if path == "" {
		t = target{from, id}
	} else if t = (target{r.pages[path], id}); t.page == nil {
		r.links.miss("%s: link %q goes to no page", nameOf(from), href)
		return target{}, false
	}
	if t.page != nil && id != "" && !t.page.ids[id] {
		r.links.miss("%s: link %q goes to no id on its page", nameOf(from), href)
	}
	return t, true
}

func external(href string) bool {
	u, err := url.Parse(href)
	return err == nil && u.Scheme != "" && slices.Contains([]string{"http", "https", "mailto", "tel", "data"}, u.Scheme)
}

func nameOf(s *section) string {
	if s == nil {
		return "frame"
	}
	return s.page.Path
}
