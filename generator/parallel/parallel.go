// Package parallel does one thing many times on all processors and gives the results in order, so that a run's bytes do
// not depend on how many there are.
package parallel

import (
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
)

// Map gives do(0) to do(n-1) in order.
func Map[T any](n int, do func(i int) T) []T {
	out := make([]T, n)
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				out[i] = do(i)
			}
		})
	}
	workers.Wait()
	return out
}

// Try is Map for what may fail. All are tried; their errors come joined in order.
func Try[T any](n int, do func(i int) (T, error)) ([]T, error) {
	errs := make([]error, n)
	out := Map(n, func(i int) T {
		v, err := do(i)
		errs[i] = err
		return v
	})
	return out, errors.Join(errs...)
}
