package page

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/lang"
	"lapwork/generator/pack"
)

// funcs are all that templates may call: none computes a figure.
func funcs(ix index, sh shares, c *lang.Catalogue, again *repeats) template.FuncMap {
	return template.FuncMap{
		"say":       c.Say,
		"word":      c.Text,
		"check":     again.check,
		"alike":     again.alike,
		"checklist": again.checklist,
		"how":       again.how,
		"said":      again.said,
		"junctions": again.junctions,
		"places":    again.places,
		"jwhat":     again.what,
		"steps":     again.steps,
		"caution":   again.caution,
		// data marks a picture of ours that stands in the page.
		"data": func(s string) template.URL { return template.URL(s) },
		// folder and folderdone stand round what the single file leaves out, since it names a file beside the pages.
		"folder":     func() template.HTML { return folderOpen },
		"folderdone": func() template.HTML { return folderClose },
		// trusted marks a drawing of ours or Markdown that our renderer has made safe.
		"trusted":   func(s string) template.HTML { return template.HTML(s) },
		"checkdata": checkData,
		"joined":    joined,
		"cells":     cells,
		"shorts":    shorts,
		"sealed":    firstDigits,
		"together":  together,
		"during":    during,
		"keys":      ix.ranges,
		"pathof":    func(kind string) string { return ix.paths[pack.Kind(kind)] },
		"only":      sh.begin,
		"inruns":    sh.terms,
		"workruns":  sh.works,
		"cureruns":  sh.cures,
		"base":      sh.beginBase,
		"basedone":  sh.endBase,
		"done":      sh.end,
		"rows":      func(n int) []struct{} { return make([]struct{}, max(0, n)) },
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
	checks  []pack.Check
	at      map[string]int
	parts   []int                // of each check
	recs    []string             // what each check has recorded, in the script's words
	paths   map[pack.Kind]string // first page of each kind
	storeys map[string]string    // where the overview lists a storey
}

func newIndex(p pack.Pack, sh shares) (index, error) {
	ix := index{checks: p.Checks, at: map[string]int{}, paths: map[pack.Kind]string{}, storeys: map[string]string{}}
	for _, pg := range p.Pages {
		if ix.paths[pg.Kind] == "" {
			ix.paths[pg.Kind] = pg.Path
		}
		if pg.Kind == pack.KindOverview && pg.Overview != nil {
			for i, st := range pg.Overview.Storeys {
				ix.storeys[st.Name] = fmt.Sprintf("%s#storey-%d", pg.Path, i)
			}
		}
	}
	for i, c := range p.Checks {
		w, err := wants(c)
		if err != nil {
			return ix, err
		}
		ix.at[c.Key] = i
		ix.parts = append(ix.parts, sh.of(c.Key))
		ix.recs = append(ix.recs, w.Words())
	}
	return ix, nil
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

// runs is the checks at these positions, in order, as the script reads them: runs, each its first position and its entries
// of key, first digits of the seal, what is recorded, and the range where there is one.
func (ix index) runs(positions []int) [][]any {
	out := [][]any{}
	last := -2
	for _, i := range positions {
		c := &ix.checks[i]
		entry := []string{c.Key, strings.TrimSpace(c.Seal[:min(8, len(c.Seal))] + " " + c.Also), ix.recs[i]}
		if c.Low != "" || c.High != "" {
			entry = append(entry, c.Low, c.High)
		}
		if i != last+1 {
			out = append(out, []any{i})
		}
		out[len(out)-1] = append(out[len(out)-1], entry)
		last = i
	}
	return out
}

// shown are the positions of the checks that an edition counts.
func (ix index) shown(e edition) []int {
	var out []int
	for i, part := range ix.parts {
		if e.searches(part) {
			out = append(out, i)
		}
	}
	return out
}

// counted are the positions of the checks that a room's page counts in the row of its phases.
func (ix index) counted(phases []pack.PhaseLink) []int {
	var out []int
	for _, p := range phases {
		for _, key := range p.CheckKeys {
			if i, ok := ix.at[key]; ok {
				out = append(out, i)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// firstDigits is as much of a seal, or of each of several, as a page carries: 64 bits tell the words it was issued with from
// any others by chance. What is recorded is the whole seal, which the tablet computes from the words.
func firstDigits(seals string) string {
	if !strings.Contains(seals, " ") {
		return seals[:min(16, len(seals))]
	}
	words := strings.Fields(seals)
	for i, w := range words {
		words[i] = firstDigits(w)
	}
	return strings.Join(words, " ")
}
