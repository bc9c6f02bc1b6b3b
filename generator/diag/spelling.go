package diag

import "math"

// Distance counts the letters, in bytes, to add, drop, swap or change to make a into b, for hints about the spelling. Words that
// are long, or differ in length by more than three, are as far apart as can be: nobody meant the one by the other, and
// a hostile word must not take time.
func Distance(a, b string) int {
	if len(a) > 64 || len(b) > 64 || len(a) > len(b)+3 || len(b) > len(a)+3 {
		return math.MaxInt
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
