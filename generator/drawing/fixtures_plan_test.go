package drawing_test

import d "lapwork/generator/drawing"

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
		"key-small": d.KeyPlan{Title: "Where you are", Rooms: s.Rooms, Here: "B5"}, "legend": d.Legend{}}
}
