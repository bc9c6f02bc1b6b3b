package pack

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/record"
)

// Tool is an instrument that may be named beside a reading.
type Tool struct{ ID, Name, Due string }

// SiteBook is what a site keeps beside its checks: instruments, goods, days, papers.
type SiteBook struct {
	Instruments []InstrumentRow
	Components  []Term // what goods may be: id, name
	Goods       []GoodsRow
	Days        []DayRow
	Readings    []ReadingRow // of the day, may we start
	Papers      []Paper
	Blank       int // empty lines on paper
}

// InstrumentRow is one instrument with the readings taken past its date.
type InstrumentRow struct {
	Name, Kind, Serial, Calibrated, Due string
	ID                                  string
	Late                                []string
}

// GoodsRow is one batch that came.
type GoodsRow struct {
	What, Batch, UseBy, Amount, Text, Who, When string
	Late                                        string // past its date when it came
}

// DayRow is one day's sheet.
type DayRow struct{ Date, Crew, Hours, Climate, Done, Blocked, Signed string }

// ReadingRow is one set of readings before the start.
type ReadingRow struct{ When, Who, Answer, Tool string }

// Paper is an attachment. File is where the folder has it; empty: a pack without the job's folder.
type Paper struct{ Title, Kind, For, Size, Hash, File string }

const sitePath = "site.html"

// onSite is what the journal holds beside answers to checks, the latest of each.
type onSite struct {
	cuts, settled     map[string]record.Record // by key
	goods, days, read []record.Record          // oldest first
	tooled            []record.Record          // readings that name an instrument
}

func siteOf(j record.Journal) *onSite {
	s := &onSite{cuts: map[string]record.Record{}, settled: map[string]record.Record{}}
	for _, r := range record.Latest(j.Records) {
		switch r.Kind {
		case record.Cut:
			s.cuts[r.Check] = r
		case record.Settle:
			s.settled[r.Check] = r
		case record.Goods:
			s.goods = append(s.goods, r)
		case record.Day:
			s.days = append(s.days, r)
		case record.Start:
			s.read = append(s.read, r)
		}
		if r.Tool != "" {
			s.tooled = append(s.tooled, r)
		}
	}
	byTime := func(x, y record.Record) int { return cmp.Or(cmp.Compare(x.At, y.At), cmp.Compare(x.ID, y.ID)) }
	slices.SortFunc(s.goods, byTime)
	slices.SortFunc(s.read, byTime)
	slices.SortFunc(s.tooled, byTime)
	slices.SortFunc(s.days, func(x, y record.Record) int { return cmp.Or(cmp.Compare(x.Value, y.Value), byTime(x, y)) })
	return s
}

// toolKinds are the kinds of instrument that a check's number is read with. Common practice, no source.
var toolKinds = map[string][]string{
	"QA-02": {"thermometer"}, "QA-06": {"moisture-meter"}, "QA-07": {"thermometer", "hygrometer"}, "QA-32": {"fan", "gauge"},
	"QA-33": {"anemometer"}, "QA-39": {"hygrometer", "thermometer"}, "QA-40": {"fan", "gauge"},
}

// tools are the job's instruments of some kinds.
func (a *assembler) toolsOf(kinds ...string) []Tool {
	var out []Tool
	for _, i := range a.Job.Instruments {
		if slices.Contains(kinds, i.Kind) {
			out = append(out, Tool{i.ID, strings.TrimSpace(i.ID + " " + i.Name), i.Due})
		}
	}
	return out
}

// pastDate says that the instrument of a record was past its calibration date when the record was made; empty: it was not.
func (a *assembler) pastDate(r record.Record) string {
	if r.Tool == "" {
		return ""
	}
	for _, i := range a.Job.Instruments {
		if i.ID == r.Tool {
			if i.Due != "" && day(r.At) > i.Due {
				return a.say("instrument %s was past its calibration date %s", i.ID, i.Due)
			}
			return ""
		}
	}
	return a.say("instrument %s is not in the job's list", r.Tool)
}

