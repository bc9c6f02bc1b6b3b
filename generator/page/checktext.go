package page

import (
	"bytes"
	"html/template"
	"sync"

	"lapwork/generator/pack"
)

// checkTexts renders each check once: it stands on the page where the work is and on the one where it is signed.
type checkTexts struct {
	parsed *template.Template
	done   sync.Map // template.HTML by key and seal
}

// checkID tells two checks apart that a page shows with different words.
type checkID struct{ key, seal, words string }

func (t *checkTexts) html(c pack.Check) (template.HTML, error) {
	id := checkID{c.Key, c.Seal, c.QA + c.When + c.OnFail + c.Also + c.Changed + c.Record + c.Low + c.High}
	if done, ok := t.done.Load(id); ok {
		return done.(template.HTML), nil
	}
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	if err := t.parsed.ExecuteTemplate(b, "check", c); err != nil {
		return "", err
	}
	text := template.HTML(b.String())
	t.done.Store(id, text)
	return text, nil
}
