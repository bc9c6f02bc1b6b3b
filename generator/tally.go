package generator

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/calc/strips"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Tally is what a job takes, in the few figures that variants and issues are compared by.
type Tally struct {
	Layer   q.Area   // net
	Sheet   q.Area   // cut from rolls
	Bought  q.Area   // whole rolls
	Rolls   int      // bought
	Strips  int      // pieces to cut
	Laps    int      // seams between strips
	Joints  int      // end joints in strips
	Seams   q.Length // laps and end joints, net
	Tape    q.Length // all tapes, waste included
	Minutes assess.Range
	Cost    assess.Cost // material in whole packs and fitting, as far as prices are stated
	Days    int         // working days up to the finish; 0: the programme cannot be computed
	Finish  string      // of the programme; empty where it cannot be computed
	Dated   bool        // the finish is a date, not the number of a day
	Rooms   []RoomTally
}

// RoomTally is a room's share.
type RoomTally struct {
	Room      job.RoomID
	Name      string
	Layer     q.Area
	Sheet     q.Area
	Tape      q.Length
	Junctions int
	Minutes   assess.Range
}

// TallyOf sums a job's results.
func TallyOf(r *assess.Results) Tally {
	t := Tally{Cost: r.Cost()}
	for _, d := range r.Deliveries {
		for _, s := range d.Drawn { // like for like: strips measured on site belong to one drawing alone
			t.Sheet += s.Area
			for _, b := range s.Buy {
				t.Rolls += b.Count
				t.Bought += q.Area(float64(s.Width.Metres().Times(b.Length.Metres())) * float64(b.Count))
			}
		}
	}
	for _, l := range r.Layouts {
		t.Strips += l.Pieces
		t.Seams += l.Tape()
		t.Laps += max(0, len(l.Strips)-1)
		for _, st := range l.Strips {
			t.Joints += len(st.Joints)
		}
	}
	for _, room := range r.Job.Rooms {
		if r.HasLayer(room.ID) {
			rt := tallyRoom(r, room)
			t.Layer += rt.Layer
			t.Tape += rt.Tape
			t.Minutes = t.Minutes.Plus(rt.Minutes)
			t.Rooms = append(t.Rooms, rt)
		}
	}
	if p := r.Programme; p != nil {
		t.Days, _ = p.Finish.Day()
		t.Finish = fmt.Sprintf("day %d", t.Days)
		if p.Dated {
			date, _ := p.DateOf(p.Finish)
			t.Finish, t.Dated = date.String(), true
		}
	}
	return t
}

func tallyRoom(r *assess.Results, room *job.Room) RoomTally {
	t := RoomTally{Room: room.ID, Name: room.Name, Layer: r.LayerArea(room)}
	for _, l := range r.LayoutsIn(room.ID) {
		t.Sheet += l.SheetUsed
	}
	for _, p := range r.PlacesIn(room.ID) {
		t.Junctions++
		t.Minutes = t.Minutes.Plus(p.Minutes)
		for _, line := range p.Lines {
			if strings.HasPrefix(line.Component, "tape-") && line.Unit == "m" {
				t.Tape += q.Length(line.Amount)
			}
		}
	}
	return t
}

// Variant is a change of the job to try: another roll, direction or crew.
type Variant struct {
	Name   string
	Change func(*job.Job)
}

// ParseVariant reads a variant as a user writes it: roll=3m, direction=level, direction=upright, crew=1.
func ParseVariant(text string) (Variant, error) {
	key, value, _ := strings.Cut(text, "=")
	v := Variant{Name: text}
	switch {
	case key == "roll":
		var metres float64
		if _, err := fmt.Sscanf(strings.TrimSuffix(value, "m"), "%g", &metres); err != nil || metres < 0.5 || metres > 6 {
			return v, fmt.Errorf("roll=%s: write a width in metres: roll=3m", value)
		}
		v.Change = func(j *job.Job) { useRoll(j, q.MMOf(q.Length(metres))) }
	case key == "direction" && (value == strips.Level.String() || value == strips.Upright.String()):
		v.Change = func(j *job.Job) { runAll(j, value) }
	case key == "crew":
		n := 0
		if _, err := fmt.Sscanf(value, "%d", &n); err != nil || n < 1 || n > 50 {
			return v, fmt.Errorf("crew=%s: write a number of fitters: crew=2", value)
		}
		v.Change = func(j *job.Job) { j.Firm.Crew = n }
	default:
		return v, fmt.Errorf("%q is no variant: write roll=3m, direction=level, direction=upright or crew=2", text)
	}
	return v, nil
}

// useRoll hangs everything in rolls of a width, one of the usual length where the stock has none.
func useRoll(j *job.Job, width q.MM) {
	sheet := job.ComponentID("sheet-main")
	if chosen, ok := j.Components[string(sheet)]; ok {
		sheet = chosen
	}
	is := func(r job.StockRoll) bool { return r.Component == sheet && r.Width == width && r.Leftover == "" }
	if !slices.ContainsFunc(j.Stock, is) {
		j.Stock = append(slices.Clone(j.Stock), job.StockRoll{Component: sheet, Width: width, Length: 50000})
	}
	settings := slices.DeleteFunc(slices.Clone(j.Settings), func(s job.Setting) bool { return s.Name == "roll_mm" })
	j.Settings = append(settings, job.Setting{Name: "roll_mm", Value: float64(width)})
}

// runAll fixes the strip direction of every surface.
func runAll(j *job.Job, direction string) {
	for _, room := range j.Rooms {
		for _, w := range room.Walls {
			w.Direction = direction
		}
		for _, s := range room.Slopes {
			s.Direction = direction
		}
		room.CeilingFace.Direction = direction
		for _, d := range room.Dormers {
			d.Front.Direction, d.Cheeks.Direction, d.Top.Direction = direction, direction, direction
		}
	}
}

// Outcome is a variant with what it takes.
type Outcome struct {
	Name string
	Tally
}

// Compare computes the job as it stands and each variant of it.
func Compare(ctx context.Context, o Options, variants []Variant) ([]Outcome, Report, error) {
	results, report, err := Compute(ctx, o)
	if err != nil {
		return nil, report, err
	}
	out := []Outcome{{"as it stands", TallyOf(results)}}
	for _, v := range variants {
		results, changed, err := ComputeVariant(ctx, o, v)
		if err != nil {
			return nil, changed, fmt.Errorf("%s: %w", v.Name, err)
		}
		out = append(out, Outcome{v.Name, TallyOf(results)})
	}
	return out, report, nil
}

// ComputeVariant computes a job with a variant's change.
func ComputeVariant(ctx context.Context, o Options, v Variant) (*assess.Results, Report, error) {
	o.change = v.Change
	return Compute(ctx, o)
}

// RoomChange is one room of two issues of a job. Old or New is nil where the room is only in the other.
type RoomChange struct{ Old, New *RoomTally }

// Changes lists the rooms that differ between two issues of a job, in the new one's order, removed rooms last.
func Changes(before, after Tally) []RoomChange {
	old := map[job.RoomID]*RoomTally{}
	for i := range before.Rooms {
		old[before.Rooms[i].Room] = &before.Rooms[i]
	}
	var out []RoomChange
	for i := range after.Rooms {
		now := &after.Rooms[i]
		was := old[now.Room]
		delete(old, now.Room)
		if was == nil || *was != *now {
			out = append(out, RoomChange{was, now})
		}
	}
	for i := range before.Rooms {
		if was := old[before.Rooms[i].Room]; was != nil {
			out = append(out, RoomChange{was, nil})
		}
	}
	return out
}
