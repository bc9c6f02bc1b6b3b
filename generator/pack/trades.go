package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/geometry"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	"lapwork/generator/surface"
)

// Trades is a section for each other trade: its own numbers in the layer, and nothing else to read.
type Trades struct {
	Sections []TradeSection
	Rest     []TradeRow // penetrations that no trade of the table takes
}

// TradeSection is one trade's sheet.
type TradeSection struct {
	ID, Title      string
	Holes          []TradeRow
	Cavity         []TradeRow // lights and boxes that stay in the service cavity
	Openings       []TradeRow
	Members        []TradeRow
	Screws         []ScrewRow
	Does, Never    []string
	Decides        string
	Rules          []Term
	Cautions       []Caution
	Source, Status string // of the sentences: where from, and how well that is supported
}

// TradeRow is one numbered item at its place on a surface.
type TradeRow struct {
	ID, Room, Surface, What, Size string
	Left, Up                      string // from the left end and over the floor; on slopes up the slope, on ceilings in plan
	Clear                         string // distance to the next hole; for what stays in the cavity the greatest depth
	Seal                          string // who seals it, and how
	Problem                       string // unresolved: whom to ask
	Path                          string
}

// ScrewRow is the longest fixing of one surface.
type ScrewRow struct{ Room, Surface, What, Longest, How, Path string }

const tradesPath = "trades.html"

func (a *assembler) tradesPage() Page {
	v := &Trades{}
	byTrade := map[*library.Trade]*TradeSection{}
	for _, t := range a.Library.Trades.All() {
		s := &TradeSection{ID: t.ID, Title: t.Title, Does: t.Does, Never: t.Never, Decides: t.Decides, Source: a.how(t.Source.Text), Status: a.status(t.Source)}
		for _, id := range t.Rules {
			r := a.Library.Rules.Find(id)
			s.Rules = append(s.Rules, Term{r.Title, r.Value + " (" + a.status(r.Source) + ")"})
		}
		for _, id := range t.Cautions {
			s.Cautions = append(s.Cautions, a.caution(a.Library.Cautions.Find(id), ""))
		}
		byTrade[t] = s
	}
	for _, shape := range a.Model.Rooms {
		for _, s := range shape.Surfaces {
			v.Rest = append(v.Rest, a.placeOnTrades(byTrade, s)...)
		}
	}
	for _, t := range a.Library.Trades.All() {
		v.Sections = append(v.Sections, *byTrade[t])
	}
	return Page{Path: tradesPath, Kind: KindTrades, Title: a.say("For the other trades"), Where: a.say("Trades"), Trades: v}
}

// placeOnTrades gives each thing of a surface to its trade, and returns the penetrations that nobody takes.
func (a *assembler) placeOnTrades(of map[*library.Trade]*TradeSection, s *surface.Surface) (rest []TradeRow) {
	for _, p := range s.Penetrations {
		row, cavity := a.holeRow(s, p)
		t := of[a.Library.TradeOf(p.Item, p.Hot || p.Item == "flue")]
		switch {
		case t == nil:
			rest = append(rest, row)
		case cavity:
			t.Cavity = append(t.Cavity, row)
		default:
			t.Holes = append(t.Holes, row)
		}
	}
	for _, t := range a.Library.Trades.All() {
		if t.Screws {
			of[t].Screws = append(of[t].Screws, a.screwRows(s)...)
		}
		for _, o := range s.Openings {
			if row := a.openingRow(s, o); row.Seal != "" && slices.Contains(t.Openings, o.Kind) {
				of[t].Openings = append(of[t].Openings, row)
			}
		}
		for _, m := range s.Members {
			if row := a.memberRow(s, m); row.Seal != "" && slices.Contains(t.Members, m.Item) {
				of[t].Members = append(of[t].Members, row)
			}
		}
	}
	return rest
}

// holeRow is a penetration's row; cavity says that it stays inside the service cavity and passes nothing.
func (a *assembler) holeRow(s *surface.Surface, p surface.Penetration) (row TradeRow, cavity bool) {
	row = a.tradeRow(s, string(p.ID), p.Item, p.Serves)
	row.Size = a.holeSize(p.Penetration)
	row.Left, row.Up = a.format.MM(p.At.X), a.format.MM(p.At.Y)
	place := a.Place(string(p.ID))
	switch {
	case place != nil:
		row.Seal, row.Problem = a.sealedBy(place), place.Problem
		switch v := place.Chosen.Variant; {
		case place.Record.Edge == junction.PenetrationAt:
			row.Clear = a.clear(place.Record)
		case v != nil && v.ID == library.DefaultVariant: // it needs a cavity that is not there yet
			row.Clear, row.Seal = a.say("no cavity yet"), a.lowerFirst(v.Title)
			return row, true
		}
	case s.Face.Cavity > 0 && (p.Item == "luminaire" || p.Item == "back-box"):
		row.Clear, row.Seal = a.say("%s deep at most", a.format.MM(s.Face.Cavity)), a.say("nothing: the layer behind it stays whole")
		return row, true
	default:
		row.Seal = a.say("nothing: no layer on this surface")
	}
	return row, false
}

