// Package lawtest fixes the seed of the property tests, so that a run tells the same on every machine. A test imports it
// for this effect. The flag -rapid.seed on the command line wins, so that one random seed more can be tried.
package lawtest

import (
	"flag"

	_ "pgregory.net/rapid" // registers its flags before this package sets one
)

// Seed is the seed of every property test.
const Seed = "20261125"

func init() {
	if err := flag.Set("rapid.seed", Seed); err != nil {
		panic("lawtest: rapid no longer has a flag for its seed: " + err.Error())
	}
}
