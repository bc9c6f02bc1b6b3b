package drawing_test

import (
	d "lapwork/generator/drawing"
	q "lapwork/generator/quantity"
)

// The fixtures are invented; they stand for what a pack draws.

func path(v ...float64) []d.XY {
	var out []d.XY
	for i := 0; i+1 < len(v); i += 2 {
		out = append(out, d.XY{X: v[i], Y: v[i+1]})
	}
	return out
}

func rect(x0, y0, x1, y1 float64) []d.XY { return path(x0, y0, x1, y0, x1, y1, x0, y1) }

func lapSection() d.Section {
	base := []d.Part{
		{Kind: d.Solid, Material: "insulation", Path: rect(0, 80, 600, 220)},
		{Kind: d.Solid, Material: "timber-end", Path: rect(270, 80, 330, 220)},
		{Kind: d.Solid, Material: "panel", Path: rect(0, 220, 600, 240)},
		{Kind: d.Sheet, Path: path(0, 80, 370, 80), Name: "first strip"},
	}
	after := append(append([]d.Part{}, base...),
		d.Part{Kind: d.Sheet, Path: path(270, 80, 600, 80), Name: "second strip, lapped over the first"},
		d.Part{Kind: d.Tape, Path: path(245, 80, 315, 80)},
		d.Part{Kind: d.Staple, Path: path(350, 80)},
		d.Part{Kind: d.Dimension, Path: path(270, 45, 370, 45)},
		d.Part{Kind: d.Number, Step: 2, Path: path(480, 40, 440, 80)},
		d.Part{Kind: d.Number, Step: 3, Path: path(180, 40, 250, 80)},
		d.Part{Kind: d.Label, Text: "Tape centred on the edge", Path: path(110, 20, 258, 80)},
		d.Part{Kind: d.Label, Text: "Stud", Path: path(440, 265, 310, 180)},
	)
	before := append(append([]d.Part{}, base...), d.Part{Kind: d.Number, Step: 1, Path: path(120, 40, 140, 76)},
		d.Part{Kind: d.Label, Text: "Insulation flush with the stud", Path: path(460, 30, 430, 110)})
	return d.Section{Title: "Upright lap on a stud", Width: 600, Height: 290, Frames: []d.Frame{{Caption: "Before", Parts: before}, {Caption: "After", Parts: after}}}
}

func cornerSection() d.Section {
	return d.Section{Title: "Wall to slab with every mark", Width: 500, Height: 420, Frames: []d.Frame{{Parts: []d.Part{
		{Kind: d.Solid, Material: "ground", Path: rect(-50, -50, 550, 40)},
		{Kind: d.Solid, Material: "concrete", Path: rect(-20, 40, 520, 120)},
		{Kind: d.Solid, Material: "masonry", Path: rect(-10, 120, 110, 450)},
		{Kind: d.Solid, Material: "plaster", Path: rect(110, 120, 125, 450)},
		{Kind: d.Solid, Material: "timber-along", Path: rect(330, 120, 520, 150)},
		{Kind: d.Solid, Material: "glass", Path: rect(440, 240, 470, 440)},
		{Kind: d.Solid, Material: "metal", Path: rect(420, 220, 490, 240)},
		{Kind: d.Solid, Material: "air", Path: rect(360, 330, 420, 410)},
		{Kind: d.Primer, Path: path(125, 136, 125, 190)},
		{Kind: d.Sheet, Path: path(125, 440, 125, 120, 320, 120)},
		{Kind: d.Fold, Path: path(128, 330, 150, 330)},
		{Kind: d.Tape, Path: path(125, 220, 125, 120, 210, 120)},
		{Kind: d.Bead, Path: path(240, 117, 262, 117, 284, 117)},
		{Kind: d.Adhesive, Path: path(290, 128, 328, 128)},
		{Kind: d.Collar, Path: path(260, 300, 340, 300)},
		{Kind: d.Membrane, Path: path(260, 260, 340, 260)},
		{Kind: d.Screw, Path: path(125, 270, 60, 270)},
		{Kind: d.Dimension, Path: path(210, 190, 210, 124), Text: "60"},
		{Kind: d.Label, Text: "Bead 5 to 8 mm, unbroken, pressed flat", Path: path(390, 200, 270, 124)},
		{Kind: d.Number, Step: 1, Path: path(180, 380, 134, 380)},
		{Kind: d.Number, Step: 2, Path: path(240, 210, 134, 200)},
		{Kind: d.Label, Text: "Sheet", Path: path(190, 400, 130, 410)},
	}}}}
}

func tallSection() d.Section {
	f := d.Frame{Caption: "Before", Parts: []d.Part{
		{Kind: d.Solid, Material: "timber-end", Path: rect(40, 0, 90, 500)},
		{Kind: d.Solid, Material: "plasterboard", Path: rect(90, 0, 103, 500)},
		{Kind: d.Sheet, Path: path(90, 0, 90, 500)},
		{Kind: d.Label, Text: "Cut back", Path: path(170, 250, 100, 240)},
	}}
	g := f
	g.Caption = "After"
	return d.Section{Title: "Tall", Width: 250, Height: 500, Frames: []d.Frame{f, g}}
}

func sections() map[string]d.Section {
	return map[string]d.Section{"lap": lapSection(), "corner": cornerSection(), "tall": tallSection()}
}

func mm(v float64) q.MM { return q.MM(v) }