// siteBook is the page of what a site keeps beside its checks.
func (a *assembler) siteBook() Page {
	v := &SiteBook{Components: a.goodsNames(), Goods: a.goodsRows(), Days: a.dayRows(), Papers: a.papers(), Blank: 8}
	for _, i := range a.Job.Instruments {
		v.Instruments = append(v.Instruments, a.instrumentRow(i))
	}
	v.Readings = a.readingRows()
	return Page{Path: sitePath, Kind: KindSite, Title: a.say("Site book"), Where: a.say("Site book"), Site: v}
}

// readingRows are the readings before the start, oldest first.
func (a *assembler) readingRows() []ReadingRow {
	var out []ReadingRow
	for _, r := range a.site().read {
		out = append(out, ReadingRow{When: stamp(r.At), Who: r.Who, Answer: r.Fields["answer"], Tool: joined(r.Tool, a.pastDate(r))})
	}
	return out
}

func (a *assembler) instrumentRow(i job.Instrument) InstrumentRow {
	row := InstrumentRow{ID: i.ID, Name: i.Name, Kind: strings.ReplaceAll(i.Kind, "-", " "), Serial: i.Serial, Calibrated: i.Calibrated, Due: i.Due}
	for _, r := range a.site().tooled {
		if r.Tool == i.ID && a.pastDate(r) != "" {
			row.Late = append(row.Late, a.say("%s on %s by %s", cmp.Or(r.Check, "readings before the start"), day(r.At), r.Who))
		}
	}
	return row
}

// goodsNames are the components that the job orders.
func (a *assembler) goodsNames() []Term {
	names := map[string]string{}
	for _, d := range a.Deliveries {
		for _, s := range d.Sheets {
			names[string(s.Component)] = a.componentName(string(s.Component))
		}
		for _, i := range d.Items {
			names[i.Component] = a.componentName(i.Component)
		}
	}
	var out []Term
	for _, id := range slices.Sorted(maps.Keys(names)) {
		out = append(out, Term{id, names[id]})
	}
	return out
}

func (a *assembler) goodsRows() []GoodsRow {
	var out []GoodsRow
	for _, r := range a.site().goods {
		row := GoodsRow{What: a.componentName(r.Place), Batch: r.Value, UseBy: r.Fields["useby"], Amount: r.Fields["amount"], Text: r.Text, Who: r.Who, When: day(r.At)}
		if row.UseBy != "" && row.UseBy < day(r.At) {
			row.Late = a.say("past its date when it came: quarantine it")
		}
		out = append(out, row)
	}
	return out
}

func (a *assembler) dayRows() []DayRow {
	var out []DayRow
	for _, r := range a.site().days {
		f := r.Fields
		out = append(out, DayRow{Date: r.Value, Crew: f["crew"], Hours: f["hours"], Climate: f["climate"], Done: f["done"], Blocked: f["blocked"], Signed: r.Name})
	}
	return out
}

// papersDir is where a pack's folder has the attachments.
const papersDir = "papers/"

func (a *assembler) papers() []Paper {
	var out []Paper
	for _, p := range a.Job.Attachments {
		out = append(out, Paper{Title: p.Title, Kind: strings.ReplaceAll(p.Kind, "-", " "), For: p.For, Size: a.size(p.Bytes), Hash: p.Hash, File: PaperFile(p)})
	}
	return out
}

// PaperFile is where a pack's folder has an attachment: its bytes name it, so that two of one name do not meet.
func PaperFile(p job.Attachment) string {
	name := p.File
	if i := strings.LastIndexByte(name, '/'); i >= 0 {
		name = name[i+1:]
	}
	return papersDir + clip(p.Hash, 8) + "-" + name
}

// size writes a file's size.
func (a *assembler) size(bytes int64) string {
	switch {
	case bytes >= 1e6:
		return a.say("%.1f MB", float64(bytes)/1e6)
	case bytes >= 1000:
		return a.say("%d kB", (bytes+500)/1000)
	}
	return a.say("%d bytes", bytes)
}

// stamp is day and minute of a time stamp.
func stamp(at string) string { return strings.Replace(clip(at, 16), "T", " ", 1) }

// joined puts texts that are there behind one another.
func joined(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(t string) bool { return t == "" }), "; ")
}
