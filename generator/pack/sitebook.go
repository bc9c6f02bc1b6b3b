package pack

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"lapwork/generator/record"
	"lapwork/generator/sorting"
)

// SiteBook is what a site keeps beside its checks: instruments, goods, days, papers.
type SiteBook struct {
	Instruments []InstrumentRow
	Components  []Term // what goods may be: id, name
	Goods       []GoodsRow
	Days        []DayRow
	Rooms       []Term // id, name
	Kinds       []Term // of work: statement, title
	Times       []TimeRow
	Readings    []ReadingRow // of the day, may we start
	Papers      []Paper
	Blank       int // empty lines on paper
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

const sitePath = "site.html"

// onSite is what the journal holds beside answers to checks, the latest of each.
type onSite struct {
	cuts, settled     map[string]record.Record // by key
	goods, days, read []record.Record          // oldest first
	taken             []record.Record          // times, oldest first
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
		case record.Work:
			s.taken = append(s.taken, r)
		case record.Start:
			s.read = append(s.read, r)
		}
		if r.Tool != "" {
			s.tooled = append(s.tooled, r)
		}
	}
	byTime := func(x, y record.Record) int { return cmp.Or(cmp.Compare(x.At, y.At), cmp.Compare(x.ID, y.ID)) }
	sorting.Func(s.goods, byTime)
	sorting.Func(s.read, byTime)
	sorting.Func(s.taken, byTime)
	sorting.Func(s.tooled, byTime)
	sorting.Func(s.days, func(x, y record.Record) int { return cmp.Or(cmp.Compare(x.Value, y.Value), byTime(x, y)) })
	return s
}

// siteBook is the page of what a site keeps beside its checks.
func (a *assembler) siteBook() Page {
	v := &SiteBook{Components: a.goodsNames(), Goods: a.goodsRows(), Days: a.dayRows(), Papers: a.papers(), Blank: 8}
	for _, i := range a.Job.Instruments {
		v.Instruments = append(v.Instruments, a.instrumentRow(i))
	}
	v.Readings, v.Rooms, v.Kinds, v.Times = a.readingRows(), a.timedRooms(), a.timedKinds(), a.timeRows()
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

// stamp is day and minute of a time stamp.
func stamp(at string) string { return strings.Replace(clip(at, 16), "T", " ", 1) }

// joined puts texts that are there behind one another.
func joined(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(t string) bool { return t == "" }), "; ")
}
