package generator

import (
	"context"

	"lapwork/generator/diag"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
)

// Preview writes a site of every detail of a job's library, with this job's figures and in its language. With a fault in the input nothing is
// written.
func Preview(ctx context.Context, o Options) (Report, error) {
	var found diag.List
	d, err := derive(o, &found)
	if err != nil {
		return Report{Findings: found.Sorted()}, err
	}
	d, err = d.inOwnLanguage(o, &found)
	if err != nil {
		return Report{Findings: plainFindings(found.Sorted())}, err
	}
	results, err := d.compute(ctx, o, &found)
	report := Report{Findings: plainFindings(found.Sorted())}
	if err != nil {
		return report, err
	}
	o.at("putting the pages together")
	var rows []pack.CoverageRow
	for _, c := range Coverage(results) {
		rows = append(rows, pack.CoverageRow{Edge: string(c.Edge), SurfaceA: c.SurfaceA, SurfaceB: c.SurfaceB, Item: c.Item, Part: c.Part,
			Places: c.Places, Statement: c.Statement, Origin: c.Origin})
	}
	pk, err := pack.Preview(results, pack.Build{Version: o.Version, Findings: report.Findings, Own: d.own, Lang: d.texts}, rows)
	if err != nil {
		return report, err
	}
	o.at("writing the pages")
	files, err := page.Render(pk, page.Look{Templates: o.Templates, Theme: o.Theme, Own: d.own})
	if err != nil {
		return report, err
	}
	o.at("")
	written, err := output.Put(o.Out, output.Pack{Job: pk.Head.Reference, Revision: pk.Head.Revision, Files: files}, o.JobDir)
	report.count(pk.Head, files, 0, written)
	report.Pages = len(pk.Pages)
	return report, err
}
