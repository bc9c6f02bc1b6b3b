// Package sorting sorts lists of structs with one piece of code for all of them. The sorts of package slices are made anew
// for every struct, 17 kB of program each, the stable one 8 kB: that pays where a sort is hot. Those for pointers are
// shared, those for numbers and strings are few; such lists stay with slices.
package sorting

import "sort"

// Func sorts as slices.SortFunc does: where elements compare as equal too, both leave them in the same order.
func Func[E any](list []E, compare func(a, b E) int) {
	sort.Slice(list, func(i, j int) bool { return compare(list[i], list[j]) < 0 })
}

// StableFunc sorts as slices.SortStableFunc does: elements that compare as equal keep their order.
func StableFunc[E any](list []E, compare func(a, b E) int) {
	sort.SliceStable(list, func(i, j int) bool { return compare(list[i], list[j]) < 0 })
}
