package generator

import (
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
)

// Order is what is bought, where it goes and how the sheet is cut: the figures of the pack's materials page as rows.
type Order struct {
	Lines      []OrderLine
	Deliveries []DeliveryLine // the whole job last
	Loads      []LoadLine     // what goes up at once, of deliveries that are parted
	Picks      []PickLine
	Cuts       []CutLine
	Works      []WorkingLine
}

// WorkingLine is one contribution to a component with its formula and the values that went in.
type WorkingLine struct {
	Delivery  string  `json:"delivery"`
	Component string  `json:"component"`
	Place     string  `json:"place"`
	Amount    float64 `json:"amount"`
	Unit      string  `json:"unit"`
	Formula   string  `json:"formula"`
	Inputs    string  `json:"inputs"`
	Status    string  `json:"status"`
}

// OrderLine is one component of one delivery.
type OrderLine struct {
	Delivery  string  `json:"delivery"`
	Component string  `json:"component"`
	Name      string  `json:"name"`
	Article   string  `json:"article,omitempty"`
	Need      float64 `json:"need"` // with waste
	Unit      string  `json:"unit"`
	Packs     int     `json:"packs"`
	PackSize  float64 `json:"pack_size"`
	Over      float64 `json:"over"`
	Price     Money   `json:"price,omitempty"` // of one pack; empty: nobody stated it
	Amount    Money   `json:"amount,omitempty"`
	Kilograms float64 `json:"kg"` // with packs; 0: not known
	Note      string  `json:"note,omitempty"`
}

// Money is an amount in the job's currency, as "129.00"; empty: not stated.
type Money string

// DeliveryLine is a delivery as a whole, or the whole job.
type DeliveryLine struct {
	Delivery  string   `json:"delivery"` // "all": the whole job
	Name      string   `json:"name"`
	Date      string   `json:"date,omitempty"`
	Rooms     []string `json:"rooms"`
	Lines     int      `json:"lines"` // to be bought
	Kilograms float64  `json:"kg"`
	Loads     int      `json:"loads,omitempty"` // that it goes up in; 0: no limit stated
	Material  Money    `json:"material,omitempty"`
	Fitting   Money    `json:"fitting,omitempty"` // of the whole job only
	Currency  string   `json:"currency,omitempty"`
	NoPrice   []string `json:"no_price"`  // components bought without a price
	NoWeight  []string `json:"no_weight"` // components whose weight is not known
}

// LoadLine is one component of one load.
type LoadLine struct {
	Delivery  string   `json:"delivery"`
	Load      int      `json:"load"` // from 1
	Component string   `json:"component"`
	Name      string   `json:"name"`
	Packs     int      `json:"packs"`
	Kilograms float64  `json:"kg"`    // of these packs; 0: not known
	Rooms     []string `json:"rooms"` // that need something of the load first
}

// PickLine is a room's share of a component, before whole packs.
type PickLine struct {
	Room      string  `json:"room"`
	Delivery  string  `json:"delivery"`
	Component string  `json:"component"`
	Name      string  `json:"name"`
	Need      float64 `json:"need"`
	Unit      string  `json:"unit"`
}

// CutLine is one piece to cut.
type CutLine struct {
	Delivery  string `json:"delivery"`
	Roll      int    `json:"roll"`
	RollMM    int    `json:"roll_mm"`
	WidthMM   int    `json:"width_mm"`
	Order     int    `json:"order"`
	Strip     string `json:"strip"`
	CutMM     int    `json:"cut_mm"`
	Left      int    `json:"left_mm"`
	Leftover  bool   `json:"leftover"`
	Component string `json:"component"`
	RipMM     int    `json:"rip_mm"`              // width as hung
	OffcutOf  string `json:"offcut_of,omitempty"` // the strip whose rip it is cut from
}

// OrderOf gives the order of a job's results.
func OrderOf(r *assess.Results) Order {
	o := Order{}
	for _, d := range r.Deliveries {
		o.purchases(r, d)
		for _, s := range d.Sheets {
			o.sheet(r, d, s)
		}
		for _, it := range d.Items {
			o.item(r, d, it)
		}
	}
	o.deliveries(r)
	return o
}

