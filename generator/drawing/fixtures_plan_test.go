package drawing_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	d "lapwork/generator/drawing"
)

func storey() d.StoreyPlan {
	p := d.StoreyPlan{Title: "Ground floor", Rooms: []d.PlanRoom{
		{ID: "B1", Name: "Kitchen", Note: "3 of 7 done", Outline: rect(0, 0, 4200, 3600)}, {ID: "B2", Name: "Living room", Outline: rect(4300, 0, 9800, 5200)},
		{ID: "B3", Name: "Hall", Outline: path(0, 3700, 4200, 3700, 4200, 5300, 9800, 5300, 9800, 6500, 0, 6500)}, {ID: "B4", Name: "Bath", Outline: rect(0, 6600, 2300, 8600)},
		{ID: "B5", Name: "Store", Outline: rect(2400, 6600, 3500, 8600)}, {ID: "B6", Name: "Bedroom", Outline: rect(3600, 6600, 9800, 8600)}}}
	at := func(x, y float64) d.XY { return d.XY{X: x, Y: y} }
	p.Edges = []d.PlanEdge{{From: at(0, 0), To: at(4200, 0), Carries: true, ID: "B1-W1"}, {From: at(4300, 0), To: at(9800, 0), Carries: true, ID: "B2-W1"},
		{From: at(0, 0), To: at(0, 3600), Carries: true, ID: "B1-W4"}, {From: at(9800, 0), To: at(9800, 5200), Carries: true, ID: "B2-W2"}, {From: at(0, 8600), To: at(2300, 8600), Carries: true, ID: "B4-W3"},
		{From: at(2400, 8600), To: at(3500, 8600), Carries: true, ID: "B5-W3"}, {From: at(3600, 8600), To: at(9800, 8600), Carries: true, ID: "B6-W3"}, {From: at(9800, 6600), To: at(9800, 8600), Carries: true, ID: "B6-W2"}, {From: at(0, 6600), To: at(0, 8600), Carries: true, ID: "B4-W4"}}
	p.Openings = []d.PlanOpening{{ID: "B1-O1", From: at(1200, 0), To: at(2600, 0)}, {ID: "B2-O1", From: at(9800, 1500), To: at(9800, 3500)}, {ID: "B6-O1", From: at(6000, 8600), To: at(7400, 8600)}}
	p.Holes = []d.PlanHole{{ID: "B1-P01", At: at(0, 3000)}, {ID: "B1-P02", At: at(0, 3200)}, {ID: "B4-P01", At: at(400, 8600)}, {ID: "B4-P02", At: at(700, 8600)}, {ID: "B4-P03", At: at(0, 7000)}}
	return p
}

func planFigures() map[string]d.Figure {
	s := storey()
	return map[string]d.Figure{"plan": s, "key-room": d.KeyPlan{Title: "Where you are", Rooms: s.Rooms, Here: "B2", From: d.XY{X: 4300}, To: d.XY{X: 9800}},
		"key-small": d.KeyPlan{Title: "Where you are", Rooms: s.Rooms, Here: "B5"}, "legend": d.Legend{}, "plan-terrace": terrace()}
}

// terrace is a storey of twenty small rooms in two rows, with an opening and three holes each.
func terrace() d.StoreyPlan {
	p := d.StoreyPlan{Title: "Terrace"}
	for i := range 20 {
		x, y := float64(i%10)*4200, float64(i/10)*3200
		id := fmt.Sprintf("R%d", i+1)
		p.Rooms = append(p.Rooms, d.PlanRoom{ID: id, Name: "Room " + id[1:], Outline: rect(x, y, x+4000, y+3000)})
		p.Edges = append(p.Edges, d.PlanEdge{From: d.XY{X: x, Y: y}, To: d.XY{X: x + 4000, Y: y}, Carries: true, ID: id + "-W1"},
			d.PlanEdge{From: d.XY{X: x + 4000, Y: y}, To: d.XY{X: x + 4000, Y: y + 3000}, Carries: true, ID: id + "-W2"})
		p.Openings = append(p.Openings, d.PlanOpening{ID: id + "-O1", From: d.XY{X: x + 1200, Y: y}, To: d.XY{X: x + 2400, Y: y}})
		for n := range 3 {
			p.Holes = append(p.Holes, d.PlanHole{ID: fmt.Sprintf("%s-P%02d", id, n+1), At: d.XY{X: x + 4000, Y: y + 600*float64(n+1)}})
		}
	}
	return p
}

// A plan of many small rooms says each room's id inside the room and leaves what has no place there to the rooms' pages; its
// words still tell all of it. One of few rooms says every id.
func TestCrowdedPlan(t *testing.T) {
	r := record(terrace())
	rooms := 0
	for i, line := range r.lines {
		if strings.HasPrefix(line, "R") {
			rooms++
			n := 0
			fmt.Sscanf(line, "R%d", &n)
			// The rooms are 4.2 m apart over 42 m, drawn 640 wide from 20 on: 64 each, the outer wall left out of it.
			left := 20 + float64((n-1)%10)*64
			if strings.Contains(line, "-") || r.boxes[i].X0 < left || r.boxes[i].X1 > left+64 {
				t.Errorf("%s stands from %.0f to %.0f, its room from %.0f", line, r.boxes[i].X0, r.boxes[i].X1, left)
			}
		}
	}
	if rooms != 20 || !slices.ContainsFunc(r.lines, func(line string) bool { return strings.HasPrefix(line, "Ids of walls") }) {
		t.Errorf("%d ids of rooms, lines %q", rooms, r.lines)
	}
	if !strings.Contains(r.view.Desc, "R20-P03") {
		t.Error("the description leaves holes out")
	}
	if few := record(storey()); !slices.Contains(few.lines, "B4-P03") {
		t.Error("a plan of few rooms leaves ids out")
	}
}
