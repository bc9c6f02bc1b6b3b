package main

import (
	"math"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// tallyJSON is what a job takes, for other programs: areas in square metres and lengths in metres to the hundredth, times in
// whole minutes, money as "129.00" in the currency named beside it.
type tallyJSON struct {
	Layer   float64         `json:"layer_m2"`
	Sheet   float64         `json:"sheet_m2"`
	Bought  float64         `json:"bought_m2"`
	Rolls   int             `json:"rolls"`
	Pieces  int             `json:"pieces"`
	Laps    int             `json:"laps"`
	Joints  int             `json:"end_joints"`
	Seams   float64         `json:"seams_m"`
	Tape    float64         `json:"tape_m"`
	Minutes minutesJSON     `json:"fitting_min"`
	Cost    costJSON        `json:"cost"`
	Days    int             `json:"days"` // 0: the programme cannot be computed
	Finish  string          `json:"finish"`
	Rooms   []roomTallyJSON `json:"rooms"`
}

type minutesJSON struct {
	Low    int `json:"low"`
	Likely int `json:"likely"`
	High   int `json:"high"`
}

// costJSON is what is bought and what its fitting costs, as far as prices are stated.
type costJSON struct {
	Currency string            `json:"currency"` // empty: nobody stated a price
	Material string            `json:"material,omitempty"`
	Fitting  string            `json:"fitting,omitempty"` // likely
	Low      string            `json:"fitting_low,omitempty"`
	High     string            `json:"fitting_high,omitempty"`
	Lines    int               `json:"lines"`
	NoPrice  []job.ComponentID `json:"no_price"`
}

type roomTallyJSON struct {
	Room      job.RoomID  `json:"room"`
	Name      string      `json:"name"`
	Layer     float64     `json:"layer_m2"`
	Sheet     float64     `json:"sheet_m2"`
	Tape      float64     `json:"tape_m"`
	Junctions int         `json:"junctions"`
	Minutes   minutesJSON `json:"fitting_min"`
}

// roomChangeJSON is a room of two issues; null where only the other has it.
type roomChangeJSON struct {
	Old *roomTallyJSON `json:"old"`
	New *roomTallyJSON `json:"new"`
}

func newTallyJSON(t generator.Tally) tallyJSON {
	out := tallyJSON{Layer: hundredths(t.Layer), Sheet: hundredths(t.Sheet), Bought: hundredths(t.Bought), Rolls: t.Rolls, Pieces: t.Strips, Laps: t.Laps, Joints: t.Joints,
		Seams: hundredths(t.Seams), Tape: hundredths(t.Tape), Minutes: newMinutesJSON(t.Minutes), Cost: newCostJSON(t.Cost), Days: t.Days, Finish: t.Finish, Rooms: []roomTallyJSON{}}
	for i := range t.Rooms {
		out.Rooms = append(out.Rooms, *newRoomTallyJSON(&t.Rooms[i]))
	}
	return out
}

func newRoomTallyJSON(t *generator.RoomTally) *roomTallyJSON {
	if t == nil {
		return nil
	}
	return &roomTallyJSON{t.Room, t.Name, hundredths(t.Layer), hundredths(t.Sheet), hundredths(t.Tape), t.Junctions, newMinutesJSON(t.Minutes)}
}

func newRoomChangesJSON(changes []generator.RoomChange) []roomChangeJSON {
	out := []roomChangeJSON{}
	for _, c := range changes {
		out = append(out, roomChangeJSON{newRoomTallyJSON(c.Old), newRoomTallyJSON(c.New)})
	}
	return out
}

func newMinutesJSON(r assess.Range) minutesJSON {
	whole := func(m q.Minutes) int { return int(math.Round(float64(m))) }
	return minutesJSON{whole(r.Low), whole(r.Likely), whole(r.High)}
}

func newCostJSON(c assess.Cost) costJSON {
	out := costJSON{Currency: c.Currency, Lines: c.Lines, NoPrice: append([]job.ComponentID{}, c.Unpriced...)}
	if c.Currency == "" {
		return out
	}
	amount := func(hundredths int64) string { return job.Price{Amount: hundredths}.Figure() }
	out.Material = amount(c.Material)
	if w := c.Labour; w != nil {
		out.Fitting, out.Low, out.High = amount(w.Likely), amount(w.Low), amount(w.High)
	}
	return out
}

func hundredths[T ~float64](x T) float64 { return q.Borne(float64(x), "m") }
