package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
)

// materials is the materials page: each delivery, the whole job, and what goes to which room.
func (a *assembler) materials() Page {
	v := &Materials{}
	for _, d := range a.Deliveries {
		v.Deliveries = append(v.Deliveries, a.delivery(d))
	}
	v.Total, v.Cost = a.total(), a.jobCost()
	v.Widths, v.Instead = a.widths(), a.instead()
	for _, room := range a.Job.Rooms {
		if rows := a.roomMaterials(room); len(rows) > 0 {
			v.ByRoom = append(v.ByRoom, RoomMaterials{Room: a.roomLink(room), Rows: rows})
		}
	}
	for _, id := range []string{"R-QTY-1", "R-QTY-2", "R-QTY-3", "R-QTY-4"} {
		if r := a.Library.Rules.Find(id); r != nil {
			v.Rules = append(v.Rules, Term{r.Title, r.Value + " (" + a.status(r.Source) + ")"})
		}
	}
	return Page{Path: "materials.html", Kind: KindMaterials, Title: a.say("Materials"), Materials: v}
}

func (a *assembler) delivery(d *assess.Delivery) DeliveryView {
	v := DeliveryView{ID: d.ID, Name: d.Name, Stated: d.Stated, Date: d.Date}
	var ids []string
	for _, r := range d.Rooms {
		ids = append(ids, string(r.ID))
	}
	v.Rooms = strings.Join(ids, ", ")
	for _, s := range d.Sheets {
		v.Rows = append(v.Rows, a.sheetRow(s))
	}
	for _, it := range d.Items {
		row := a.itemRow(it, true)
		row.Storage = a.keep(d, it.Component)
		v.Rows = append(v.Rows, row)
	}
	v.Mass, v.Cost = a.mass(d), a.deliveryCost(d)
	v.Loads = a.loads(d)
	v.Notes, v.Cautions = a.lifting(d)
	return v
}

// sheetRow is the sheet of one width in a delivery.
func (a *assembler) sheetRow(s assess.SheetOrder) MaterialRow {
	f := a.format
	row := a.componentRow(string(s.Component))
	row.Name += a.say(", %s wide", f.MM(s.Width))
	row.Net, row.Unit = splitUnit(f.Area(s.Area))
	var packs, articles []string
	for _, b := range s.Buy {
		packs = append(packs, fmt.Sprintf("%d × %s", b.Count, f.Roll(b.Length.Metres())))
		if b.Article != "" {
			articles = append(articles, b.Article)
		}
	}
	bought := a.SheetPurchases(s)
	for _, p := range bought {
		if p.Leftover { // else what is ordered would be less than what is needed
			packs = append(packs, a.format.Area(q.Area(p.Need))+" "+a.say("from leftovers and offcuts"))
		}
	}
	row.Price = a.price(bought)
	row.Packs, row.Article = strings.Join(packs, " + "), strings.Join(articles, ", ")
	row.Working = []Figure{{Label: a.say("Pieces"), Value: fmt.Sprint(len(s.Pieces)), Formula: a.say("sum of roll width × cut length over the cut list; %s", a.verdict(s)),
		Inputs: a.say("rolls and leftovers cut: %d", len(s.Rolls))}}
	return row
}

// itemRow is one component with how it comes about.
func (a *assembler) itemRow(it bill.Item, order bool) MaterialRow {
	row := a.componentRow(it.Component)
	row.Net, row.Unit = splitUnit(a.format.Amount(it.Need, it.Unit))
	if order && it.Packs > 0 {
		row.Packs = fmt.Sprint(it.Packs)
		row.Pack = a.format.Amount(it.PackSize, it.Unit)
		row.Price = a.price([]assess.Purchase{a.ItemPurchase(it)})
	}
	if order {
		row.Working = a.working(it.Lines)
	}
	return row
}

// working shows how a component's need comes about: one figure a formula, with the places it was worked out at.
func (a *assembler) working(lines []bill.Line) []Figure {
	type part struct {
		formula string
		sum     float64
		places  []string
		first   bill.Line
	}
	var parts []*part
	for _, l := range lines {
		i := slices.IndexFunc(parts, func(p *part) bool { return p.formula == l.Formula })
		if i < 0 {
			parts = append(parts, &part{formula: l.Formula, first: l})
			i = len(parts) - 1
		}
		parts[i].sum += l.Amount
		parts[i].places = append(parts[i].places, l.Place+" "+a.format.Number(l.Amount, 2))
	}
	var out []Figure
	for _, p := range parts {
		out = append(out, Figure{Label: a.say("%d places", len(p.places)), Value: a.format.Amount(p.sum, p.first.Unit), Formula: p.formula,
			Inputs: a.say("first: %s. %s", p.first.Inputs, strings.Join(p.places, " · ")), Status: a.status(p.first.Source)})
	}
	return out
}