func (a *assembler) tradeRow(s *surface.Surface, id, item, serves string) TradeRow {
	row := TradeRow{ID: id, Room: string(s.Room.ID), Surface: string(s.ID), What: strings.ReplaceAll(item, "-", " ")}
	if serves != "" {
		row.What += ": " + serves
	}
	if a.HasLayer(s.Room.ID) {
		row.Path = roomPath(s.Room.ID)
	}
	if a.Place(id) != nil {
		row.Path += "#" + id
	}
	return row
}

// openingRow is a frame's row. Its parts are sealed one by one; the row names the first that is not settled. Seal is empty
// where nothing of it meets the layer.
func (a *assembler) openingRow(s *surface.Surface, o surface.Opening) TradeRow {
	row := a.tradeRow(s, string(o.ID), o.Kind, "")
	row.Size = a.format.MM(o.Width) + " × " + a.format.MM(o.Height)
	corner := o.Outline.Bounds().Min
	row.Left, row.Up = a.format.MM(corner.X), a.format.MM(corner.Y)
	a.sealParts(&row, s, string(o.ID))
	return row
}

func (a *assembler) memberRow(s *surface.Surface, m surface.Member) TradeRow {
	serves := ""
	if m.Stands != "" {
		serves = map[string]string{"before": a.say("stands before the layer"), "after": a.say("comes after the layer")}[m.Stands]
	}
	row := a.tradeRow(s, string(m.ID), m.Item, serves)
	row.Left, row.Up = a.format.MM(m.From.X), a.format.MM(m.From.Y)
	if m.Width > 0 && m.Member.Height > 0 {
		row.Size = a.format.MM(m.Width) + " × " + a.format.MM(m.Member.Height)
	}
	if m.Length > 0 {
		row.Size = strings.TrimPrefix(row.Size+", "+a.format.Metres(m.Length.Metres())+" long", ", ")
	}
	if m.Count > 1 {
		row.Size = fmt.Sprintf("%d × ", m.Count) + row.Size
	}
	a.sealParts(&row, s, string(m.ID))
	return row
}

// sealParts says who seals an object of one or more places; it leaves Seal empty where there is none.
func (a *assembler) sealParts(row *TradeRow, s *surface.Surface, object string) {
	for _, p := range a.PlacesIn(s.Room.ID) {
		if p.Record.Object != object {
			continue
		}
		if row.Seal == "" {
			row.Path, row.Seal = roomPath(s.Room.ID)+"#"+p.Record.ID, a.sealedBy(p)
		}
		if row.Problem == "" {
			row.Problem = p.Problem
		}
	}
}

// sealedBy is who seals a place: the crew of the activity it belongs to, or who settled it.
func (a *assembler) sealedBy(p *assess.Place) string {
	act := a.Library.Activities.Find(p.Chosen.Activity)
	switch {
	case p.Settled != nil && p.Settled.Statement == "licensed":
		return p.Settled.By + ", " + strings.ReplaceAll(p.Settled.Role, "-", " ")
	case p.Problem != "":
		return a.say("open: see below")
	case act == nil:
		return ""
	}
	return a.crewWords(act)
}

// crewWords names the roles of an activity without counting them.
func (a *assembler) crewWords(act *library.Activity) string {
	text := ""
	for _, m := range act.Crew {
		if text == "" {
			text = a.role(m.Role)
		} else {
			text = a.say("%s with %s", text, a.role(m.Role))
		}
	}
	return text
}

func (a *assembler) holeSize(p *job.Penetration) string {
	f := a.format
	size := "Ø " + f.MM(p.Diameter)
	if p.Diameter == 0 {
		size = f.MM(p.Width) + " × " + f.MM(p.Height)
	}
	if p.Cables > 1 {
		size += a.say(", %d cables", p.Cables)
	}
	if p.Count > 1 {
		size = fmt.Sprintf("%d × ", p.Count) + size
	}
	return size
}

// notNear is the distance that stands for "nothing near": what a record holds where no other hole is nearer.
const notNear = 1000

// clear is the clear distance from a hole to the next one.
func (a *assembler) clear(r junction.Record) string {
	if r.Spacing >= notNear {
		return a.say("%s or more", a.format.MM(notNear))
	}
	return a.format.MM(r.Spacing)
}

// whereOn says where a point of a surface lies, from marks a person finds in the room.
func (a *assembler) whereOn(s *surface.Surface, p geometry.Point) string {
	x, y := a.format.MM(p.X), a.format.MM(p.Y)
	switch {
	case s.Role == surface.Ceiling || s.Role == surface.Floor || s.Part == surface.Top:
		return a.say("%s right of and %s up from the lower left corner of the room in plan", x, y)
	case s.Dormer != nil:
		return a.say("%s from the left end, %s up from the sill of the dormer", x, y)
	case s.Role == surface.Slope:
		return a.say("%s from the left end, %s up the slope", x, y)
	}
	return a.say("%s from the left end, %s over the floor", x, y)
}
