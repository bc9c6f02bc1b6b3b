package drawing_test

import (
	"math"

	d "lapwork/generator/drawing"
)

// The values are invented.
func charts() map[string]d.Figure {
	fan := d.FanPlot{Title: "Interim test", Name: "Pressurised", Coefficient: 21.4, Exponent: 0.652}
	back := d.FanPlot{Name: "Depressurised", Coefficient: 19.9, Exponent: 0.671}
	for i := range 8 {
		dp := 15 + 7*float64(i)
		fan.Pressure, fan.Flow = append(fan.Pressure, dp), append(fan.Flow, 21.4*math.Pow(dp, 0.652)*(1+0.02*math.Sin(float64(3*i))))
		back.Pressure, back.Flow = append(back.Pressure, dp+2), append(back.Flow, 19.9*math.Pow(dp+2, 0.671)*(1+0.015*math.Cos(float64(5*i))))
	}
	fan.Second = &back
	var t, in, out []float64
	for i := range 96 {
		t, in, out = append(t, float64(i)/24), append(in, 19+2*math.Sin(float64(i)/4)), append(out, 3+5*math.Sin(float64(i)/4+1))
	}
	return map[string]d.Figure{
		"fan":  fan,
		"time": d.Chart{Title: "Temperature by the sheet", X: d.Axis{Label: "Day"}, Y: d.Axis{Label: "Temperature, °C"}, Series: []d.Series{{Name: "inside", X: t, Y: in, Line: true, Mark: d.NoMark, Ink: d.TapeInk}, {Name: "outside", X: t, Y: out, Line: true, Dashed: true, Mark: d.NoMark, Ink: d.Accent}}, Levels: []d.Level{{Name: "5 °C: least for the tape", Value: 5}}},
		"vapour": d.Chart{Title: "Vapour pressure through the wall", X: d.Axis{Label: "sd, m"}, Y: d.Axis{Label: "Vapour pressure, Pa"},
			Bands: []d.Band{{Name: "sheet", From: 0, To: 2}, {Name: "insulation", From: 2, To: 2.24}, {Name: "panel", From: 2.24, To: 3.4}, {Name: "render", From: 3.4, To: 3.9}, {Name: "wet", From: 2.24, To: 2.24, Hatched: true}},
			Series: []d.Series{{Name: "saturation", X: []float64{0, 2, 2.24, 3.4, 3.9}, Y: []float64{2300, 2250, 700, 640, 600}, Line: true, Mark: d.Ring, Ink: d.Accent},
				{Name: "vapour pressure", X: []float64{0, 3.9}, Y: []float64{1285, 480}, Line: true, Mark: d.Disc, Ink: d.StopInk, Dashed: true}}},
		"bars": d.Bars{Title: "Leakage budget", Label: "m³/h at 50 Pa", Limit: 240, LimitName: "Target 240", Rows: []d.BarRow{{Name: "Wall to ceiling junctions", To: 62, Text: "62 m³/h"}, {Name: "Windows and doors, joints to the frame", To: 88, Text: "88 m³/h"}, {Name: "Penetrations", To: 31, Text: "31 m³/h", Ink: d.Warn}, {Name: "All", To: 181, Text: "181 of 240", Ink: d.DoneInk}}},
		"schedule": d.Schedule{Title: "Programme", Label: "Working day", Rows: []d.TaskRow{{Name: "Prepare, prime", Bars: []d.Span{{From: 0, To: 1.5}}}, {Name: "Hang ceilings", Bars: []d.Span{{From: 1.5, To: 4}}},
			{Name: "Hang walls", Bars: []d.Span{{From: 4, To: 7}, {From: 8, To: 9}}, Hold: "H2 laps before boarding"}, {Name: "Seal penetrations", Bars: []d.Span{{From: 6, To: 9}}}, {Name: "Interim fan test", Bars: []d.Span{{From: 9, To: 10}}, Hold: "H4 test"}}},
	}
}
