package condensation

// Screened is an element with humidity-variable layers, seen with and without their variation.
type Screened struct {
	Variable Result   // with sd by humidity: a screening
	Fixed    []Result // with constants: the declared one, or each end of the curve where none is declared
	Verdict  Verdict  // the worst of all
	Helped   bool     // with sd by humidity alone the part would look better: not accepted
}

// Screen runs an element with humidity-variable layers by their curves, and beside it with constant sd as the standard
// asks. A result with variation never turns a fail into a pass: the verdict is the worst of all runs. Without variable
// layers it is the plain run.
func Screen(e Element, y Year, o Options) (Screened, error) {
	var out Screened
	var err error
	if out.Variable, err = Run(e, y, o); err != nil {
		return Screened{}, err
	}
	out.Verdict = out.Variable.Verdict
	if !e.variable() {
		return out, nil
	}
	for _, greatest := range []bool{false, true} {
		fixed, declared := e.fixed(greatest)
		r, err := Run(fixed, y, o)
		if err != nil {
			return Screened{}, err
		}
		out.Fixed = append(out.Fixed, r)
		out.Verdict = out.Verdict.Worse(r.Verdict)
		if declared {
			break
		}
	}
	out.Helped = out.Verdict > out.Variable.Verdict
	return out, nil
}

// fixed is the element with constants instead of curves; declared says that every variable layer states one.
func (e Element) fixed(greatest bool) (out Element, declared bool) {
	out, declared = e, true
	out.Layers = append([]Layer(nil), e.Layers...)
	for i, l := range out.Layers {
		if l.Curve == nil {
			continue
		}
		if l.Sd <= 0 {
			declared = false
			least, most := l.Curve.Range()
			if l.Sd = least; greatest {
				l.Sd = most
			}
		}
		l.Curve = nil
		out.Layers[i] = l
	}
	return out, declared
}
