package drawing_test

import (
	"fmt"

	d "lapwork/generator/drawing"
	q "lapwork/generator/quantity"
)

// levelLayout makes a rectangular wall with level strips of a 1500 mm roll, laps of 100 mm and studs at 600 mm.
func levelLayout(id string, wide, tall float64) d.StripLayout {
	l := d.StripLayout{Surface: id, Name: "north wall", Outline: rect(0, 0, wide, tall)}
	no := 0
	for y := 0.0; y < tall; y += 1400 {
		no++
		top := min(y+1500, tall)
		s := d.StripMark{No: no, ID: fmt.Sprintf("%s/%d", id, no)}
		if wide > 9000 && no == 1 {
			s.Pieces = []d.PieceMark{{Outline: rect(0, y, 7250, top), Cut: 7410, Roll: "R1"}, {Outline: rect(7150, y, wide, top), Cut: mm(wide - 7150 + 160), Roll: "R2"}}
			l.EndJoints = append(l.EndJoints, d.JointMark{ID: id + "/1.1+1.2", From: d.XY{X: 7200, Y: y}, To: d.XY{X: 7200, Y: top}, Offset: 7200})
			l.Laps = append(l.Laps, d.LapMark{ID: id + "/1.1+1.2", Outline: rect(7150, y, 7250, top), Width: 100})
		} else {
			s.Pieces = []d.PieceMark{{Outline: rect(0, y, wide, top), Cut: mm(wide + 120), Roll: "R3"}}
		}
		l.Strips = append(l.Strips, s)
		l.Heights = append(l.Heights, d.SetOut{At: mm(top), Value: mm(top)})
		if no > 1 {
			l.Laps = append(l.Laps, d.LapMark{ID: fmt.Sprintf("%s/%d+%d", id, no-1, no), Outline: rect(0, y, wide, y+100), Width: 100})
			l.Heights = append(l.Heights, d.SetOut{At: mm(y), Value: mm(y)})
		}
	}
	for x := 0.0; x <= wide; x += 600 {
		l.Members = append(l.Members, d.MemberLine{From: d.XY{X: x}, To: d.XY{X: x, Y: tall}, Offset: mm(x)})
	}
	l.Edges = []d.EdgeMark{{No: 1, ID: id + "+C1", From: d.XY{Y: tall}, To: d.XY{X: wide, Y: tall}}, {No: 2, ID: id + "+W4", From: d.XY{X: wide}, To: d.XY{X: wide, Y: tall}},
		{No: 4, ID: id + "+F1", From: d.XY{}, To: d.XY{X: wide}}, {No: 3, ID: id + "+W2", From: d.XY{}, To: d.XY{Y: tall}}}
	return l
}

// uprightLayout makes upright strips over any outline given by its height at x.
func uprightLayout(id string, outline []d.XY, wide float64, top func(x float64) float64) d.StripLayout {
	l := d.StripLayout{Surface: id, Outline: outline}
	no := 0
	for x := 0.0; x < wide; x += 1400 {
		no++
		right := min(x+1500, wide)
		var up []d.XY
		for i := range 11 {
			at := right - (right-x)*float64(i)/10
			up = append(up, d.XY{X: at, Y: top(at)})
		}
		piece := append(path(x, 0, right, 0), up...)
		l.Strips = append(l.Strips, d.StripMark{No: no, ID: fmt.Sprintf("%s/%d", id, no), Pieces: []d.PieceMark{{Outline: piece, Cut: mm(max(top(x), top(right)) + 160), Roll: fmt.Sprintf("R%d", no)}}})
		l.Offsets = append(l.Offsets, d.SetOut{At: mm(right), Value: mm(right)})
		if no > 1 {
			l.Laps = append(l.Laps, d.LapMark{ID: fmt.Sprintf("%s/%d+%d", id, no-1, no), Outline: path(x, 0, x+100, 0, x+100, top(x+100), x, top(x)), Width: 100})
			l.Offsets = append(l.Offsets, d.SetOut{At: mm(x), Value: mm(x)})
		}
	}
	for x := 450.0; x < wide; x += 625 {
		l.Members = append(l.Members, d.MemberLine{From: d.XY{X: x}, To: d.XY{X: x, Y: top(x)}, Offset: mm(x)})
	}
	return l
}

