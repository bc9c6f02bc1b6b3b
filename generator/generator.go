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
	"lapwork/generator/library"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/generator/record"
	"lapwork/generator/surface"
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
	results, report, err := compute(ctx, o)
	if err != nil {
		return report, err
	}
	o.at("putting the pages together")
	journal, notes := record.Load(o.Job)
	report.Findings = append(report.Findings, notes.Sorted()...)
	pk, err := pack.Assemble(results, pack.Build{Version: o.Version, Findings: report.Findings, Journal: journal})
	if err != nil {
		return report, err
	}
	o.at("writing the pages")
	files, err := page.Render(pk, page.Look{Templates: o.Templates, Theme: o.Theme})
	if err != nil {
		return report, err
	}
	if ics, ok := Calendar(results); ok {
		files = append(files, output.File{Path: pack.CalendarFile, Data: ics})
	}
	report.Pages = len(pk.Pages)
	pk.Pages = nil // their views are large, and rendered
	written, err := output.Put(o.Out, output.Pack{Job: results.Job.Reference, Revision: pk.Head.Revision, Files: files}, o.JobDir)
	report.count(pk, files, written)
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

// compute loads a job and derives and computes everything about it. Junctions come in two rounds: the strips are laid
// between them, since the seams of the strips are junctions too.
func compute(ctx context.Context, o Options) (*assess.Results, Report, error) {
	var found diag.List
	var report Report
	defer func() { report.Findings = found.Sorted() }()

	o.at("reading the job")
	lib, j := load(o.Sources, &found)
	if found.Err() != nil || j == nil {
		return nil, Report{Findings: found.Sorted()}, found.Err()
	}
	if o.change != nil {
		o.change(j)
	}
	o.at("deriving surfaces and junctions")
	model := surface.Derive(j, &found)
	if found.Err() != nil {
		return nil, Report{Findings: found.Sorted()}, found.Err()
	}
	records := junction.Derive(model, junction.Tables{Family: families(lib)}, &found)

	o.at("choosing method statements")
	c := assess.Context{Job: j, Library: lib, Facts: assess.FactsOf(j, model)}
	places := c.Select(records, &found)

	o.at("laying strips")
	layouts := c.Layouts(model, places, &found)
	places = append(places, c.Select(junction.Seams(model, assess.SeamsOf(layouts)), &found)...)

	o.at("cutting rolls and summing materials")
	results, err := c.Compute(ctx, model, places, layouts, &found)
	if err == nil {
		err = found.Err()
	}
	return results, Report{Findings: found.Sorted()}, err
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

func (r *Report) count(pk pack.Pack, files []output.File, written output.Manifest) {
	r.Revision, r.Files = pk.Head.Revision, len(files)
	for _, f := range files {
		if r.Single == "" && strings.HasPrefix(f.Path, pk.Head.PackID) {
			r.Single = f.Path
		}
	}
	for _, e := range written.Files {
		r.Bytes += e.Bytes
	}
}
