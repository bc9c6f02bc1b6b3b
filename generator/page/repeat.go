package page

import (
	"bytes"
	"html/template"
	"strconv"
	"strings"
	"sync"

	"lapwork/generator/pack"
)

// repeats renders once what many pages show in the same words: a check stands where the work is and where it is signed, a
// junction in its room and on its surfaces, steps and cautions in each room.
type repeats struct {
	parsed *template.Template
	shares shares
	done   sync.Map // template.HTML by repeated
}

// repeated tells texts apart by the template and by every word of theirs that may differ.
type repeated struct{ name, words string }

// once renders a template, or gives what it gave for the same words.
func (t *repeats) once(name, words string, data any) (template.HTML, error) {
	id := repeated{name, words}
	if done, ok := t.done.Load(id); ok {
		return done.(template.HTML), nil
	}
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	if err := t.parsed.ExecuteTemplate(b, name, data); err != nil {
		return "", err
	}
	text := template.HTML(b.String())
	t.done.Store(id, text)
	return text, nil
}

// apart joins texts so that no two lists give the same.
func apart(texts ...string) string { return strings.Join(texts, "\x00") }

func (t *repeats) check(c *pack.Check) (template.HTML, error) { return t.once("check", wordsOf(c), c) }

// checklist renders checks one after another, those that are alike together.
func (t *repeats) checklist(checks []pack.Check) (template.HTML, error) {
	groups := together(checks)
	texts := make([]template.HTML, len(groups))
	for i := range groups {
		var err error
		if texts[i], err = t.alike(&groups[i]); err != nil {
			return "", err
		}
	}
	return lines(texts), nil
}

// lines are texts each on a line of its own.
func lines(texts []template.HTML) template.HTML {
	size := len(texts)
	for _, text := range texts {
		size += len(text)
	}
	var b strings.Builder
	b.Grow(size)
	for _, text := range texts {
		b.WriteString(string(text))
		b.WriteByte('\n')
	}
	return template.HTML(b.String())
}

// alike renders checks that share their words, or the one that stands alone.
func (t *repeats) alike(g *alike) (template.HTML, error) {
	if len(g.Checks) == 1 {
		return t.check(g.Shared)
	}
	words := make([]string, len(g.Checks))
	for i, c := range g.Checks {
		words[i] = wordsOf(c)
	}
	return t.once("alike", apart(words...), g)
}

// wordsOf is every word of a check that its template shows; the seal stands for the statement.
func wordsOf(c *pack.Check) string {
	return apart(c.Key, c.Seal, c.QA, c.When, c.OnFail, c.Also, c.Changed, c.Record, c.Low, c.High)
}

func (t *repeats) caution(c *pack.Caution) (template.HTML, error) {
	return t.once("caution", apart(c.ID, c.Short, c.Text, c.DefersTo, c.Because), c)
}

// said renders what a check says apart from where, which every room says alike.
func (t *repeats) said(c *pack.Check) (template.HTML, error) {
	return t.once("says", apart(c.Title, c.QA, c.Hold, c.Accept, c.Unit, c.Method, c.Who, c.When, c.OnFail), c)
}

// how renders by what method and by whom a check is made, which every room says alike.
func (t *repeats) how(c *pack.Check) (template.HTML, error) {
	return t.once("how", apart(c.Method, c.Who, c.When, c.OnFail), c)
}

// junctions renders the rows of a room's or a surface's table of junctions.
func (t *repeats) junctions(rows []pack.JunctionRow) (template.HTML, error) {
	texts := make([]template.HTML, len(rows))
	for i := range rows {
		var err error
		if texts[i], err = t.row("junction", &rows[i]); err != nil {
			return "", err
		}
	}
	return lines(texts), nil
}

// places renders the rows of a table of the whole job's junctions: those of a storey are a part of their own.
func (t *repeats) places(rows []pack.JunctionRow) (template.HTML, error) {
	var b strings.Builder
	for i := range rows {
		begun, err := t.shares.begin(rows[i].Room)
		if err != nil {
			return "", err
		}
		text, err := t.row("place", &rows[i])
		if err != nil {
			return "", err
		}
		b.WriteString(string(begun + text + closing(begun)))
	}
	return template.HTML(b.String()), nil
}

func (t *repeats) row(name string, j *pack.JunctionRow) (template.HTML, error) {
	return t.once(name, apart(j.ID, strconv.Itoa(j.No), j.Room, j.Path, j.Work, strconv.FormatBool(j.Again), j.Amount, j.Substrate, j.Activity, whatOf(j)), j)
}

// what renders what a junction is, which all of its kind say alike.
func (t *repeats) what(j *pack.JunctionRow) (template.HTML, error) {
	return t.once("jwhat", whatOf(j), j)
}

func whatOf(j *pack.JunctionRow) string {
	var s pack.Link
	if j.Statement != nil {
		s = *j.Statement
	}
	return apart(s.Path, s.Text, s.Note, j.Title, j.Variant, j.Origin, j.Problem)
}

func (t *repeats) steps(list []pack.Step) (template.HTML, error) {
	var words []string
	for _, s := range list {
		words = append(words, strconv.Itoa(s.No), s.HTML, s.Other.Tag, s.Other.Name, s.Other.HTML)
		for i := range s.Checks {
			words = append(words, wordsOf(&s.Checks[i]))
		}
	}
	return t.once("steplist", apart(words...), list)
}
