// Package strips lays strips of sheet over a plane surface: which bands, where each piece starts and ends, where seams
// and end joints fall, and what tape they take. The arrangement is the exact optimum on whole millimetres.
//
// Terms and symbols (A planar outline P with holes, all lengths in whole millimetres):
//
//	u, v    the axes along and across the strips; level strips: u = x, v = y; upright strips: u = y, v = x
//	W       roll width; a strip at v covers the open band (v, v+W)
//	L       minimum lap; the next strip starts at v+W-L at the latest
//	E       end allowance at each end of a strip
//	D       cover domain: P turned outwards over each edge (mitred) less the holes shrunk by the sheet kept in the reveal
//	G       stop gap: a gap in D across the whole band of at least G stops the strip, a shorter one is run through
//	M       longest piece two people handle; J the overlap where two pieces of one strip are joined
//
// A widest lap may be set: an arrangement with a wider one is then taken only where the backing allows no other. The best
// arrangement of all is looked for first; where its laps keep the limit it is the best of those as well.
//
// A strip costs what its own position makes it cost and only the distance to the next one couples them, so the best
// arrangement is a shortest path over positions. Surfaces with right angles only need the positions chained by tight laps
// to a corner, a seam position or their shift by W or L (between two of them nothing changes); surfaces with slopes are
// searched on every millimetre, because lengths are rounded up to the millimetre. Corners are kept as fractions on a
// common denominator, never as rounded decimals, because edges often coincide with band lines.
//
// Strips are numbered in working order: level runs from the lower edge upwards, upright drops from the left. Among equal
// arrangements the one with the largest first position, then the largest second ... is taken, so the first strip is
// whole wherever that costs nothing, and the last one is ripped.
//
// Figures such as a lap of 100 mm or an allowance of 50 mm are the caller's; nothing of the kind is fixed here.
package strips
