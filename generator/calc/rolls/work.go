package rolls

import "context"

// meter counts work. Once it is out of work every loop ends with the best it has.
type meter struct {
	ctx        context.Context
	used, most int64
	sinceCheck int64
	aborted    bool
}

// checkEvery is the work between two looks at the context, some milliseconds.
const checkEvery = 2_000_000

// spend takes n units and reports whether work may go on.
func (w *meter) spend(n int) bool {
	w.used += int64(n)
	w.sinceCheck += int64(n)
	if w.sinceCheck > checkEvery {
		w.sinceCheck = 0
		w.aborted = w.aborted || w.ctx.Err() != nil
	}
	return !w.out()
}

// out reports whether the work is used up.
func (w *meter) out() bool { return w.aborted || w.used >= w.most }

// slice runs f with at most share of the work that is left.
func (w *meter) slice(share float64, f func()) {
	most := w.most
	w.most = min(most, w.used+int64(float64(most-w.used)*share))
	f()
	w.most = most
}