// purchases adds what a delivery takes, one line for each kind of pack.
func (o *Order) purchases(r *assess.Results, d *assess.Delivery) {
	for _, p := range r.Purchases(d) {
		l := OrderLine{Delivery: d.ID, Component: string(p.Component), Name: lineName(r, p), Article: p.Article, Need: p.Need, Unit: p.Unit,
			Packs: p.Packs, PackSize: p.PackSize, Over: p.Over}
		if mass, ok := p.Mass(); ok {
			l.Kilograms = float64(mass)
		}
		amount, priced := p.Amount()
		switch {
		case p.Leftover:
			l.Note = r.Lang.Say("from leftovers and offcuts")
		case p.Packs > 0 && priced:
			l.Price, l.Amount = money(p.Price.Amount), money(amount)
		case p.Packs > 0 && r.Job.Currency() != "":
			l.Note = r.Lang.Say("no price")
		}
		if p.ByClock && p.Packs > 0 {
			l.Note = strings.TrimPrefix(l.Note+"; "+r.Lang.Say("rolls searched by the clock: not reproducible"), "; ")
		}
		o.Lines = append(o.Lines, l)
	}
}

// lineName is a component's name, with its width where it comes by the roll.
func lineName(r *assess.Results, p assess.Purchase) string {
	name := componentName(r, string(p.Component))
	if p.Width > 0 {
		return r.Lang.Say("%s, %d mm wide", name, int(p.Width))
	}
	return name
}

// money writes hundredths.
func money(hundredths int64) Money {
	return Money(job.Price{Amount: hundredths}.Figure())
}

// deliveries sums each delivery, then all of them.
func (o *Order) deliveries(r *assess.Results) {
	all := DeliveryLine{Delivery: "all", Name: r.Lang.Say("the whole job")}
	for _, d := range r.Deliveries {
		l := deliveryLine(r.CostOf(d))
		l.Delivery, l.Name, l.Date = d.ID, d.Name, d.Date
		for _, room := range d.Rooms {
			l.Rooms = append(l.Rooms, string(room.ID))
		}
		mass, unknown := r.MassOf(d)
		l.Kilograms, l.NoWeight = float64(mass), texts(unknown)
		trips := r.Trips(d)
		if o.loads(r, d, trips); d.Limit() > 0 {
			l.Loads = max(1, len(trips))
		}
		o.Deliveries = append(o.Deliveries, l)
		all.Rooms, all.NoWeight = append(all.Rooms, l.Rooms...), append(all.NoWeight, l.NoWeight...)
		all.Kilograms += l.Kilograms
	}
	slices.Sort(all.NoWeight)
	cost := r.Cost()
	sum := deliveryLine(cost)
	all.Lines, all.Material, all.Currency, all.NoPrice, all.NoWeight = sum.Lines, sum.Material, sum.Currency, sum.NoPrice, slices.Compact(all.NoWeight)
	if cost.Labour != nil {
		all.Fitting = money(cost.Labour.Likely)
	}
	o.Deliveries = append(o.Deliveries, all)
}

// loads adds what goes up at once.
func (o *Order) loads(r *assess.Results, d *assess.Delivery, trips []assess.Trip) {
	for i, t := range trips {
		var rooms []string
		for _, room := range t.Rooms {
			rooms = append(rooms, string(room.ID))
		}
		for _, p := range t.Packs {
			mass, _ := p.Mass()
			o.Loads = append(o.Loads, LoadLine{d.ID, i + 1, string(p.Component), lineName(r, p), p.Packs, float64(mass), rooms})
		}
	}
}

func deliveryLine(c assess.Cost) DeliveryLine {
	l := DeliveryLine{Lines: c.Lines, Currency: c.Currency, NoPrice: []string{}, NoWeight: []string{}}
	if c.Currency != "" {
		l.Material, l.NoPrice = money(c.Material), texts(c.Unpriced)
	}
	return l
}

func texts(ids []job.ComponentID) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = string(id)
	}
	return out
}

// sheet adds each room's share and the cuts of one width of sheet.
func (o *Order) sheet(r *assess.Results, d *assess.Delivery, s assess.SheetOrder) {
	name := lineName(r, assess.Purchase{Component: s.Component, Width: s.Width})
	need := map[job.RoomID]float64{}
	for _, p := range s.Pieces {
		need[p.Surface.Room.ID] += float64(p.RollWidth.Metres().Times(p.Cut.Metres()))
	}
	o.picks(d, string(s.Component), name, "m2", need)
	for _, roll := range s.Rolls {
		left := roll.Length
		for i, c := range roll.Sequence() {
			if c.OffcutOf == "" {
				left -= c.Cut
			}
			o.Cuts = append(o.Cuts, CutLine{d.ID, roll.No, int(roll.Length), int(s.Width), i + 1, c.ID, int(c.Cut), int(left), roll.Leftover,
				string(s.Component), int(c.Width), c.OffcutOf})
		}
	}
}

