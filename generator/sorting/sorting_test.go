package sorting

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
)

// pair has a key that many share, and a number that tells those apart.
type pair struct {
	key, no int
	_       [3]string // larger than what a swap has a short way for
}

func byKey(a, b pair) int { return cmp.Compare(a.key, b.key) }

// pairs are up to 300 elements: beyond 12 the sort divides, beyond 50 it picks its pivots otherwise, and the stable one
// merges blocks of 20.
func pairs(t *rapid.T) []pair {
	keys := rapid.SliceOfN(rapid.IntRange(0, 30), 0, 300).Draw(t, "keys")
	out := make([]pair, len(keys))
	for i, k := range keys {
		out[i] = pair{key: k, no: i}
	}
	return out
}

// Both give what package slices gives, down to the order of equal elements.
func TestSortsAsSlicesDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := pairs(t)
		for name, sorts := range map[string][2]func([]pair){
			"Func":       {func(l []pair) { Func(l, byKey) }, func(l []pair) { slices.SortFunc(l, byKey) }},
			"StableFunc": {func(l []pair) { StableFunc(l, byKey) }, func(l []pair) { slices.SortStableFunc(l, byKey) }},
		} {
			got, want := slices.Clone(list), slices.Clone(list)
			sorts[0](got)
			sorts[1](want)
			if !slices.Equal(got, want) {
				t.Fatalf("%s: %v, package slices %v", name, got, want)
			}
		}
	})
}
