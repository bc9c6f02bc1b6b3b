package share

import (
	"sync"
	"time"
)

// limiter lets each name act burst times at once and then once in every. The zero value of every lets all pass.
type limiter struct {
	every time.Duration
	burst int

	mu   sync.Mutex
	full map[string]time.Time // when a name's allowance is whole again
}

// maxNames bounds what a limiter remembers. Own choice.
const maxNames = 4096

// allow takes one from the name's allowance, or says how long to wait.
func (l *limiter) allow(name string, now time.Time) (wait time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.full == nil {
		l.full = map[string]time.Time{}
	}
	full := l.full[name]
	if full.Before(now) {
		full = now
	}
	next := full.Add(l.every)
	if over := next.Sub(now) - l.every*time.Duration(l.burst); over > 0 {
		return over
	}
	if len(l.full) >= maxNames {
		l.forget(now)
	}
	l.full[name] = next
	return 0
}

// forget drops names whose allowance is whole, and where none is, all: better a stranger more than no memory left.
func (l *limiter) forget(now time.Time) {
	for name, full := range l.full {
		if !full.After(now) {
			delete(l.full, name)
		}
	}
	if len(l.full) >= maxNames {
		clear(l.full)
	}
}
