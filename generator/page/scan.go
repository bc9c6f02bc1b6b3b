package page

import (
	"errors"
	"fmt"
	"html"
	"slices"
	"strconv"
	"strings"
)

// mark is one place of a rendered text where its editions differ; all other bytes are copied as they stand.
type mark struct {
	from, to int32   // the bytes it replaces
	mate     int32   // of a begin the mark that ends it, of an end the mark that began it
	name     string  // of an id; of a link what the text states
	target   *target // of a link into the pack, nil where it leaves the pack; of partBegin the part
	drawing  int32   // which svg of the text it stands in, from 1; 0: none
	kind     markKind
	own      bool // an id that the page declares, so that the single file has to tell it from those of other pages
}

type markKind uint8

const (
	idDeclared markKind = iota // id="..."
	idNamed                    // for, list, aria-labelledby, url(#...)
	linked                     // href, src
	partBegin                  // what follows belongs to some storeys only
	partEnd
	hole        // where a frame takes in something
	roomLink    // behind a link to a room that is already written: where it says that the room is the current one
	folderBegin // what follows stands in the folder only: it names a file that the single file does not carry
	folderEnd
	nothing // between two elements of the same part
)

// parts are the single files, by position, that an element belongs to; nil: all.
type parts []int

func (p parts) has(i int) bool { return p == nil || slices.Contains(p, i) }

// scanned is one rendered text with its marks in order.
type scanned struct {
	text  string
	marks []mark
	ids   map[string]parts // declared outside drawings: where links may point
	hatch []string         // ids of the shared patterns that its drawings use

	checks, cuts bool // whether a script finds checks, and strips to measure, in it
}

// scan finds the marks of a text. An id that stands twice is an error, as is anything that the content security policy
// would refuse and any tag that is not written as templates write it.
func scan(text string) (*scanned, error) {
	s := &scanner{scanned: scanned{text: text, ids: map[string]parts{}}}
	s.run()
	if len(s.open) > 0 {
		s.fail("%d parts begin and do not end", len(s.open))
	}
	s.settle()
	s.marks = slices.Clip(s.marks)
	return &s.scanned, errors.Join(s.errs...)
}

// scanFrame finds the marks of a frame of ours, which may carry what the policy allows nobody else.
func scanFrame(text string) *scanned {
	s := &scanner{scanned: scanned{text: text, ids: map[string]parts{}}, frame: true}
	s.run()
	s.settle()
	return &s.scanned
}

type scanner struct {
	scanned
	frame    bool
	at       int
	drawings int // begun so far
	depth    int // of nested svg elements
	part     parts
	around   []parts // of the elements that part stands in
	open     []int   // marks that began a part or what stands in the folder only
	errs     []error
}

func (s *scanner) run() {
	for {
		next := strings.IndexByte(s.text[s.at:], '<')
		if next < 0 || s.at+next+1 >= len(s.text) {
			return
		}
		s.at += next
		switch c := s.text[s.at+1]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z':
			s.tag()
		case c == '/':
			s.close()
		case c == '!' || c == '?':
			s.comment()
		default:
			s.at++
		}
	}
}

// close reads an end tag.
func (s *scanner) close() {
	if strings.HasPrefix(s.text[s.at:], "</svg>") && s.depth > 0 {
		s.depth--
	}
	s.skipPast(">")
}

// skipPast goes on behind the next such text, or to the end.
func (s *scanner) skipPast(end string) {
	i := strings.Index(s.text[s.at:], end)
	if i < 0 {
		s.at = len(s.text)
		return
	}
	s.at += i + len(end)
}

// The comments that the renderer's own functions write between elements.
const (
	partOpen  = "<!--part "
	partClose = "<!--/part-->"
	holeOpen  = "<!--hole "

	folderOpen  = "<!--folder-->"
	folderClose = "<!--/folder-->"
)

