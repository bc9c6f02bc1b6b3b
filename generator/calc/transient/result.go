package transient

import q "lapwork/generator/quantity"

// Result is a run. The yearly figures are those of its last year; days count from 1 at the start of the climate.
type Result struct {
	Layers     []LayerYear
	Interfaces []InterfaceYear
	Years      int
	Steady     bool        // the last year repeated the one before within Options.Settled
	Change     MassPerArea // largest change of a layer or plane over the last year
	Gain       MassPerArea // of the whole build-up over the last year; below 0: it still dries
	Drying     Drying
	Balance    Balance
	Profiles   []Profile
	Effort     Effort
}

// LayerYear is a layer over the last year. Water is what the material holds and what stands free inside it; a film has none.
type LayerYear struct {
	Name               string
	Water              []MassPerArea // at the end of each day
	Lowest, Mean, Most Content       // mean over the thickness
	Limit              Content       // as stated with the layer; 0: none
}

// InterfaceYear is the plane between two layers over the last year, or a surface.
type InterfaceYear struct {
	Inner, Outer string          // the layers it parts; "" is the air
	Limits       []q.Ratio       // of Options
	Above        []Hours         // hours above each of Limits
	Counted      []Hours         // hours above the first of Limits so far, at the end of each day
	Humidity     []q.Ratio       // mean of each day
	Temperature  []q.Temperature // mean of each day
	Highest      q.Ratio         // of the daily means
	Free         []MassPerArea   // water that no material takes up, at the end of each day
	MostFree     MassPerArea
}

// Drying is how the water of the start leaves.
type Drying struct {
	Days      int // days until nine tenths of the water above (or below) the steady year's had gone; -1: not within the run
	FreeUntil int // last day on which free water stood anywhere; 0: never
}

// Balance is what the balances leave open over the whole run, and what went through the build-up to compare with.
type Balance struct {
	Water, WaterMoved MassPerArea
	Heat, HeatMoved   EnergyPerArea
}

// Profile is the state across the build-up at the end of a day.
type Profile struct {
	Day int
	At  []Plane
}

// Plane is the state at a depth from the inner surface. Content is that of the material on the outer side of the plane;
// at the outer surface, of the last material.
type Plane struct {
	Depth       q.Length
	Temperature q.Temperature
	Humidity    q.Ratio
	Pressure    q.Pressure
	Content     Content
	Free        MassPerArea
}

// Effort is the work of a run.
type Effort struct{ Nodes, Steps, Rejected, Iterations int }
