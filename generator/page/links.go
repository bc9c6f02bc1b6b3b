package page

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
)

// target is a place in the pack.
type target struct {
	page *section // nil: the frame of the same page
	id   string   // empty: the page itself
	part parts    // the storeys that the place belongs to; nil: all
}

// resolve finds what every link of a text means. from is nil for a frame, whose own ids its links may name as well. What
// goes nowhere is an error.
func (r *renderer) resolve(from *section, s *scanned) error {
	var errs []error
	for i := range s.marks {
		m := &s.marks[i]
		if m.kind != linked {
			continue
		}
		t, inside, err := r.find(from, s, m.name)
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: link %q %w", nameOf(from), m.name, err))
		}
		if inside {
			m.target = &t
		}
	}
	return errors.Join(errs...)
}

// find gives the place that href means; inside is false where it leaves the pack or is an asset.
func (r *renderer) find(from *section, s *scanned, href string) (t target, inside bool, err error) {
	if external(href) || beside(href) {
		return target{}, false, nil
	}
	path, id, _ := strings.Cut(href, "#")
	if strings.Contains(id, "%") {
		if id, err = url.PathUnescape(id); err != nil {
			return target{}, false, errors.New("cannot be read")
		}
	}
	t = target{page: from, id: id}
	ids := s.ids
	if path != "" {
		if t.page = r.pages[path]; t.page == nil {
			return target{}, false, errors.New("goes to no page")
		}
		ids = t.page.ids
	}
	if id == "" {
		return t, true, nil
	}
	part, ok := ids[id]
	if !ok && t.page == nil {
		_, ok = r.footIDs[id]
	}
	if !ok {
		return target{}, false, errors.New("goes to no id on its page")
	}
	t.part = part
	return t, true, nil
}

// beside is whether a link names a file that lies beside the pages in the folder and is no page.
func beside(href string) bool {
	return slices.ContainsFunc([]string{"assets/", "papers/", "photos/", "files/"}, func(dir string) bool { return strings.HasPrefix(href, dir) })
}

var schemes = []string{"http", "https", "mailto", "tel", "data"}

func external(href string) bool {
	scheme, _, ok := strings.Cut(href, ":")
	return ok && slices.Contains(schemes, strings.ToLower(scheme))
}

func nameOf(s *section) string {
	if s == nil {
		return "frame"
	}
	return s.page.Path
}
