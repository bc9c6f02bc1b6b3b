// Package climate holds outdoor climates by month: the table of the trade, and what an hourly weather file in the EPW form
// gives when it is averaged.
//
//	te  mean temperature                          °C
//	rh  mean relative humidity, over liquid water share of one
//	pe  mean of the hourly vapour pressures       Pa
//
// pe is the mean of pressures, never the pressure of the means: for a cold month they lie 15 % apart. The humidity of a
// weather record refers to liquid water also below 0 °C; read over ice it gives some percent less there, and both are
// kept.
package climate

import (
	q "lapwork/generator/quantity"
)

// Month is the mean climate of a month.
type Month struct {
	Month     int // 1 to 12
	Hours     int // behind the means
	Missing   int // hours without temperature or humidity, left out of the means
	Te        q.Temperature
	RH        q.Ratio
	Pressure  q.Pressure // of the air; 0: not known
	Pe        q.Pressure // humidity read over liquid water
	PeOverIce q.Pressure // humidity read over ice below freezing
}

// Climate is a place with twelve months, January first.
type Climate struct {
	ID, Name, Country string
	Months            [12]Month
	Source            q.Source
}
