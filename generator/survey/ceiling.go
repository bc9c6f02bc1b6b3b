package survey

import (
	"fmt"
	"math"
	"slices"

	"lapwork/generator/geometry"
	q "lapwork/generator/quantity"
)

// Ceiling planes count as one within these bounds.
const (
	flatBelow   = 0.035 // rise: 2 degrees, the least pitch of a slope in the job format
	steepRise   = 11.43 // 85 degrees, the greatest
	sameHeight  = 10.0  // mm, of flat ceilings
	samePlane   = 20.0  // mm, of slopes
	followsWell = 25.0  // mm a corner of the ceiling may lie off the envelope
	smallPart   = 0.01  // share of the footprint below which a piece of ceiling is left out
)

// tilted is a ceiling plane as found, heights in mm over the floor, with the plan area it covers in m².
type tilted struct {
	plane geometry.Plane
	area  float64
	at    Vec // a point of it in plan, m
}

// ceilingPlanes are the planes over a room, from the faces that look up.
type ceilingPlanes struct {
	tops   []Poly
	z      float64
	flats  []tilted
	slopes []tilted
	area   float64
}

// ceilingOf sorts the faces over a floor at height z into planes.
func ceilingOf(tops []Poly, z float64) ceilingPlanes {
	c := ceilingPlanes{tops: tops, z: z}
	for _, f := range tops {
		n := f.vector()
		t := tilted{area: n.Z, at: middle(f.Loop)}
		t.plane = geometry.Plane{GX: -n.X / n.Z, GY: -n.Y / n.Z}
		t.plane.Z = (t.at.Z-z)*1000 - t.plane.GX*t.at.X*1000 - t.plane.GY*t.at.Y*1000
		c.area += t.area
		if math.Hypot(t.plane.GX, t.plane.GY) < flatBelow {
			t.plane = geometry.Plane{Z: (t.at.Z - z) * 1000}
			c.flats = gather(c.flats, t, sameHeight)
		} else {
			c.slopes = gather(c.slopes, t, samePlane)
		}
	}
	c.flats = slices.DeleteFunc(c.flats, func(t tilted) bool { return t.area < smallPart*c.area })
	c.slopes = slices.DeleteFunc(c.slopes, func(t tilted) bool { return t.area < smallPart*c.area })
	return c
}

// gather adds a plane to those met, joining it with one it agrees with.
func gather(met []tilted, t tilted, within float64) []tilted {
	for i, m := range met {
		turned := math.Hypot(m.plane.GX-t.plane.GX, m.plane.GY-t.plane.GY)
		x, y := t.at.X*1000, t.at.Y*1000
		if turned < 0.01 && math.Abs(m.plane.At(x, y)-t.plane.At(x, y)) <= within {
			if t.area > m.area {
				t.area += m.area
				met[i] = t
			} else {
				met[i].area += t.area
			}
			return met
		}
	}
	return append(met, t)
}

// cover gives rooms their ceiling. Where the planes cannot be put into the job format it puts a flat ceiling that keeps
// the volume and says why.
func (c ceilingPlanes) cover(rooms []*Room, form body) Said {
	var reason Said
	for _, r := range rooms {
		if why := c.fit(r); why.Is() {
			reason = why
			break
		}
	}
	if !reason.Is() && form.volume > 0 {
		var sum float64
		for _, r := range rooms {
			r.measure()
			sum += float64(r.Volume)
		}
		if off := math.Abs(sum-form.volume) / form.volume; off > 0.01 {
			reason = Say("walls or floor are not as footprint and ceiling give them (volume %.2f m³ against %.2f m³)", sum, form.volume)
		}
	}
	if !reason.Is() {
		return Said{}
	}
	height := c.mean(rooms, form)
	for _, r := range rooms {
		r.Height, r.Slopes = height, nil
	}
	return reason
}

// mean is the height of a flat ceiling with the same volume.
func (c ceilingPlanes) mean(rooms []*Room, form body) q.MM {
	var area float64
	for _, r := range rooms {
		area += float64(r.Footprint.Area())
	}
	if form.volume > 0 {
		return millimetres(form.volume / area)
	}
	var sum, over float64
	for _, f := range c.tops {
		a := f.vector().Z
		sum += a * (middle(f.Loop).Z - c.z)
		over += a
	}
	return millimetres(sum / over)
}

