// Package generator is the program as one readable function: load, derive, compute, assemble, render, write.
package generator

import (
	"context"
	"io/fs"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/generator/record"
	"lapwork/generator/surface"
	"lapwork/generator/theme"
)

// Sources are the folders a run reads. Job is the job's own; Firm may be nil; the others come with the program.
type Sources struct {
	Job, Firm                 fs.FS
	Content, Templates, Theme fs.FS
	FirmInJob                 bool   // the firm's files lie in the job's folder: one library, not two
	JobName                   string // what findings call the job's folder
	JobDir                    string // the job's folder on disk, which no pack may replace; empty: embedded
}

// Progress is told each stage as it begins, and "" at the end.
type Progress func(stage string)

// Options is what a run is asked to do.
type Options struct {
	Sources
	Out      string
	Version  string
	Progress Progress
	Handover bool // the handover leads the pack

	change func(*job.Job) // a variant to try
}

// Report is what a run found and wrote.
type Report struct {
	Findings []diag.Finding
	Revision string
	Single   string // name of the self-contained file in the pack
	Pages    int
	Files    int
	Bytes    int
}

// Generate writes a job's pack. With a fault in the input nothing is written.
func Generate(ctx context.Context, o Options) (Report, error) {
	var found diag.List
	d, err := derive(o, &found)
	if err != nil {
		return Report{Findings: found.Sorted()}, err
	}
	runs, err := d.inLanguages(ctx, o, &found)
	report := Report{Findings: plainFindings(found.Sorted())}
	if err != nil {
		return report, err
	}
	o.at("putting the pages together")
	journal, notes := record.Load(o.Job)
	shots, beside, spoilt := photos(o.Job, journal)
	notes.Add(spoilt...)
	report.Findings = pack.Settle(runs[0].results, runs[0].texts, journal, append(report.Findings, notes.Sorted()...))
	var head pack.Head
	var files []output.File
	ics, dated := Calendar(runs[0].results)
	for i, run := range runs {
		b := run.build(runs, o.Version, journal, notes.Sorted())
		b.Findings, b.Photos, b.Handover, b.Own = pack.Settle(run.results, run.texts, journal, b.Findings), shots, o.Handover, d.own
		pk, err := pack.Assemble(run.results, b)
		if err == nil {
			var links diag.List
			checkLinks(d.own, pk.Pages, &links)
			report.Findings, err = append(report.Findings, links.Sorted()...), links.Err()
		}
		if err != nil {
			return report, err
		}
		run.results, runs[i].results = nil, nil // large, and all there is to read stands in the pack now
		o.at("writing the pages")
		more, err := page.Render(pk, page.Look{Templates: o.Templates, Theme: o.Theme, Own: d.own})
		if err != nil {
			return report, err
		}
		files = append(files, more...)
		report.Pages += len(pk.Pages)
		if i == 0 {
			head = pk.Head
		}
	}
	files = append(append(append(files, beside...), papers(o.Job, d.job)...), filesOf(d.own)...)
	if dated {
		files = append(files, output.File{Path: pack.CalendarFile, Data: ics})
	}
	written, err := output.Put(o.Out, output.Pack{Job: d.job.Reference, Revision: head.Revision, Files: files}, o.JobDir)
	report.count(head, files, written)
	o.at("")
	return report, err
}

// Check finds everything Generate would find, and writes nothing.
func Check(ctx context.Context, o Options) (Report, error) {
	_, report, err := compute(ctx, o)
	o.at("")
	return report, err
}

// Compute gives a job's results without pages, for orders and other exports.
func Compute(ctx context.Context, o Options) (*assess.Results, Report, error) {
	results, report, err := compute(ctx, o)
	o.at("")
	return results, report, err
}

// compute loads a job and computes everything about it, in English.
func compute(ctx context.Context, o Options) (*assess.Results, Report, error) {
	var found diag.List
	d, err := derive(o, &found)
	if err != nil {
		return nil, Report{Findings: found.Sorted()}, err
	}
	results, err := d.compute(ctx, o, &found)
	return results, Report{Findings: found.Sorted()}, err
}

// derived is a job with what follows from its geometry alone.
type derived struct {
	job     *job.Job
	library *library.Library
	model   *surface.Model
	records []junction.Record
	texts   *lang.Catalogue // of the language the results are said in; nil: English
	own     theme.Theme     // what stands over the program's look
}

// derive loads a job and derives its surfaces and junctions. The error is that of the faults found.
func derive(o Options, found *diag.List) (d derived, err error) {
	o.at("reading the job")
	var look job.Look
	d.library, d.job, look = load(o.Sources, found)
	if err := found.Err(); err != nil {
		return d, err
	}
	d.own = own(o.Sources, look, found)
	if err := found.Err(); err != nil {
		return d, err
	}
	if o.change != nil {
		o.change(d.job)
	}
	o.at("deriving surfaces and junctions")
	d.model = surface.Derive(d.job, found)
	if err := found.Err(); err != nil {
		return d, err
	}
	d.records = junction.Derive(d.model, junction.Tables{Family: families(d.library)}, found)
	return d, nil
}

// compute chooses the method statements and computes what they ask for. Junctions come in two rounds: the strips are laid
// between them, since the seams of the strips are junctions too.
func (d derived) compute(ctx context.Context, o Options, found *diag.List) (*assess.Results, error) {
	o.at("choosing method statements")
	c := assess.Context{Job: d.job, Library: d.library, Facts: assess.FactsOf(d.job, d.model), Lang: d.texts}
	places := c.Select(d.records, found)

	o.at("laying strips and cutting rolls")
	laid, err := c.Layouts(ctx, d.model, places, found)
	if err != nil {
		return nil, err
	}
	places = c.Without(places, laid, found)
	places = append(places, c.Select(junction.Seams(d.model, assess.SeamsOf(laid.Layouts)), found)...)

	o.at("summing materials")
	results, err := c.Compute(ctx, d.model, places, laid, found)
	if err == nil {
		err = found.Err()
	}
	return results, err
}

func (o Options) at(stage string) {
	if o.Progress != nil {
		o.Progress(stage)
	}
}

// families gives the family of each substrate.
func families(lib *library.Library) map[job.SubstrateID]string {
	out := map[job.SubstrateID]string{}
	for _, s := range lib.Substrates.All() {
		out[s.ID] = s.Family
	}
	return out
}

func (r *Report) count(head pack.Head, files []output.File, written output.Manifest) {
	r.Revision, r.Files = head.Revision, len(files)
	for _, f := range files {
		if r.Single == "" && strings.HasPrefix(f.Path, head.PackID) {
			r.Single = f.Path
		}
	}
	for _, e := range written.Files {
		r.Bytes += e.Bytes
	}
}