// item adds each room's share of a component and how its need comes about.
func (o *Order) item(r *assess.Results, d *assess.Delivery, it bill.Item) {
	need := map[job.RoomID]float64{}
	for _, l := range it.Lines {
		o.Works = append(o.Works, WorkingLine{d.ID, it.Component, l.Place, l.Amount, l.Unit, l.Formula, l.Inputs, r.Lang.Text(l.Source.Status.String())})
		need[job.RoomID(l.Room)] += l.Amount
	}
	o.picks(d, it.Component, componentName(r, it.Component), it.Unit, need)
}

// picks adds each room's share of a component in room order.
func (o *Order) picks(d *assess.Delivery, component, name, unit string, need map[job.RoomID]float64) {
	for _, room := range d.Rooms {
		if x := need[room.ID]; x > 0 {
			o.Picks = append(o.Picks, PickLine{string(room.ID), d.ID, component, name, x, unit})
		}
	}
}

func componentName(r *assess.Results, id string) string {
	if c := r.Library.Components.Find(id); c != nil {
		return c.Name
	}
	return id
}

// OrderTable is the order as rows under a header.
func (o Order) OrderTable() [][]string {
	out := [][]string{{"delivery", "component", "name", "article", "need with waste", "unit", "packs", "pack size", "left over", "kg", "price", "amount", "remark"}}
	for _, l := range o.Lines {
		out = append(out, []string{l.Delivery, l.Component, l.Name, l.Article, amount(l.Need, l.Unit), l.Unit, strconv.Itoa(l.Packs), amount(l.PackSize, l.Unit),
			amount(l.Over, l.Unit), tenth(l.Kilograms), string(l.Price), string(l.Amount), l.Note})
	}
	return out
}

// DeliveryTable is each delivery and the whole job as rows under a header.
func (o Order) DeliveryTable() [][]string {
	out := [][]string{{"delivery", "name", "date", "rooms", "order lines", "kg", "loads", "material", "fitting", "currency", "no price", "no weight"}}
	for _, l := range o.Deliveries {
		loads := ""
		if l.Loads > 0 {
			loads = strconv.Itoa(l.Loads)
		}
		out = append(out, []string{l.Delivery, l.Name, l.Date, strings.Join(l.Rooms, " "), strconv.Itoa(l.Lines), tenth(l.Kilograms), loads, string(l.Material),
			string(l.Fitting), l.Currency, strings.Join(l.NoPrice, " "), strings.Join(l.NoWeight, " ")})
	}
	return out
}

// LoadTable is what goes up at once, as rows under a header.
func (o Order) LoadTable() [][]string {
	out := [][]string{{"delivery", "load", "component", "name", "packs", "kg", "rooms"}}
	for _, l := range o.Loads {
		out = append(out, []string{l.Delivery, strconv.Itoa(l.Load), l.Component, l.Name, strconv.Itoa(l.Packs), tenth(l.Kilograms), strings.Join(l.Rooms, " ")})
	}
	return out
}

// PickTable is each room's share as rows under a header.
func (o Order) PickTable() [][]string {
	out := [][]string{{"room", "delivery", "component", "name", "need with waste", "unit"}}
	for _, l := range o.Picks {
		out = append(out, []string{l.Room, l.Delivery, l.Component, l.Name, amount(l.Need, l.Unit), l.Unit})
	}
	return out
}

// CutTable is the cut list as rows under a header.
func (o Order) CutTable() [][]string {
	out := [][]string{{"delivery", "roll", "roll length mm", "width mm", "cut number", "strip id", "cut length mm", "left on roll mm", "leftover", "ripped to mm", "from the offcut of"}}
	for _, l := range o.Cuts {
		leftover := ""
		if l.Leftover {
			leftover = "yes"
		}
		out = append(out, []string{l.Delivery, strconv.Itoa(l.Roll), strconv.Itoa(l.RollMM), strconv.Itoa(l.WidthMM), strconv.Itoa(l.Order), l.Strip, strconv.Itoa(l.CutMM), strconv.Itoa(l.Left), leftover, strconv.Itoa(l.RipMM), l.OffcutOf})
	}
	return out
}

// WorkingTable is how each figure comes about, as rows under a header.
func (o Order) WorkingTable() [][]string {
	out := [][]string{{"delivery", "component", "place", "amount with waste", "unit", "formula", "inputs", "status"}}
	for _, l := range o.Works {
		out = append(out, []string{l.Delivery, l.Component, l.Place, decimal(l.Amount), l.Unit, l.Formula, l.Inputs, l.Status})
	}
	return out
}

// decimal writes a figure for other programs: a point, at most two digits.
func decimal(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

// tenth writes a mass; a mass that is not known is left empty.
func tenth(kg float64) string {
	if kg == 0 {
		return ""
	}
	return strconv.FormatFloat(kg, 'f', 1, 64)
}
