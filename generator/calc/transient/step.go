package transient

import (
	"context"
	"fmt"
	"math"
)

// pace is the control of the step length and the effort spent.
type pace struct {
	longest        float64 // s
	tError, uError float64 // allowed error of a step, mean over the nodes
	limit          int
	steps          int
	rejected       int
	iterations     int
	dt, before     float64 // s: the step to try; the last one taken, 0: none
}

const (
	shortest      = 0.05 // s
	unasked       = 10.0 // s: a step as short as this may change as quickly as it likes, or a jump of the air would stop the run
	maxIterations = 20
	fullSteps     = 4 // corrections taken in full; the next ones by half, which ends a run to and fro across saturation
	holdFilms     = 8 // then films keep their resistance for the step: one between two nodes that store nothing may have two answers
	fullAgain     = 12
	lightW        = 0.01 // kg/m² for each unit of humidity
	lightH        = 500  // J/(m² K)
)

// day carries the state over the hours from … to of the year. It calls seen after each step with its seconds.
func (s *solver) day(ctx context.Context, c *climate, p *pace, from, to float64, seen func(dt float64)) error {
	for t := from; t < to; {
		if p.steps%64 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		if p.steps+p.rejected >= p.limit {
			return fmt.Errorf("%w: %d steps", ErrSteps, p.limit)
		}
		left := (to - t) * hour
		parts := math.Ceil(left/min(p.dt, p.longest) - 1e-9)
		dt := left / parts
		end := to
		if parts > 1 {
			end = t + dt/hour
		}
		s.now = c.mean(t, end)
		ok, err := s.try(p, dt)
		if err != nil {
			return err
		}
		if ok {
			t = end
			seen(dt)
		}
	}
	return nil
}

// try takes one step of dt seconds. If the balances do not close or the change is too quick, the state is put back and
// a shorter step is set.
func (s *solver) try(p *pace, dt float64) (bool, error) {
	for i := range s.nodes {
		n := &s.nodes[i]
		n.oldW, n.oldH = n.w, n.h
		n.oldU, n.oldT = n.u, n.t
	}
	quick := s.solve(p, dt)
	measure := 3.0
	if quick {
		measure = s.quickness(p, dt)
	}
	if !quick || (measure > 4 && dt > unasked) {
		p.rejected++
		for i := range s.nodes {
			n := &s.nodes[i]
			n.u, n.t = n.oldU, n.oldT
		}
		s.held = false
		s.properties()
		p.dt = dt * max(0.2, 0.8/math.Sqrt(max(measure, 4)))
		if p.dt < shortest {
			return false, ErrDiverged
		}
		return false, nil
	}
	p.steps++
	left := 1 - catchUp(dt)
	for i := range s.nodes {
		n := &s.nodes[i]
		n.carryW, n.carryH = n.carryW*left+n.restW, n.carryH*left+n.restH
		n.pastW, n.pastT = n.oldW, n.oldT
	}
	p.before = dt
	p.dt = dt * max(0.4, min(2, 0.8/math.Sqrt(max(measure, 1e-6))))
	return true, nil
}

// solve iterates until the balances of the step close.
func (s *solver) solve(p *pace, dt float64) bool {
	s.held = false
	s.flows(dt)
	for i := range maxIterations {
		s.held = i >= holdFilms
		p.iterations++
		share := 1.0
		if i >= fullSteps && i < fullAgain {
			share = 0.5
		}
		if !s.correct(dt, share) {
			return false
		}
		s.properties()
		if s.flows(dt) {
			return true
		}
	}
	return false
}

// quickness estimates the error of a step against what is allowed, from how far the state left the straight line through
// the two states before: 1 is just allowed. Root of the mean square over the nodes. A node that stores next to nothing
// follows its neighbours at once, whatever the step, and counts little.
func (s *solver) quickness(p *pace, dt float64) float64 {
	sum := 0.0
	share := 0.5
	ahead := 0.0
	if p.before > 0 {
		ahead = dt / p.before
		share = dt / (dt + p.before)
	}
	for i := range s.nodes {
		n := &s.nodes[i]
		dw := n.w - n.oldW - ahead*(n.oldW-n.pastW)
		dT := n.t - n.oldT - ahead*(n.oldT-n.pastT)
		dw *= share / (p.uError * (n.wu + lightW))
		dT *= share / p.tError * n.heat / (n.heat + lightH)
		sum += dw*dw + dT*dT
	}
	return math.Sqrt(sum / float64(len(s.nodes)))
}