// splitUnit parts "12.40 m" and "12.40 m (40.7 ft)" at the first space.
func splitUnit(text string) (number, unit string) {
	number, unit, _ = strings.Cut(text, " ")
	return number, unit
}

func (a *assembler) componentRow(id string) MaterialRow {
	row := MaterialRow{ID: id, Name: a.componentName(id)}
	if c := a.Library.Components.Find(id); c != nil {
		row.Storage, row.Article = c.Storage, c.Article
		if c.Hazard != "" && !strings.HasPrefix(c.Hazard, "low") && c.Hazard != "none" {
			row.Hazard = c.Hazard
		}
	}
	return row
}

// total sums the deliveries of the whole job: packs as ordered, each delivery rounded by itself.
func (a *assembler) total() []MaterialRow {
	sheets := map[string]*assess.SheetOrder{}
	items := map[string]*bill.Item{}
	for _, d := range a.Deliveries {
		for _, s := range d.Sheets {
			addSheet(sheets, s)
		}
		for _, it := range d.Items {
			sum := items[it.Component]
			if sum == nil {
				sum = &bill.Item{Component: it.Component, Unit: it.Unit, PackSize: it.PackSize}
				items[it.Component] = sum
			}
			sum.Need += it.Need
			sum.Packs += it.Packs
		}
	}
	var rows []MaterialRow
	for _, s := range sheets {
		row := a.sheetRow(*s)
		row.Working = nil
		rows = append(rows, row)
	}
	for _, it := range items {
		rows = append(rows, a.itemRow(*it, true))
	}
	sorting.Func(rows, func(x, y MaterialRow) int { return cmp.Or(cmp.Compare(x.ID, y.ID), cmp.Compare(x.Name, y.Name)) })
	return rows
}

func addSheet(sheets map[string]*assess.SheetOrder, s assess.SheetOrder) {
	key := fmt.Sprintf("%s %d", s.Component, s.Width)
	sum := sheets[key]
	if sum == nil {
		sum = &assess.SheetOrder{Component: s.Component, Width: s.Width}
		sheets[key] = sum
	}
	sum.Area += s.Area
	sum.Reused += s.Reused
	sum.Pieces = append(sum.Pieces, s.Pieces...)
	sum.Rolls = append(sum.Rolls, s.Rolls...)
	for _, b := range s.Buy {
		i := slices.IndexFunc(sum.Buy, func(o assess.RollCount) bool { return o.Length == b.Length })
		if i < 0 {
			sum.Buy = append(sum.Buy, b)
			continue
		}
		sum.Buy[i].Count += b.Count
	}
}

// roomMaterials is the pick list of a room: its share of the delivery, before whole packs.
func (a *assembler) roomMaterials(room *job.Room) []MaterialRow {
	return a.shares()[room.ID]
}

// allShares parts every delivery among its rooms.
func (a *assembler) allShares() map[job.RoomID][]MaterialRow {
	shares := map[job.RoomID][]MaterialRow{}
	for _, d := range a.Deliveries {
		a.share(d, shares)
	}
	return shares
}

// share parts a delivery among its rooms, in the delivery's order of components.
func (a *assembler) share(d *assess.Delivery, shares map[job.RoomID][]MaterialRow) {
	for _, s := range d.Sheets {
		byRoom := map[job.RoomID]*assess.SheetOrder{}
		for _, p := range s.Pieces {
			id := p.Surface.Room.ID
			if byRoom[id] == nil {
				byRoom[id] = &assess.SheetOrder{Component: s.Component, Width: s.Width}
			}
			byRoom[id].Pieces = append(byRoom[id].Pieces, p)
			byRoom[id].Area += p.RollWidth.Metres().Times(p.Cut.Metres())
		}
		for id, share := range byRoom {
			row := a.sheetRow(*share)
			row.Working = nil
			shares[id] = append(shares[id], row)
		}
	}
	for _, it := range d.Items {
		byRoom := map[job.RoomID]*bill.Item{}
		for _, l := range it.Lines {
			id := job.RoomID(l.Room)
			if byRoom[id] == nil {
				byRoom[id] = &bill.Item{Component: it.Component, Unit: it.Unit}
			}
			byRoom[id].Need += l.Amount
		}
		for id, share := range byRoom {
			shares[id] = append(shares[id], a.itemRow(*share, false))
		}
	}
}
