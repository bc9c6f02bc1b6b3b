package transient

import (
	"context"
	"math"
)

// Simulate runs a build-up through its climate, year after year until one year repeats the one before, or Options.Years
// are over. At most Options.Steps steps are taken. The same inputs give the same result to the last bit. Errors: ErrInput, MissingStorage, ErrSteps, ErrDiverged,
// or the context's; the result then is empty.
func Simulate(ctx context.Context, w Wall, hours Climate, o Options) (Result, error) {
	o, err := o.filled()
	if err != nil {
		return Result{}, err
	}
	if err := w.check(); err != nil {
		return Result{}, err
	}
	c, err := hours.compile()
	if err != nil {
		return Result{}, err
	}
	s := &solver{noLatent: o.DryHeat}
	s.build(w, o.Cells)
	s.begin(w)
	return s.run(ctx, w, &c, o)
}

func (s *solver) run(ctx context.Context, w Wall, c *climate, o Options) (Result, error) {
	r := newRecorder(s, w, o)
	p := &pace{longest: float64(o.Longest) * hour, tError: float64(o.TError), uError: float64(o.RHError), limit: o.Steps, dt: 60}
	startW, startH := s.water(), s.warmth()
	var out Result
	days := int(c.hours()) / 24
	for year := 1; year <= o.Years; year++ {
		r.year()
		before, held := s.stock(len(w.Layers)), s.water()
		for d := range days {
			if err := s.day(ctx, c, p, float64(24*d), float64(24*d+24), r.step); err != nil {
				return Result{}, err
			}
			day := (year-1)*days + d + 1
			r.day(day)
			if k := len(out.Profiles); k < len(o.Profiles) && o.Profiles[k] == day {
				out.Profiles = append(out.Profiles, s.profile(day))
			}
		}
		out.Years = year
		out.Change = MassPerArea(largestChange(before, s.stock(len(w.Layers))))
		out.Gain = MassPerArea(s.water() - held)
		out.Steady = out.Change <= o.Settled
		if out.Steady && !o.AllYears {
			break
		}
	}
	r.finish()
	out.Layers, out.Interfaces = r.layers, r.planes
	out.Drying = r.drying(days, out.Steady, o.Settled)
	out.Balance = r.moved
	out.Balance.Water = MassPerArea(math.Abs(s.water() - startW - r.net.water))
	out.Balance.Heat = EnergyPerArea(math.Abs(s.warmth() - startH - r.net.heat))
	out.Effort = Effort{len(s.nodes), p.steps, p.rejected, p.iterations}
	return out, nil
}

// stock is the water of every layer, then of every plane.
func (s *solver) stock(layers int) []float64 {
	out := s.layerWater(layers)
	for _, i := range s.interfaces {
		out = append(out, s.nodes[i].free())
	}
	return out
}

func largestChange(a, b []float64) (most float64) {
	for i := range a {
		most = max(most, math.Abs(a[i]-b[i]))
	}
	return most
}

// drying compares every day with the same day of the last year. A run that found no steady year has no drying time.
func (r *recorder) drying(days int, steady bool, settled MassPerArea) Drying {
	d := Drying{Days: -1, FreeUntil: r.free}
	if !steady {
		return d
	}
	last := r.total[len(r.total)-days-1:]
	start := math.Abs(r.total[0] - last[0])
	d.Days = 0
	if start <= float64(settled) {
		return d // it started as it goes on
	}
	for i, w := range r.total {
		if math.Abs(w-last[i%days]) > start/10 {
			d.Days = i + 1
		}
	}
	return d
}