func (s *scanner) comment() {
	from := s.at
	if !strings.HasPrefix(s.text[s.at:], "<!--") {
		s.skipPast(">")
		return
	}
	s.skipPast("-->")
	whole := s.text[from:s.at]
	switch {
	case whole == partClose && len(s.around) > 0:
		s.end(partEnd, from)
		s.part, s.around = s.around[len(s.around)-1], s.around[:len(s.around)-1]
	case strings.HasPrefix(whole, partOpen):
		s.beginPart(whole, from)
	case whole == folderOpen:
		s.begin(mark{kind: folderBegin, from: int32(from), to: int32(s.at)})
	case whole == folderClose:
		s.end(folderEnd, from)
	case strings.HasPrefix(whole, holeOpen):
		words := strings.Fields(strings.TrimSuffix(whole, "-->"))
		s.marks = append(s.marks, mark{kind: hole, from: int32(from), to: int32(s.at), name: words[len(words)-1]})
	}
}

// begin enters a mark that another one ends.
func (s *scanner) begin(m mark) {
	s.open = append(s.open, len(s.marks))
	m.mate = int32(len(s.marks)) // itself, until its end is read
	s.marks = append(s.marks, m)
}

// end enters the mark that ends the last one begun; one that ends nothing is left out.
func (s *scanner) end(kind markKind, from int) {
	if len(s.open) == 0 {
		return
	}
	began := s.open[len(s.open)-1]
	s.open = s.open[:len(s.open)-1]
	s.marks[began].mate = int32(len(s.marks))
	s.marks = append(s.marks, mark{kind: kind, from: int32(from), to: int32(s.at), mate: int32(began)})
}

// beginPart enters the begin of a part, or goes on with the one that has just ended where it is the same: a list of a
// thousand rows has a run for each storey, not a part for each row.
func (s *scanner) beginPart(whole string, from int) {
	words := strings.TrimSuffix(strings.TrimPrefix(whole, partOpen), "-->")
	if last := len(s.marks) - 1; last >= 0 && s.marks[last].kind == partEnd && strings.TrimSpace(s.text[s.marks[last].to:from]) == "" {
		end := &s.marks[last]
		if began := &s.marks[end.mate]; began.name == words {
			s.open, s.around, s.part = append(s.open, int(end.mate)), append(s.around, s.part), began.target.part
			*end = mark{kind: nothing, from: end.from, to: int32(s.at)}
			return
		}
	}
	s.around = append(s.around, s.part)
	s.part = parts{}
	for _, w := range strings.Fields(words) {
		n, err := strconv.Atoi(w)
		if err != nil {
			s.fail("part %q: %w", w, err)
		}
		s.part = append(s.part, n)
	}
	s.begin(mark{kind: partBegin, from: int32(from), to: int32(s.at), name: words, target: &target{part: s.part}})
}

func (s *scanner) fail(format string, args ...any) {
	s.errs = append(s.errs, fmt.Errorf(format, args...))
}

// refusedTags are those that carry a program or a style, or change what links mean.
var refusedTags = []string{"script", "style", "iframe", "object", "embed", "base", "meta", "link"}

// tag reads a start tag.
func (s *scanner) tag() {
	from := s.at
	s.at++
	name := s.word()
	if !s.frame && slices.Contains(refusedTags, strings.ToLower(name)) {
		s.fail("the policy refuses %q in %.80q", "<"+name, s.text[from:])
	}
	if name == "svg" {
		if s.depth == 0 {
			s.drawings++
		}
		s.depth++
	}
	for s.at < len(s.text) {
		switch c := s.text[s.at]; c {
		case '>':
			s.at++
			return
		case '/', ' ', '\n', '\t', '\r', '\f':
			if c == '/' && strings.HasPrefix(s.text[s.at:], "/>") && name == "svg" {
				s.depth--
			}
			s.at++
		default:
			if !s.attribute(from) {
				return
			}
		}
	}
}

// word reads a name.
func (s *scanner) word() string {
	from := s.at
	for s.at < len(s.text) && !strings.ContainsRune("> \t\r\n\f/=\"'<", rune(s.text[s.at])) {
		s.at++
	}
	return s.text[from:s.at]
}

