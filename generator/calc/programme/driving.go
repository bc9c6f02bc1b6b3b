package programme

import (
	"slices"

	q "lapwork/generator/quantity"
)

func minutes(n int) q.Minutes { return q.Minutes(n) }

// driving traces the levelled plan back from its end through whatever set each start; where a crew did,
// through the activity that set it free.
func (n *network) driving(slots []Slot, end Instant) []string {
	last := -1
	for _, i := range n.order {
		if slots[i].Finish == end {
			last = i
		}
	}
	var ids []string
	for last >= 0 {
		ids = append(ids, slots[last].ID)
		by := slots[last].SetBy
		if by == SetByCrew {
			by = slots[last].FreedBy
		}
		next, ok := n.index[by]
		if !ok {
			break
		}
		last = next
	}
	slices.Reverse(ids)
	return ids
}
