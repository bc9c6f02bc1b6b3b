package pack

import "testing"

// TestStepsAfterAGapSayTheirNumber: browsers disagree on how a list counts on from an item with a number of its own, so
// every step whose number is not its place carries it.
func TestStepsAfterAGapSayTheirNumber(t *testing.T) {
	got := counted([]Step{{No: 1}, {No: 2}, {No: 6}, {No: 7}, {No: 10}})
	for i, want := range []int{0, 0, 6, 7, 10} {
		if got[i].Jump != want {
			t.Errorf("step %d carries %d, want %d", got[i].No, got[i].Jump, want)
		}
	}
}