// fit sets a room's flat height and slopes; it says why where it cannot.
func (c ceilingPlanes) fit(r *Room) Said {
	r.Height, r.Slopes = 0, nil
	over := c.over(r)
	if len(over.flats) > 1 {
		var heights []string
		for _, f := range over.flats {
			heights = append(heights, fmt.Sprintf("%.0f", f.plane.Z))
		}
		return Say("its ceiling lies at several heights (%s mm)", some(heights))
	}
	if len(over.flats) == 1 {
		r.Height = q.MM(math.Round(over.flats[0].plane.Z))
	}
	for _, t := range over.slopes {
		slope, why := slopeOn(r, t.plane)
		if why.Is() {
			return why
		}
		r.Slopes = append(r.Slopes, slope)
	}
	if r.Height == 0 && len(r.Slopes) == 0 {
		return Say("no ceiling was found over it")
	}
	return over.follows(r)
}

// over keeps the planes that lie over a room, where a space became several.
func (c ceilingPlanes) over(r *Room) ceilingPlanes {
	out := c
	out.flats, out.slopes, out.tops = nil, nil, nil
	foot := []geometry.Region{{Outer: r.Footprint}}
	var seen ceilingPlanes
	for _, f := range c.tops {
		if areaOf(common(foot, []geometry.Region{flatten(f)})) > smallPart*float64(r.Footprint.Area())/4 {
			seen.tops = append(seen.tops, f)
		}
	}
	again := ceilingOf(seen.tops, c.z)
	again.area = c.area
	return again
}

// slopeOn finds the wall a plane rises from: parallel to its level lines, on its low side, the lowest there is.
func slopeOn(r *Room, p geometry.Plane) (Slope, Said) {
	rise := math.Hypot(p.GX, p.GY)
	pitch := math.Atan(rise) * 180 / math.Pi
	if rise > steepRise {
		return Slope{}, Say("a slope is %.1f degrees steep", pitch)
	}
	best := Slope{Edge: 0}
	for i, a := range r.Footprint {
		b := r.Footprint[(i+1)%len(r.Footprint)]
		dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
		l := math.Hypot(dx, dy)
		inX, inY := -dy/l, dx/l
		if (inX*p.GX+inY*p.GY)/rise < 0.9998 { // within 1.1 degrees
			continue
		}
		h := p.At(float64(a.X+b.X)/2, float64(a.Y+b.Y)/2)
		if h < -5 || h > 30_000 || r.Height > 0 && h >= float64(r.Height)-1 {
			continue
		}
		s := Slope{Edge: i + 1, Height: max(0, q.MM(math.Round(h))), Pitch: q.Degrees(math.Round(pitch*1000) / 1000)}
		if best.Edge == 0 || s.Height < best.Height {
			best = s
		}
	}
	if best.Edge == 0 {
		return Slope{}, Say("a slope of %.0f degrees rises from none of its walls", pitch)
	}
	return best, Said{}
}

// follows says why the lowest of the planes is not the ceiling; empty if it is.
func (c ceilingPlanes) follows(r *Room) Said {
	planes := r.planes()
	worst := 0.0
	for _, f := range c.tops {
		if f.vector().Z < smallPart*float64(r.Footprint.Area()) {
			continue
		}
		m := middle(f.Loop)
		for _, v := range f.Loop {
			v = m.Plus(v.Minus(m).Times(0.98))
			if !holds(r.Footprint, v.X*1000, v.Y*1000) {
				continue
			}
			low := math.Inf(1)
			for _, p := range planes {
				low = min(low, p.At(v.X*1000, v.Y*1000))
			}
			worst = max(worst, math.Abs(low-(v.Z-c.z)*1000))
		}
	}
	if worst > followsWell {
		return Say("its ceiling has a valley or a step: it lies up to %.0f mm off the lowest of its planes", worst)
	}
	return Said{}
}
