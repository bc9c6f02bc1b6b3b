package assess

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/calc/leakage"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/surface"
)

// Spot is one place that leaks a little, by its element.
type Spot struct {
	ID      string // of the junction, penetration or opening
	Room    *job.Room
	Kind    string // named alike in every language
	Title   string // of its kind
	Look    string // what a leak there looks like
	Item    leakage.Item
	Flows   leakage.Flows // at 50 Pa
	Assumed string        // why another element stands in; empty: its own
	Own     bool          // the firm's own figure
}

// Silent is a kind of place that the budget does not count.
type Silent struct {
	Title, Why string
	Places     int
}

// amounts are what a place can be counted by.
type amounts struct {
	run, perimeter q.Length
	area, opening  q.Area
	count          float64
}

func (a amounts) of(word string) float64 {
	switch word {
	case "run":
		return float64(a.run)
	case "perimeter":
		return float64(a.perimeter)
	case "area":
		return float64(a.area)
	case "opening":
		return float64(a.opening)
	}
	return a.count
}

// spots gives every place with its leakage element: the seams, edges and holes of the layer by their statements, then the
// leaves and sashes of openings.
func (r *Results) spots(found *diag.List) ([]Spot, []Silent, error) {
	s := spotter{Results: r, silent: map[Silent]int{}, missing: map[string]int{}}
	for _, p := range r.Places {
		s.place(p)
	}
	for _, room := range r.Model.Rooms {
		for _, sf := range room.Surfaces {
			for _, o := range sf.Openings {
				if sf.AirBoundary {
					s.leaf(o)
				}
			}
		}
	}
	if s.err != nil {
		return nil, nil, s.err
	}
	for _, title := range sorted(s.missing) {
		found.Notef(r.Job.Pos, "", "no leakage element is named for %q (%d places): a planning value stands in. leakage-map.csv in the firm's tables can name one", title, s.missing[title])
	}
	var silent []Silent
	for x, n := range s.silent {
		x.Places = n
		silent = append(silent, x)
	}
	sorting.Func(silent, func(x, y Silent) int { return cmp.Or(strings.Compare(x.Title, y.Title), strings.Compare(x.Why, y.Why)) })
	sorting.StableFunc(s.out, func(x, y Spot) int { return cmp.Compare(y.Flows.Expected, x.Flows.Expected) })
	return s.out, silent, nil
}

func sorted(m map[string]int) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

type spotter struct {
	*Results
	out     []Spot
	silent  map[Silent]int
	missing map[string]int // statements without an element, by title
	err     error
}

// place adds a junction by the element of its statement. Where nothing answers it, or it is unresolved, an unsealed place
// is assumed; where no element is named for its statement, a planning value.
func (s *spotter) place(p *Place) {
	rec := p.Record
	spot := Spot{ID: rec.ID, Room: rec.Room, Kind: KindID(p), Title: Kind(p)}
	a := amounts{run: rec.Length, perimeter: rec.Perimeter * q.Length(max(1, rec.Count)), area: rec.Area,
		opening: rec.Width.Times(rec.Height), count: float64(max(1, rec.Count))}
	kind, standIn := (*library.LeakageKind)(nil), false
	if p.Answered() {
		if f := p.Chosen.Statement.Faults; len(f) > 0 {
			spot.Look = f[0].Sign
		}
		kind = s.Library.Leak(p.Chosen.Statement, string(p.Chosen.Variant.ID))
	}
	switch {
	case p.Problem != "" || !p.Answered():
		kind, spot.Assumed = s.fallback("open", rec), s.say("not resolved yet: taken as not sealed")
		spot.Kind, spot.Title = spot.Kind+".open", s.say("%s, not resolved", spot.Title)
	case kind == nil:
		kind, standIn, spot.Assumed = s.fallback("other", rec), true, s.say("no element is named for this kind")
		s.missing[spot.Title]++
	}
	s.add(spot, kind, a, standIn)
}

