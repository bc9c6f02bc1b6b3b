package page

import (
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
)

// each does n pieces of work side by side, as many at a time as there are processors, and gives results and errors in
// order, so that the outcome does not depend on which is done first.
func each[T any](n int, do func(i int) (T, error)) ([]T, error) {
	out, errs := make([]T, n), make([]error, n)
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				out[i], errs[i] = do(i)
			}
		})
	}
	workers.Wait()
	return out, errors.Join(errs...)
}
