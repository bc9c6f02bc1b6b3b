package generator

import (
	"strconv"

	"lapwork/generator/assess"
	"lapwork/generator/calc/bill"
	"lapwork/generator/job"
)

// Order is what is bought, where it goes and how the sheet is cut: the figures of the pack's materials page as rows.
type Order struct {
	Lines []OrderLine
	Picks []PickLine
	Cuts  []CutLine
	Works []WorkingLine
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
}

// OrderOf gives the order of a job's results.
func OrderOf(r *assess.Results) Order {
	var o Order
	for _, d := range r.Deliveries {
		for _, s := range d.Sheets {
			o.sheet(r, d, s)
		}
		for _, it := range d.Items {
			o.item(r, d, it)
		}
	}
	return o
}

// sheet adds the rolls to buy, each room's share and the cuts of one width of sheet.
func (o *Order) sheet(r *assess.Results, d *assess.Delivery, s assess.SheetOrder) {
	name := componentName(r, string(s.Component)) + ", " + strconv.Itoa(int(s.Width)) + " mm wide"
	for _, b := range s.Buy {
		size := float64(s.Width.Metres().Times(b.Length.Metres()))
		o.Lines = append(o.Lines, OrderLine{Delivery: d.ID, Component: string(s.Component), Name: name, Article: b.Article,
			Need: float64(s.Area), Unit: "m2", Packs: b.Count, PackSize: size, Over: overOf(s)})
	}
	need := map[job.RoomID]float64{}
	for _, p := range s.Pieces {
		need[p.Surface.Room.ID] += float64(p.RollWidth.Metres().Times(p.Cut.Metres()))
	}
	o.picks(d, string(s.Component), name, "m2", need)
	for _, roll := range s.Rolls {
		left := roll.Length
		for i, c := range roll.Cuts {
			left -= c.Cut
			o.Cuts = append(o.Cuts, CutLine{d.ID, roll.No, int(roll.Length), int(s.Width), i + 1, c.ID, int(c.Cut), int(left), roll.Leftover, string(s.Component)})
		}
	}
}

// overOf is the sheet that stays on the rolls.
func overOf(s assess.SheetOrder) float64 {
	var over float64
	for _, roll := range s.Rolls {
		over += float64(s.Width.Metres().Times(roll.Remainder.Metres()))
	}
	return over
}

func (o *Order) item(r *assess.Results, d *assess.Delivery, it bill.Item) {
	name := componentName(r, it.Component)
	article := ""
	if c := r.Library.Components.Find(it.Component); c != nil {
		article = c.Article
	}
	o.Lines = append(o.Lines, OrderLine{d.ID, it.Component, name, article, it.Need, it.Unit, it.Packs, it.PackSize, it.Over})
	for _, l := range it.Lines {
		o.Works = append(o.Works, WorkingLine{d.ID, it.Component, l.Place, l.Amount, l.Unit, l.Formula, l.Inputs, l.Source.Status.String()})
	}
	need := map[job.RoomID]float64{}
	for _, l := range it.Lines {
		need[job.RoomID(l.Room)] += l.Amount
	}
	o.picks(d, it.Component, name, it.Unit, need)
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
	out := [][]string{{"delivery", "component", "name", "article", "need with waste", "unit", "packs", "pack size", "over"}}
	for _, l := range o.Lines {
		out = append(out, []string{l.Delivery, l.Component, l.Name, l.Article, decimal(l.Need), l.Unit, strconv.Itoa(l.Packs), decimal(l.PackSize), decimal(l.Over)})
	}
	return out
}

// PickTable is each room's share as rows under a header.
func (o Order) PickTable() [][]string {
	out := [][]string{{"room", "delivery", "component", "name", "need with waste", "unit"}}
	for _, l := range o.Picks {
		out = append(out, []string{l.Room, l.Delivery, l.Component, l.Name, decimal(l.Need), l.Unit})
	}
	return out
}

// CutTable is the cut list as rows under a header.
func (o Order) CutTable() [][]string {
	out := [][]string{{"delivery", "roll", "roll length mm", "width mm", "cut", "strip", "cut length mm", "left on roll mm", "leftover"}}
	for _, l := range o.Cuts {
		leftover := ""
		if l.Leftover {
			leftover = "yes"
		}
		out = append(out, []string{l.Delivery, strconv.Itoa(l.Roll), strconv.Itoa(l.RollMM), strconv.Itoa(l.WidthMM), strconv.Itoa(l.Order), l.Strip, strconv.Itoa(l.CutMM), strconv.Itoa(l.Left), leftover})
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