// fallback gives the row of a place without an element of its own: along a run, or for an item.
func (s *spotter) fallback(word string, rec junction.Record) *library.LeakageKind {
	if k := s.Library.Air.Map.Find(word + " " + string(rec.Edge)); k != nil {
		return k
	}
	if rec.Length > 0 {
		return s.Library.Air.Map.Find(word + " run")
	}
	return s.Library.Air.Map.Find(word + " item")
}

// leaf adds the sash or leaf of an opening, which no seal of the layer closes.
func (s *spotter) leaf(o surface.Opening) {
	kind := s.Library.Air.Map.Find("opening " + o.Kind)
	if kind == nil {
		return
	}
	title := o.Kind
	if t := s.Library.Air.Openings.Find(o.Kind); t != nil {
		title = t.Title
	}
	w, h := o.Width.Metres(), o.Height.Metres()
	s.add(Spot{ID: string(o.ID), Room: o.Room, Kind: "opening." + o.Kind, Title: title + ": " + kind.Note, Look: s.say("gasket pressed all round; latch and hinge side")}, kind,
		amounts{perimeter: 2 * (w + h), opening: w.Times(h), count: 1}, false)
}

// add counts a place.
func (s *spotter) add(spot Spot, kind *library.LeakageKind, a amounts, standIn bool) {
	if kind == nil || kind.Element == "" {
		why := s.say("no element in the tables")
		if kind != nil {
			why = kind.Note
		}
		s.silent[Silent{Title: spot.Title, Why: why}]++
		return
	}
	e, ok := s.Library.Air.Element(kind.Element)
	if !ok {
		return // a fault of the tables, reported when they were loaded
	}
	if standIn {
		e.Source.Status = q.Placeholder
	}
	spot.Own = s.Library.Air.OwnElement(e.ID)
	spot.Item = leakage.Item{Element: e, Place: spot.ID, Quantity: a.of(kind.Amount)}
	if spot.Item.Quantity == 0 {
		return
	}
	var err error
	if spot.Flows, err = e.At(spot.Item.Quantity, leakage.TestPressure, leakage.ReferenceDensity); err != nil && s.err == nil {
		s.err = err
	}
	s.out = append(s.out, spot)
}

// Suspect is one line of the leak search: the places of one kind in a room.
type Suspect struct {
	Room              *job.Room
	Kind, Title, Look string
	Places            []string // most expected leakage first
	Flow              q.AirFlow
}

// Search gives the leak search of a storey, most expected leakage first: one line a kind and room.
func (a Air) Search(st *job.Storey) []Suspect {
	type line struct {
		room *job.Room
		kind string
	}
	var out []Suspect
	at := map[line]int{}
	for _, s := range a.Spots {
		if s.Room.Storey != st {
			continue
		}
		i, ok := at[line{s.Room, s.Kind}]
		if !ok {
			i = len(out)
			at[line{s.Room, s.Kind}] = i
			out = append(out, Suspect{Room: s.Room, Kind: s.Kind, Title: s.Title, Look: s.Look})
		}
		out[i].Places = append(out[i].Places, s.ID)
		out[i].Flow += s.Flows.Expected
	}
	sorting.StableFunc(out, func(x, y Suspect) int { return cmp.Compare(y.Flow, x.Flow) })
	return out
}

// KindID names a place's kind alike in every language: by its statement, else its item or edge.
func KindID(p *Place) string {
	switch {
	case p.Answered():
		return string(p.Chosen.Statement.ID)
	case p.Record.Item != "":
		return p.Record.Item
	}
	return string(p.Record.Edge)
}

// Kind names what a place is: its statement's title, else its item or edge.
func Kind(p *Place) string {
	switch {
	case p.Answered():
		return p.Chosen.Statement.Title
	case p.Record.Item != "":
		return strings.ReplaceAll(p.Record.Item, "-", " ")
	}
	return strings.ReplaceAll(string(p.Record.Edge), "-", " ")
}