// joists lays the members of a layout level, from side to side, pitch apart.
func joists(l d.StripLayout, wide, tall, pitch float64) d.StripLayout {
	l.Members = nil
	for y := 0.0; y <= tall; y += pitch {
		l.Members = append(l.Members, d.MemberLine{From: d.XY{Y: y}, To: d.XY{X: wide, Y: y}, Offset: mm(y)})
	}
	return l
}

func layouts() map[string]d.StripLayout {
	small := levelLayout("B2-W1", 1000, 2620)
	small.Penetrations = []d.HoleMark{{ID: "B2-P01", At: d.XY{X: 300, Y: 300}, Diameter: 110}, {ID: "B2-P02", At: d.XY{X: 420, Y: 320}, Diameter: 25}, {ID: "B2-P03", At: d.XY{X: 360, Y: 420}, Width: 70, Height: 70}}
	long := levelLayout("B2-W3", 14000, 2620)
	long.Openings = []d.OpeningMark{{ID: "B2-O1", Outline: rect(1200, 850, 2700, 2200), Sill: 850, HasSill: true}, {ID: "B2-O2", Outline: rect(4100, 0, 5110, 2135)}, {ID: "B2-O3", Outline: rect(10200, 1600, 10700, 2200), Sill: 1600, HasSill: true}}
	long.Penetrations = []d.HoleMark{{ID: "B2-P04", At: d.XY{X: 8300, Y: 320}, Diameter: 110}, {ID: "B2-P05", At: d.XY{X: 12000, Y: 1450}, Diameter: 160}}
	gableTop := func(x float64) float64 { return 1200 + min(x, 8200-x)*0.7 }
	gable := uprightLayout("A1-G2", path(0, 0, 8200, 0, 8200, 1200, 4100, 1200+4100*0.7, 0, 1200), 8200, gableTop)
	gable.Openings = []d.OpeningMark{{ID: "A1-O4", Outline: rect(3400, 900, 4800, 2100), Sill: 900, HasSill: true}}
	gable.Penetrations = []d.HoleMark{{ID: "A1-P01", At: d.XY{X: 6000, Y: 600}, Diameter: 50}}
	slope := levelLayout("A1-S1", 6400, 4300)
	slope.Facing = d.Sloping
	slope.Openings = []d.OpeningMark{{ID: "A1-O7", Outline: rect(2600, 1700, 3380, 3100)}}
	ceiling := uprightLayout("B2-C1", path(0, 0, 4200, 0, 4200, 3600, 0, 3600), 4200, func(float64) float64 { return 3600 })
	ceiling.Facing = d.Overhead
	for i := range 8 {
		ceiling.Penetrations = append(ceiling.Penetrations, d.HoleMark{ID: fmt.Sprintf("B2-P%02d", 10+i), At: d.XY{X: 2000 + 90*float64(i%4), Y: 1700 + 100*float64(i/4)}, Diameter: q.MM(60)})
	}
	ceiling.Edges = []d.EdgeMark{{ID: "B2-W1+C1", From: d.XY{}, To: d.XY{X: 4200}}, {ID: "B2-W2+C1", From: d.XY{X: 4200}, To: d.XY{X: 4200, Y: 3600}}, {ID: "B2-W3+C1", From: d.XY{Y: 3600}, To: d.XY{X: 4200, Y: 3600}}, {ID: "B2-W4+C1", From: d.XY{}, To: d.XY{Y: 3600}}}
	level := joists(ceiling, 4200, 3600, 400)
	level.Surface = "B2-C2"
	return map[string]d.StripLayout{"level": level, "small": small, "long": long, "gable": gable, "slope": slope, "ceiling": ceiling}
}
