package transient

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// Options say how a run is done. The zero value of each field takes its default.
type Options struct {
	Years    int           // most years; default 10, at most 100
	Settled  MassPerArea   // the year is steady when no layer or plane changed by more than this over it; default 0.005
	Steps    int           // most time steps, rejected ones counted; default 2 000 000
	Longest  Hours         // longest time step; default 3, at most 24
	TError   q.Temperature // allowed error of a step, mean over the build-up; default 0.4 K
	RHError  q.Ratio       // the same for humidity; default 0.008
	Cells    Mesh          // default 2 mm at the faces of a layer, growing by 1.8 to at most 30 mm; finer where liquid moves
	Limits   []q.Ratio     // humidities whose hours are counted at each interface; default 0.80, 0.95
	Profiles []int         // days after the start, rising, at whose end the whole profile is kept
	AllYears bool          // run all Years, steady or not
	DryHeat  bool          // leave latent heat and the heat of water out, to compare with methods that do
}

func (o Options) filled() (Options, error) {
	if o.Years == 0 {
		o.Years = 10
	}
	if o.Settled == 0 {
		o.Settled = 0.005
	}
	if o.Steps == 0 {
		o.Steps = 2_000_000
	}
	if o.Longest == 0 {
		o.Longest = 3
	}
	if o.TError == 0 {
		o.TError = 0.4
	}
	if o.RHError == 0 {
		o.RHError = 0.008
	}
	if o.Cells == (Mesh{}) {
		o.Cells = Mesh{First: 0.002, Growth: 1.8, Largest: 0.03}
	}
	if len(o.Limits) == 0 {
		o.Limits = []q.Ratio{0.80, 0.95}
	}
	return o, o.check()
}

func (o Options) check() error {
	ok := o.Years >= 1 && o.Years <= 100 && o.Steps >= 1 && within(float64(o.Settled), 1e-9, 100) &&
		within(float64(o.Longest), 0.01, 24) && within(float64(o.TError), 1e-4, 5) && within(float64(o.RHError), 1e-6, 0.5) &&
		within(float64(o.Cells.First), 1e-5, 1) && within(float64(o.Cells.Largest), float64(o.Cells.First), 10) && within(o.Cells.Growth, 1, 5)
	for _, l := range o.Limits {
		ok = ok && within(float64(l), 0, 1)
	}
	for i, d := range o.Profiles {
		ok = ok && d >= 1 && (i == 0 || d > o.Profiles[i-1])
	}
	if !ok {
		return fmt.Errorf("%w: options %+v", ErrInput, o)
	}
	return nil
}
