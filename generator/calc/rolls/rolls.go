// Package rolls cuts the strips of one delivery from rolls at the least cost, and says how far from the optimum the
// plan can be at most: the one-dimensional cutting stock problem with several roll lengths, prices and stocks.
//
//	l_i, d_i       length and number of the pieces of one length      mm, -
//	R_t, c_t, s_t  length, cost and supply of a roll type             mm, smallest coin, -
//	a_ip           pieces of length i in cutting pattern p            sum of l_i a_ip <= R_t, a_ip <= d_i
//	x_p            rolls cut by pattern p                             minimise sum of c_t x_p, each piece cut once
//
// Stages, each stopping as soon as cost and lower bound meet: bounds from lengths (bounds.go, cover.go), greedy plans
// (mixes.go, greedy.go), thinning of large deliveries (thin.go), exact packing of small ones (pack.go), column generation
// (simplex.go, master.go, pricing.go), diving (dive.go, residual.go), branching on the longest piece (branch.go). Among
// plans of one cost: largest single remainder, fewest kept remainders, fewest patterns (tidy.go); only the cost is
// proven, the rest is as good as the search finds. Effort is counted, not timed: the same input gives the same plan.
//
// Formulation: Gilmore and Gomory 1961 (pattern formulation, from memory); Martello and Toth 1990, ch. 8 (L2 bound,
// from memory). The bound of an integer weight vector that anybody can check with one knapsack per roll type is
// explained at Certificate.
package rolls

import (
	q "lapwork/generator/quantity"
)

// Unlimited is the supply of a roll type that can be bought as often as needed.
const Unlimited = -1

// Roll is a roll type on sale, or a leftover in stock (Supply 1, Cost 0, Name its mark).
type Roll struct {
	Name   string
	Length q.MM  // usable length, > 0
	Cost   int64 // of one roll in the smallest coin, >= 0
	Supply int   // how many there are; Unlimited for goods on sale
}

// Split is one way to make a strip of two pieces with an end joint: A first, then B. A + B exceeds the strip by the lap.
type Split struct{ A, B q.MM }

// Demand is a number of equal strips. Lengths contain every allowance already.
type Demand struct {
	Length q.MM
	Count  int
	IDs    []string // the marks of the strips: none, or Count of them
	Splits []Split  // where a strip may be joined; empty: never
}

// Instance is one delivery to cut.
type Instance struct {
	Demands   []Demand
	Rolls     []Roll
	JointCost int64 // of one end joint in the smallest coin, >= 0
	MinKept   q.MM  // a remainder from this length on is kept as a leftover; 0: every remainder
}

// Limits bounds the effort. Work counts inner steps of all stages; zero means DefaultWork.
type Limits struct{ Work int64 }

// DefaultWork took 1.3 to 1.6 s on the server core (2025) on which it was measured, when it was used up at all.
const DefaultWork = 1_600_000_000

// Part says what a piece is of its strip.
type Part uint8

// The parts of a strip.
const (
	Whole  Part = iota
	First       // piece A of a split
	Second      // piece B of a split
)

// Piece is one cut.
type Piece struct {
	ID     string // mark of the strip; empty if the demand has no marks
	Length q.MM
	Part   Part
}

// Cut is one roll used: its pieces in cutting order, and what remains at its end.
type Cut struct {
	Roll      string // name of the roll type
	Length    q.MM   // of the full roll
	Cost      int64
	Pieces    []Piece
	Remainder q.MM
}

// Joint is a strip that is made of two pieces.
type Joint struct {
	ID     string
	Length q.MM // of the strip
	Split  Split
}

// Proof says what the lower bound rests on.
type Proof string

// The proofs, in the order in which they are tried.
const (
	ByLength Proof = "length bound"        // certificate: the lengths themselves
	ByWeight Proof = "large-piece bound"   // certificate: lengths with large pieces rounded up, small ones dropped
	ByDual   Proof = "dual bound"          // certificate: prices of the linear relaxation
	BySearch Proof = "exhausted search"    // the certificate shows a lower bound only
	NoProof  Proof = "no bound above zero" // nothing was shown
)

// Plan is a cutting plan with what is known about its cost.
type Plan struct {
	Cuts        []Cut
	Joints      []Joint
	Cost        int64 // of the rolls used and the joints
	Bound       int64 // no plan costs less
	Proof       Proof // of Bound
	Certificate Certificate
	Work        int64 // effort spent, in the unit of Limits
	Exhausted   bool  // the work limit ended the search
	Aborted     bool  // the context ended the search: another run may find another plan
}

// Proven reports whether the plan is of least cost.
func (p Plan) Proven() bool { return p.Cost == p.Bound }

// Gap is the most that the plan may cost above the optimum, in the smallest coin.
func (p Plan) Gap() int64 { return p.Cost - p.Bound }
