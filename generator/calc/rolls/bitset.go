package rolls

import "math/bits"

// bitset is a set of lengths 0..n in units.
type bitset []uint64

func newBitset(n int) bitset { return make(bitset, n/64+1) }

func (b bitset) has(i int) bool { return b[i>>6]>>(i&63)&1 == 1 }

func (b bitset) set(i int) { b[i>>6] |= 1 << (i & 63) }

// orShift sets b to src united with src moved up by n. b and src have one length and may be the same.
func (b bitset) orShift(src bitset, n int) {
	words, low := n>>6, n&63
	for i := len(b) - 1; i >= 0; i-- {
		v := src[i]
		if j := i - words; j >= 0 {
			v |= src[j] << low
			if low > 0 && j > 0 {
				v |= src[j-1] >> (64 - low)
			}
		}
		b[i] = v
	}
}

// highest gives the largest member <= n, or -1.
func (b bitset) highest(n int) int {
	i := n >> 6
	w := b[i] & (^uint64(0) >> (63 - n&63))
	for w == 0 {
		if i--; i < 0 {
			return -1
		}
		w = b[i]
	}
	return i<<6 + 63 - bits.LeadingZeros64(w)
}

// chunks calls f with the binary pieces of n: 1, 2, 4, ..., rest, largest number first, so that any 0..n can be made.
func chunks(n int, f func(k int) (more bool)) {
	for n > 0 {
		k := (n + 1) / 2
		n -= k
		if !f(k) {
			return
		}
	}
}
