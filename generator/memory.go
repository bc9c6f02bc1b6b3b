package generator

import "runtime/debug"

// What the garbage collector is told, for packs of large jobs on small machines. It tries to stay within softMemory, and
// below that it waits for five times what is in use, not twice: a small job is over before it first collects much.
const (
	softMemory    = 900 << 20
	growthPercent = 400
)

// TuneMemory sets the garbage collector for making packs. limit and growth say whether each is to be set: what a person set
// in the environment stands. It holds for the whole process, so only a program's main and the benchmarks call it.
func TuneMemory(limit, growth bool) {
	if limit {
		debug.SetMemoryLimit(softMemory)
	}
	if growth {
		debug.SetGCPercent(growthPercent)
	}
}
