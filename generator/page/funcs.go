package page

import (
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"lapwork/generator/pack"
)

// funcs are all that templates may call: none computes a figure.
func funcs(ix index) template.FuncMap {
	return template.FuncMap{
		// trusted marks a drawing of ours or Markdown that our renderer has made safe.
		"trusted": func(s string) template.HTML { return template.HTML(s) },
		"wants":   wants,
		"keys":    ix.ranges,
		"pathof":  func(kind string) string { return ix.paths[pack.Kind(kind)] },
		"rows":    func(n int) []struct{} { return make([]struct{}, max(0, n)) },
	}
}

// want is a check with what has to be recorded for it.
type want struct {
	Check                              pack.Check
	Tick, Number, Photo, Sign, Several bool
	Count                              int
}

// wants reads a check's Record: tick, number, photo and signature joined by +, each perhaps with more words after it.
func wants(c pack.Check) (want, error) {
	w := want{Check: c, Count: len(c.Places)}
	for _, part := range strings.Split(c.Record, "+") {
		word, _, _ := strings.Cut(strings.TrimSpace(part), " ")
		switch word {
		case "tick":
			w.Tick = true
		case "number":
			w.Number = true
		case "photo":
			w.Photo = true
		case "signature":
			w.Sign = true
		default:
			return want{}, fmt.Errorf("check %s: record %q is none of tick, number, photo, signature", c.Key, word)
		}
	}
	w.Several = w.Tick && w.Count > 1
	return w, nil
}

// Acts is whether anything but a signature is recorded.
func (w want) Acts() bool { return w.Tick || w.Number || w.Photo }

// Words is what has to be recorded, for the script.
func (w want) Words() string {
	var words []string
	for _, k := range []struct {
		on   bool
		word string
	}{{w.Tick, "tick"}, {w.Number, "meas"}, {w.Photo, "photo"}, {w.Sign, "sign"}} {
		if k.on {
			words = append(words, k.word)
		}
	}
	return strings.Join(words, " ")
}

// index is every check of the pack in key order. The script counts progress from it on pages that show no checks.
type index struct {
	checks []pack.Check
	at     map[string]int
	paths  map[pack.Kind]string // first page of each kind
}

func newIndex(p pack.Pack) index {
	ix := index{p.Checks, map[string]int{}, map[pack.Kind]string{}}
	for _, pg := range p.Pages {
		if ix.paths[pg.Kind] == "" {
			ix.paths[pg.Kind] = pg.Path
		}
	}
	for i, c := range p.Checks {
		ix.at[c.Key] = i
	}
	return ix
}

// ranges writes keys as positions in the index, runs as "3-9", separated by spaces.
func (ix index) ranges(keys []string) (string, error) {
	var runs []string
	first, last := -1, -2
	flush := func() {
		if first >= 0 && first == last {
			runs = append(runs, strconv.Itoa(first))
		} else if first >= 0 {
			runs = append(runs, strconv.Itoa(first)+"-"+strconv.Itoa(last))
		}
	}
	for _, k := range keys {
		i, ok := ix.at[k]
		if !ok {
			return "", fmt.Errorf("check %s is counted but not among the pack's checks", k)
		}
		if i != last+1 {
			flush()
			first = i
		}
		last = i
	}
	flush()
	return strings.Join(runs, " "), nil
}

// entries is the index as the script reads it: key, first digits of the seal, what is recorded, range.
func (ix index) entries() ([][]string, error) {
	out := make([][]string, len(ix.checks))
	for i, c := range ix.checks {
		w, err := wants(c)
		if err != nil {
			return nil, err
		}
		out[i] = []string{c.Key, c.Seal[:min(8, len(c.Seal))], w.Words(), c.Low, c.High}
	}
	return out, nil
}
