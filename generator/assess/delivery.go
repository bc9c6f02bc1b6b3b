package assess

import (
	"cmp"
	"fmt"
	"slices"

	"lapwork/generator/calc/bill"
	"lapwork/generator/calc/rolls"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Delivery is a batch of material: everything its rooms need, rounded to whole packs once.
type Delivery struct {
	ID, Name, Date string
	Stated         bool // by the job; else it was made for a storey
	Rooms          []*job.Room
	Load           q.Mass // most that goes up at once, of this delivery; 0: what its storeys say
	Sheets         []SheetOrder
	Drawn          []SheetOrder // as the sheets were before anybody measured on site
	Items          []bill.Item  // all but the sheet
}

// Called is what people know a delivery by: its id where the job states one, else the storey it was made for.
func (d *Delivery) Called() string {
	if d.Stated {
		return d.ID
	}
	return d.Name
}

// SheetOrder is the sheet of one width in a delivery.
type SheetOrder struct {
	Component job.ComponentID
	Width     q.MM
	Pieces    []CutPiece
	Rolls     []Roll
	Plan      rolls.Plan
	Priced    bool        // the plan counts money, not millimetres of roll
	Buy       []RollCount // rolls to order, by length
	Area      q.Area      // of all pieces
	Reused    q.Area      // of the pieces that are cut from rips of others
	How       PlanState
}

// PlanState says what strips measured on site made of a cutting plan.
type PlanState uint8

// The states of a cutting plan.
const (
	PlanDrawn  PlanState = iota // nothing was measured that changes it
	PlanKept                    // all pieces still fit their rolls
	PlanMended                  // pieces moved to the rests of other rolls
	PlanSolved                  // solved again
)

// Roll is one roll or leftover and what is cut from it, in cutting order.
type Roll struct {
	No        int // in the delivery, from 1
	Name      string
	Length    q.MM
	Leftover  bool
	Cuts      []CutPiece
	Remainder q.MM
}

// Sequence is everything cut from a roll in cutting order: after each piece those that its rip feeds.
func (r Roll) Sequence() []CutPiece {
	var out []CutPiece
	for _, c := range r.Cuts {
		out = append(append(out, c), c.Feeds...)
	}
	return out
}

// RollCount is how many rolls of a length are ordered.
type RollCount struct {
	Length  q.MM
	Article string
	Count   int
}

// Deliveries groups the rooms: as the job states, and one delivery a storey for the rest. The sheet of
// each is cut already; its other components are summed into whole packs.
func (c Context) Deliveries(laid Laid, places []*Place) ([]*Delivery, error) {
	deliveries, of := c.batches()
	lines := map[*Delivery][]bill.Line{}
	for _, l := range laid.Layouts {
		d := of[l.Surface.Room.ID]
		if !c.onSteel(l.Surface) {
			lines[d] = append(lines[d], c.stapleLine(l))
		}
	}
	for _, p := range places {
		d := of[p.Record.Room.ID]
		lines[d] = append(lines[d], p.Lines...)
	}
	for _, d := range deliveries {
		d.Sheets, d.Drawn = laid.sheets[d.ID], laid.drawn[d.ID]
		items, err := bill.Sum(lines[d], c.packs(), nil)
		if err != nil {
			return nil, fmt.Errorf("delivery %s: %w", d.ID, err)
		}
		d.Items = items
	}
	return deliveries, nil
}

// batches gives the deliveries in order and which one a room's material comes with.
func (c Context) batches() ([]*Delivery, map[job.RoomID]*Delivery) {
	of := map[job.RoomID]*Delivery{}
	rooms := map[job.RoomID]*job.Room{}
	for _, r := range c.Job.Rooms {
		rooms[r.ID] = r
	}
	var out []*Delivery
	for _, stated := range c.Job.Deliveries {
		d := &Delivery{ID: stated.ID, Name: stated.Name, Date: stated.Date, Stated: true, Load: stated.Load}
		for _, id := range stated.Rooms {
			if r := rooms[id]; r != nil && of[id] == nil {
				of[id] = d
				d.Rooms = append(d.Rooms, r)
			}
		}
		out = append(out, d)
	}
	for _, st := range c.Job.Storeys {
		d := &Delivery{ID: "storey-" + string(st.ID), Name: st.Name}
		for _, r := range c.Job.Rooms {
			if r.Storey == st && of[r.ID] == nil {
				of[r.ID] = d
				d.Rooms = append(d.Rooms, r)
			}
		}
		if len(d.Rooms) > 0 {
			out = append(out, d)
		}
	}
	byDate(out)
	return out, of
}

// byDate puts the deliveries with a date into its order, those without stay where they are: a rest of a roll can only go into
// a delivery that comes later.
func byDate(deliveries []*Delivery) {
	var at []int
	var dated []*Delivery
	for i, d := range deliveries {
		if d.Date != "" {
			at, dated = append(at, i), append(dated, d)
		}
	}
	slices.SortStableFunc(dated, func(a, b *Delivery) int { return cmp.Compare(a.Date, b.Date) }) // ISO dates sort as text
	for k, i := range at {
		deliveries[i] = dated[k]
	}
}

// packs gives the pack sizes of the component table.
func (c Context) packs() map[string]bill.Pack {
	out := map[string]bill.Pack{}
	for _, comp := range c.Library.Components.All() {
		out[string(comp.ID)] = bill.Pack{Size: comp.Pack.Likely, Unit: comp.Unit}
	}
	return out
}

// stapleLine is what the field and the edges of a laid surface take.
func (c Context) stapleLine(l *Layout) bill.Line {
	waste, _ := c.Library.Setting("waste_fix_pct", c.Job.Settings, l.Surface.Room.ID, l.Surface.ID)
	return bill.Line{Component: string(c.component("staple")), Place: string(l.Surface.ID), Room: string(l.Surface.Room.ID),
		Amount: float64(l.Staples.Total()) * (1 + waste/100), Unit: "each",
		Formula: c.say("(on framing lines + on edges)*(1+waste_fix_pct/100); on each clear stretch ceil(length/spacing)+1"),
		Inputs: c.say("on framing lines = %d, on edges = %d, waste_fix_pct = %g, spacing %d and %d mm", l.Staples.OnLines,
			l.Staples.OnEdges, waste, c.setting("staple_field_mm", l.Surface), c.setting("staple_pitch_mm", l.Surface)),
		Source: q.Source{Text: c.say("staple pattern on the strip layout, R-STAPLE-1 and 2"), Status: q.CommonPractice}}
}
