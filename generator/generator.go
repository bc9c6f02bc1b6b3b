// Package generator is the program as one readable function: load, derive, compute, assemble, render, write.
package generator

import (
	"context"
	"io/fs"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/record"
	"lapwork/generator/surface"
	"lapwork/generator/theme"
)

// Sources are the folders a run reads. Job is the job's own; Firm may be nil; the others come with the program.
type Sources struct {
	Job, Firm                 fs.FS
	Content, Templates, Theme fs.FS
	FirmInJob                 bool            // the firm's files lie in the job's folder: one library, not two
	JobName                   string          // what findings call the job's folder
	FirmName                  string          // what findings call the firm's; empty: firm
	Flags                     map[string]bool // of the command line, which firm.yaml may set; true: yes or no. nil: not checked
	JobDir                    string          // the job's folder on disk, which no pack may replace; empty: embedded
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

	// Search is open as long as rolls may be searched beyond counted work; nil: they are not, and any machine finds the same.
	Search context.Context

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
	journal, damaged := record.Load(o.Job)
	d.measured = pack.Measured(journal)
	runs, err := d.inLanguages(ctx, o, &found)
	report := Report{Findings: plainFindings(found.Sorted())}
	if err != nil {
		return report, err
	}
	came := fromSite(o.Job, journal, damaged)
	report.Findings = pack.Settle(runs[0].results, runs[0].texts, came.journal, append(report.Findings, came.notes...))
	files := slices.Concat(calendarFile(runs[0].results), came.files, papers(o.Job, d.job), filesOf(d.own))
	reference, own := d.job.Reference, d.own // the rest of d is not needed any more, and large
	head, pages, err := o.render(own, runs, came, &report)
	if err != nil {
		return report, err
	}
	written, err := output.Put(o.Out, output.Pack{Job: reference, Revision: head.Revision, Files: append(pages, files...)}, o.JobDir)
	report.count(head, pages, len(files), written)
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
	journal, _ := record.Load(o.Job) // what is damaged in it is said by pack and gather
	d.measured = pack.Measured(journal)
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

	measured assess.AsMeasured // strips as measured on site; nil: none
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
	c := assess.Context{Job: d.job, Library: d.library, Facts: assess.FactsOf(d.job, d.model), Lang: d.texts, Chooser: d.library.Chooser(), Measured: d.measured, Search: o.Search}
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

// count takes the sums of what was written: the pages, and so many files beside them.
func (r *Report) count(head pack.Head, pages []output.File, beside int, written output.Manifest) {
	r.Revision, r.Files = head.Revision, len(pages)+beside
	for _, f := range pages {
		if r.Single == "" && strings.HasPrefix(f.Path, head.PackID) {
			r.Single = f.Path
		}
	}
	for _, e := range written.Files {
		r.Bytes += e.Bytes
	}
}
