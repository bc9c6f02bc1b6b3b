package rolls

import (
	"fmt"

	q "lapwork/generator/quantity"
)

// The sizes that Solve accepts. They keep every sum inside 64 bits with room to spare.
const (
	MaxPieces  = 20_000
	MaxLengths = 10_000    // different lengths, split pieces included
	MaxTypes   = 200       // roll types and leftovers
	MaxLength  = 1_000_000 // mm, of one roll or strip
	MaxCost    = 1_000_000_000
)

// TooLongError: a strip fits on no roll, whole or split.
type TooLongError struct {
	ID              string
	Length, Longest q.MM // of the strip; of the longest roll
}

func (e *TooLongError) Error() string {
	return fmt.Sprintf("strip %s of %d mm is longer than the longest roll (%d mm)", e.ID, e.Length, e.Longest)
}

// SupplyError: the rolls in stock do not hold the pieces. Proven is false if only no way was found within the limits.
type SupplyError struct {
	Need, Have q.MM // total length of the strips and of the rolls
	Proven     bool
}

func (e *SupplyError) Error() string {
	word := "were not found to"
	if e.Proven {
		word = "do not"
	}
	return fmt.Sprintf("the rolls in stock (%d mm) %s hold the strips (%d mm)", e.Have, word, e.Need)
}

// SizeError: the instance is larger than Solve accepts.
type SizeError struct {
	What       string
	Got, Limit int64
}

func (e *SizeError) Error() string {
	return fmt.Sprintf("%s: %d, at most %d", e.What, e.Got, e.Limit)
}

// InputError: a value that makes no sense.
type InputError struct{ What string }

func (e *InputError) Error() string { return e.What }

// check refuses what Solve cannot work on. The first finding ends it: the caller makes instances, not a person.
func (in Instance) check() error {
	if len(in.Rolls) > MaxTypes {
		return &SizeError{"roll types", int64(len(in.Rolls)), MaxTypes}
	}
	seen := map[Roll]bool{}
	for _, r := range in.Rolls {
		if err := r.check(); err != nil {
			return err
		}
		key := Roll{Name: r.Name, Length: r.Length, Cost: r.Cost}
		if seen[key] {
			return &InputError{fmt.Sprintf("roll %q of %d mm is listed twice", r.Name, r.Length)}
		}
		seen[key] = true
	}
	if in.JointCost < 0 || in.JointCost > MaxCost {
		return &SizeError{"joint cost", in.JointCost, MaxCost}
	}
	return in.checkDemands()
}

func (r Roll) check() error {
	switch {
	case r.Length <= 0 || r.Length > MaxLength:
		return &SizeError{fmt.Sprintf("length of roll %q", r.Name), int64(r.Length), MaxLength}
	case r.Cost < 0 || r.Cost > MaxCost:
		return &SizeError{fmt.Sprintf("cost of roll %q", r.Name), r.Cost, MaxCost}
	case r.Supply < Unlimited:
		return &InputError{fmt.Sprintf("supply of roll %q: %d", r.Name, r.Supply)}
	}
	return nil
}

func (in Instance) checkDemands() error {
	total := int64(0)
	for _, d := range in.Demands {
		if err := d.check(); err != nil {
			return err
		}
		total += int64(d.Count)
		if err := in.checkFits(d); err != nil {
			return err
		}
	}
	if total > MaxPieces {
		return &SizeError{"strips", total, MaxPieces}
	}
	return nil
}

func (d Demand) check() error {
	switch {
	case d.Length <= 0 || d.Length > MaxLength:
		return &SizeError{"length of a strip", int64(d.Length), MaxLength}
	case d.Count < 0 || d.Count > MaxPieces:
		return &SizeError{"strips", int64(d.Count), MaxPieces}
	case len(d.IDs) != 0 && len(d.IDs) != d.Count:
		return &InputError{fmt.Sprintf("%d marks for %d strips of %d mm", len(d.IDs), d.Count, d.Length)}
	}
	for _, s := range d.Splits {
		if s.A <= 0 || s.B <= 0 || s.A >= d.Length || s.B >= d.Length || s.A+s.B < d.Length {
			return &InputError{fmt.Sprintf("a strip of %d mm cannot be joined of %d and %d mm", d.Length, s.A, s.B)}
		}
	}
	return nil
}

func (in Instance) checkFits(d Demand) error {
	longest := q.MM(0)
	for _, r := range in.Rolls {
		if r.Supply != 0 {
			longest = max(longest, r.Length)
		}
	}
	if d.Count == 0 || d.Length <= longest {
		return nil
	}
	for _, s := range d.Splits {
		if max(s.A, s.B) <= longest {
			return nil
		}
	}
	e := &TooLongError{Length: d.Length, Longest: longest}
	if len(d.IDs) > 0 {
		e.ID = d.IDs[0]
	}
	return e
}
