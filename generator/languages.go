package generator

import (
	"context"
	"fmt"
	"slices"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/generator/theme"
)

// tongue is one language of a pack: its texts, and the library in it.
type tongue struct {
	tag     string
	texts   *lang.Catalogue
	library *library.Library
}

// tongues gives the languages of a job in their order, the job's own first, and the one beneath the steps. A language
// that nothing is translated into is a finding: its pages would be English throughout.
func tongues(src Sources, j *job.Job, lib *library.Library, found *diag.List) (all []tongue, beneath tongue) {
	known := map[string]tongue{}
	get := func(tag string) tongue {
		if t, ok := known[tag]; ok {
			return t
		}
		t := tongue{tag: tag, texts: Catalogue(src, tag, found)}
		if t.texts.Len() == 0 && !t.texts.English() {
			found.Openf(j.Pos, "", "name a language that the library has, or translate into it: lapwork library texts --language "+tag,
				"there are no texts in %q: the pages stay English", tag)
		}
		t.library = lib
		if !t.texts.English() {
			t.library = lib.Translated(t.texts.Text)
		}
		known[tag] = t
		return t
	}
	for _, tag := range append([]string{j.Language}, j.AlsoIn...) {
		all = append(all, get(tag))
	}
	if j.Beneath != "" {
		beneath = get(j.Beneath)
	}
	return all, beneath
}

// run is a job's results in one language, with what was found on the way.
type run struct {
	tongue
	results *assess.Results
	found   []diag.Finding
	wording pack.Wording
	beneath tongue
}

// inLanguages computes the job once for each language of its pack. What a person reads comes out of the library with its
// results; the figures are the same each time. What the first run finds goes to found.
func (d derived) inLanguages(ctx context.Context, o Options, found *diag.List) ([]run, error) {
	all, beneath := tongues(o.Sources, d.job, d.library, found)
	if err := found.Err(); err != nil {
		return nil, err
	}
	before := found.Sorted()
	var runs []run
	for i, t := range all {
		own := d
		own.job, own.library, own.texts = t.in(d.job), t.library, t.texts
		var here diag.List
		results, err := own.compute(ctx, o, &here)
		if i == 0 {
			found.Add(here.Sorted()...)
		}
		if err != nil {
			return nil, err
		}
		here.Add(before...)
		runs = append(runs, run{tongue: t, results: results, found: here.Sorted(), wording: pack.WordingOf(results, t.texts, i == 0), beneath: beneath})
	}
	return runs, nil
}

// ComputeSaid gives a job's results as Compute does, said in the job's own language.
func ComputeSaid(ctx context.Context, o Options) (*assess.Results, Report, error) {
	return ComputeIn(ctx, o, "")
}

// ComputeIn gives a job's results said in a language; empty: the job's own.
func ComputeIn(ctx context.Context, o Options, tag string) (*assess.Results, Report, error) {
	var found diag.List
	d, err := derive(o, &found)
	if err == nil {
		if tag != "" {
			d.job = tongue{tag: tag}.in(d.job)
		}
		d, err = d.inOwnLanguage(o, &found)
	}
	if err != nil {
		return nil, Report{Findings: plainFindings(found.Sorted())}, err
	}
	results, err := d.compute(ctx, o, &found)
	o.at("")
	return results, Report{Findings: plainFindings(found.Sorted())}, err
}

// inOwnLanguage is the job in its own language alone, for what is not a pack of several.
func (d derived) inOwnLanguage(o Options, found *diag.List) (derived, error) {
	only := *d.job
	only.AlsoIn, only.Beneath = nil, ""
	all, _ := tongues(o.Sources, &only, d.library, found)
	t := all[0]
	d.job, d.library, d.texts = t.in(d.job), t.library, t.texts
	return d, found.Err()
}

// render puts together and renders the pages of every language. The results of each are let go before the next: they are
// large, and all there is to read of them stands in its pages then.
func (o Options) render(own theme.Theme, runs []run, came siteWork, report *Report) (head pack.Head, files []output.File, err error) {
	for i, r := range runs {
		o.at("putting the pages together")
		pk, err := pack.Assemble(r.results, r.build(runs, o, own, came))
		if runs[i].results, r.results = nil, nil; i == len(runs)-1 {
			clear(runs) // the wordings, too
		}
		if err != nil {
			return head, nil, err
		}
		var links diag.List
		checkLinks(own, pk.Pages, &links)
		report.Findings = append(report.Findings, links.Sorted()...)
		if err := links.Err(); err != nil {
			return head, nil, err
		}
		o.at("writing the pages")
		more, err := page.Render(pk, page.Look{Templates: o.Templates, Theme: o.Theme, Own: own})
		if err != nil {
			return head, nil, err
		}
		files = append(files, more...)
		report.Pages += len(pk.Pages)
		if i == 0 {
			head = pk.Head
		}
	}
	return head, files, nil
}

// build is what the pages of a run show beside its results.
func (r run) build(all []run, o Options, own theme.Theme, came siteWork) pack.Build {
	b := pack.Build{Version: o.Version, Journal: came.journal, Photos: came.photos, Handover: o.Handover, Own: own, Lang: r.texts,
		Findings: pack.Settle(r.results, r.texts, came.journal, append(r.found, came.notes...))}
	for _, other := range all {
		b.Wordings = append(b.Wordings, other.wording)
	}
	if r.beneath.library != nil && r.beneath.tag != r.tag {
		b.Beneath, b.BeneathTag = r.beneath.library, r.beneath.tag
	}
	return b
}

// Catalogue loads one language from every layer of a run.
func Catalogue(src Sources, tag string, found *diag.List) *lang.Catalogue {
	var none diag.List // what pinned libraries are worth is said when the library is loaded
	var layers []lang.Layer
	for _, l := range Layers(src, &none) {
		layers = append(layers, lang.Layer{Dir: l.Dir, FS: l.FS})
	}
	return lang.Load(tag, layers, found)
}

// Texts are what is said of a job outside its pack, in its own language. What has no translation stays English, unmarked.
func Texts(src Sources, j *job.Job) *lang.Catalogue {
	var heard diag.List // it is said when the pack is made
	return Catalogue(src, j.Language, &heard).Quiet()
}

// TextsIn are the texts of one language, quiet as Texts are. A language that nothing is translated into is an error.
func TextsIn(src Sources, tag string) (*lang.Catalogue, error) {
	var heard diag.List
	c := Catalogue(src, tag, &heard)
	if c.Len() == 0 && !c.English() {
		return nil, fmt.Errorf("there are no texts in %q\n\thint: name a language that the library has, or translate into it: lapwork library texts --language %s", tag, tag)
	}
	return c.Quiet(), nil
}

// LanguageOf is the language of a job, whatever else is wrong with it; empty: there is no job to read.
func LanguageOf(src Sources) string {
	var heard diag.List
	_, j, _ := load(src, &heard)
	if j == nil {
		return ""
	}
	return j.Language
}

// in is the job as a language's pages show it.
func (t tongue) in(j *job.Job) *job.Job {
	own := *j
	own.Language = t.tag
	return &own
}

// plainFindings are findings without the marks of missing translations, for a command's output.
func plainFindings(found []diag.Finding) []diag.Finding {
	out := slices.Clone(found)
	for i := range out {
		out[i].Msg, out[i].Hint = lang.Plain(out[i].Msg), lang.Plain(out[i].Hint)
	}
	return out
}