// attribute reads a name with a value in double quotes, or a name alone. It is false where neither stands.
func (s *scanner) attribute(tag int) bool {
	name := s.word()
	if name == "" {
		s.fail("no attribute can be read at %.40q in %.80q", s.text[s.at:], s.text[tag:])
		s.skipPast(">")
		return false
	}
	if !s.frame && len(name) > 2 && (name[0] == 'o' || name[0] == 'O') && strings.EqualFold(name[:2], "on") || strings.EqualFold(name, "style") {
		s.fail("the policy refuses %q in %.80q", name, s.text[tag:])
	}
	s.checks, s.cuts = s.checks || name == "data-check", s.cuts || name == "data-cut"
	if s.at >= len(s.text) || s.text[s.at] != '=' {
		return true
	}
	if s.at++; s.at >= len(s.text) || s.text[s.at] != '"' {
		s.fail("the value of %s does not stand in double quotes in %.80q", name, s.text[tag:])
		s.skipPast(">")
		return false
	}
	s.at++
	from := s.at
	s.skipPast(`"`)
	s.value(name, from, max(from, s.at-1))
	return true
}

// value marks what a value names.
func (s *scanner) value(name string, from, to int) {
	switch name {
	case "id":
		s.mark(idDeclared, from, to)
		s.declare(html.UnescapeString(s.text[from:to]))
	case "for", "list":
		s.mark(idNamed, from, to)
	case "aria-labelledby", "aria-describedby":
		for i := from; i < to; {
			end := i
			for end < to && s.text[end] != ' ' {
				end++
			}
			if end > i {
				s.mark(idNamed, i, end)
			}
			i = end + 1
		}
	case "href", "xlink:href", "src":
		s.mark(linked, from, to)
	default:
		if to > from && s.text[from] == 'u' { // url(...), as presentation attributes begin where they name something
			s.urls(from, to)
		}
	}
}

// urls marks the names in url(#...) of a presentation attribute.
func (s *scanner) urls(from, to int) {
	const open = "url(#"
	for {
		i := strings.Index(s.text[from:to], open)
		if i < 0 {
			return
		}
		from += i + len(open)
		end := strings.IndexByte(s.text[from:to], ')')
		if end < 0 {
			return
		}
		s.mark(idNamed, from, from+end)
		if id := s.text[from : from+end]; strings.HasPrefix(id, "hatch-") && !slices.Contains(s.hatch, id) {
			s.hatch = append(s.hatch, id)
		}
		from += end
	}
}

func (s *scanner) mark(kind markKind, from, to int) {
	m := mark{kind: kind, from: int32(from), to: int32(to), name: html.UnescapeString(s.text[from:to])}
	if s.depth > 0 {
		m.drawing = int32(s.drawings)
	}
	s.marks = append(s.marks, m)
}

// declare notes an id outside drawings. Those in a drawing get the drawing's number, since each drawing names its own
// marks and all of them share the page.
func (s *scanner) declare(id string) {
	if s.depth > 0 {
		return
	}
	if _, twice := s.ids[id]; twice {
		s.fail("id %q stands twice", id)
	}
	s.ids[id] = s.part
}

type drawingID struct {
	drawing int32
	id      string
}

// settle gives every name its final form, now that all ids are known. A name that the text does not declare belongs to
// the frame, such as the hatches that all drawings share, and stays as it is.
func (s *scanner) settle() {
	drawn := map[drawingID]bool{}
	for _, m := range s.marks {
		if m.kind == idDeclared && m.drawing > 0 {
			drawn[drawingID{m.drawing, m.name}] = true
		}
	}
	for i := range s.marks {
		m := &s.marks[i]
		name, link := m.name, false
		if m.kind == linked {
			if name, link = strings.CutPrefix(m.name, "#"); !link {
				continue
			}
		} else if m.kind > linked {
			continue
		}
		_, declared := s.ids[name]
		switch {
		case m.drawing > 0 && drawn[drawingID{m.drawing, name}]:
			m.name, m.own = fmt.Sprintf("fig%d.%s", m.drawing, name), true
			if link {
				m.kind, m.from = idNamed, m.from+1
			}
		case !link:
			m.own = declared
		}
		if m.kind != linked {
			m.name = html.EscapeString(m.name)
		}
	}
}
