package page

import (
	"fmt"
	"html/template"
	"path"
	"slices"
	"strings"

	"lapwork/generator/pack"
)

// common is the part of what belongs to no storey in particular.
const common = -1

// part is one single file: the whole pack, or one storey of a large one with the pages common to all.
type part struct {
	file, title, storey string
	ending              string        // of its editions of divided pages: "-upper-floor.html"
	opens               template.HTML // the comment before what is its alone
}

// shares says which part each page, room and storey belongs to.
type shares struct {
	list    []part
	pages   map[string]int // by path; pages of no room or storey are absent
	rooms   map[string]int // by room id
	storeys map[string]int // by name
}

// split gives one part for each storey with rooms, where there are more rooms than one single file carries.
func split(p pack.Pack) shares {
	sh := shares{pages: map[string]int{}, rooms: map[string]int{}, storeys: map[string]int{}}
	var rooms []pack.Page
	for _, pg := range p.Pages {
		if pg.Kind == pack.KindRoom && pg.Room != nil {
			rooms = append(rooms, pg)
		}
	}
	head := p.Head
	if len(rooms) <= maxRooms {
		sh.list = []part{{file: fileStem(head) + ".html", title: head.Job}}
		return sh
	}
	for _, pg := range rooms {
		storey := pg.Room.Storey
		i, ok := sh.storeys[storey]
		if !ok {
			i = len(sh.list)
			sh.storeys[storey] = i
			ending := "-" + fileName(storey) + ".html"
			sh.list = append(sh.list, part{fileStem(head) + ending, head.Job + ", " + storey, storey, ending, beginOf(i)})
		}
		sh.rooms[pg.Room.ID], sh.pages[pg.Path] = i, i
	}
	sh.assign(p.Pages)
	return sh
}

// assign gives the later phases, surfaces and sign-offs of rooms and storeys their parts.
func (sh shares) assign(pages []pack.Page) {
	for _, pg := range pages {
		switch {
		case pg.Surface != nil:
			if i, ok := sh.rooms[pg.Surface.Room]; ok {
				sh.pages[pg.Path] = i
			}
		case pg.Phase != nil:
			if i, ok := sh.rooms[pg.Phase.Room]; ok {
				sh.pages[pg.Path] = i
			}
		case pg.SignOff != nil:
			if i, ok := sh.pages[pg.SignOff.Back.Path]; ok {
				sh.pages[pg.Path] = i
			} else if i, ok := sh.storeys[pg.SignOff.Place]; ok {
				sh.pages[pg.Path] = i
				sh.rooms[strings.TrimSuffix(path.Base(pg.Path), ".html")] = i // keys of the storey's checks begin with its scope
			}
		}
	}
}

// of is the part of a page's path, a storey's name, a room's id, the id or key of something in a room, or a text that begins
// with such an id or ends with one after a comma: "R1 Bedroom", "Laps, R1 Bedroom".
func (sh shares) of(name string) int {
	page, _, _ := strings.Cut(name, "#")
	if i, ok := sh.pages[page]; ok {
		return i
	}
	if i, ok := sh.storeys[name]; ok {
		return i
	}
	if i, ok := sh.rooms[beginning(name)]; ok {
		return i
	}
	if comma := strings.LastIndex(name, ", "); comma >= 0 {
		last := name[comma+2:]
		if i, ok := sh.storeys[last]; ok {
			return i
		}
		if i, ok := sh.rooms[beginning(last)]; ok {
			return i
		}
	}
	return common
}

// beginning is what may be a room's id at the begin of a text.
func beginning(text string) string {
	if end := strings.IndexAny(text, "-/+ ,"); end >= 0 {
		return text[:end]
	}
	return text
}

// begin is the comment before an element that belongs to some storeys only, by a name, several names, the strips of a
// roll or a day's work; end follows the element with the same. Neither comment is written to a file.
func (sh shares) begin(named any) (template.HTML, error) {
	var names []string
	switch v := named.(type) {
	case string:
		if i := sh.of(v); i != common {
			return sh.list[i].opens, nil
		}
		return "", nil
	case []string:
		names = v
	case []pack.StripRow:
		for _, cut := range v {
			names = append(names, cut.ID)
		}
	case pack.ProgrammeDay:
		for _, crew := range v.Crews {
			for _, w := range crew.Work {
				names = append(names, w.Of)
			}
		}
	default:
		return "", fmt.Errorf("a %T names no part", named)
	}
	var all []int
	for _, name := range names {
		i := sh.of(name)
		if i == common {
			return "", nil
		}
		if !slices.Contains(all, i) {
			all = append(all, i)
		}
	}
	if len(all) == 0 {
		return "", nil
	}
	slices.Sort(all)
	return beginOf(all...), nil
}

// stretch is rows that follow one another and belong to the same storey.
type stretch[T any] struct {
	Begin, End template.HTML
	Rows       []T
}

func (sh shares) terms(rows []pack.Term) ([]stretch[pack.Term], error) {
	return inRuns(sh, rows, func(r *pack.Term) string { return r.Name })
}

func (sh shares) works(rows []pack.ProgrammeWork) ([]stretch[pack.ProgrammeWork], error) {
	return inRuns(sh, rows, func(r *pack.ProgrammeWork) string { return r.Of })
}

func (sh shares) cures(rows []pack.ProgrammeCure) ([]stretch[pack.ProgrammeCure], error) {
	return inRuns(sh, rows, func(r *pack.ProgrammeCure) string { return r.Place })
}

// inRuns divides rows by what their names belong to, in their order.
func inRuns[T any](sh shares, rows []T, name func(*T) string) ([]stretch[T], error) {
	var runs []stretch[T]
	for i := range rows {
		begun, err := sh.begin(name(&rows[i]))
		if err != nil {
			return nil, err
		}
		if n := len(runs); n == 0 || runs[n-1].Begin != begun {
			runs = append(runs, stretch[T]{begun, closing(begun), rows[i:i]})
		}
		last := &runs[len(runs)-1]
		last.Rows = last.Rows[:len(last.Rows)+1]
	}
	return runs, nil
}

// beginOf is the comment before what belongs to these parts.
func beginOf(parts ...int) template.HTML {
	return template.HTML(partOpen + strings.Trim(fmt.Sprint(parts), "[]") + "-->")
}

// end ends what begin began for the same names.
func (sh shares) end(named any) (template.HTML, error) {
	begun, err := sh.begin(named)
	return closing(begun), err
}

// beginBase is the same for what only the common file of a divided page shows, since it grows with the job and is of use
// to those who lead it.
func (sh shares) beginBase() template.HTML {
	if len(sh.list) < 2 {
		return ""
	}
	return beginOf(common)
}

func (sh shares) endBase() template.HTML { return closing(sh.beginBase()) }

func closing(begun template.HTML) template.HTML {
	if begun == "" {
		return ""
	}
	return partClose
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
