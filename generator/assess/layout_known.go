package assess

import (
	"encoding/binary"
	"errors"
	"sync"

	"lapwork/generator/calc/strips"
	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// knownLayouts are strip problems with their solutions: rooms repeat, and a gable takes milliseconds. It may be asked side
// by side; nil knows none and solves each.
type knownLayouts struct{ solved sync.Map } // func() solved by problemKey

// solved is what lay gives. Who gets it shares its lists with others and changes none.
type solved struct {
	layout  strips.Layout
	backing []strips.Backing
	err     error
}

// problemKey is a problem with its objective, so that it can be looked up.
type problemKey struct {
	objective strips.Objective
	problem   string // every number of it, lists with their lengths before
}

func keyOf(p strips.Problem, o strips.Objective) problemKey {
	k := make([]byte, 0, 256)
	list := func(numbers []q.MM) {
		k = binary.AppendVarint(k, int64(len(numbers)))
		for _, x := range numbers {
			k = binary.AppendVarint(k, int64(x))
		}
	}
	outline := func(points geometry.Polygon) {
		k = binary.AppendVarint(k, int64(len(points)))
		for _, at := range points {
			k = binary.AppendVarint(binary.AppendVarint(k, int64(at.X)), int64(at.Y))
		}
	}
	outline(p.Outline)
	for _, h := range p.Holes {
		outline(h.Outline)
		k = binary.AppendVarint(k, int64(h.TurnIn))
	}
	k = binary.AppendVarint(k, -1) // no more holes
	list(p.Turns)
	list(p.JointAt)
	list(p.SeamAt)
	list(p.KeepClear)
	list([]q.MM{p.RollWidth, p.Lap, p.MaxLap, p.EndAllowance, p.StopGap, p.MaxPiece, p.EndJointLap, p.SeamTol, p.ClearBy, p.Raster, q.MM(p.Direction)})
	for _, yes := range []bool{p.StartAtEdge, p.JointAnywhere, p.StaggerJoints, p.SeamAnywhere} {
		k = append(k, byte(number01(yes)))
	}
	return problemKey{o, string(k)}
}

// lay solves a problem, or gives the solution of one that is equal.
func (k *knownLayouts) lay(p strips.Problem, o strips.Objective) (strips.Layout, []strips.Backing, error) {
	if k == nil {
		s := solve(p, o)
		return s.layout, s.backing, s.err
	}
	known, _ := k.solved.LoadOrStore(keyOf(p, o), sync.OnceValue(func() solved { return solve(p, o) }))
	s := known.(func() solved)()
	return s.layout, s.backing, s.err
}

// solve lays a problem; where the backing is short it takes the arrangement with backing added.
func solve(p strips.Problem, o strips.Objective) solved {
	l, err := strips.Lay(p, o)
	var short *strips.InfeasibleError
	if errors.As(err, &short) && short.Backed != nil {
		return solved{*short.Backed, short.Missing, nil}
	}
	return solved{l, nil, err}
}
