package drawing

import "math"

// part draws one part of a frame that carries no text.
func (b *board) part(f *placedFrame, p Part, lay *stack) {
	points := f.scale.pts(p.Path)
	if len(points) == 0 {
		return
	}
	switch p.Kind {
	case Solid:
		b.solid(f.box, p.Material, points)
		if p.Material != "air" && p.Material != "" && len(points) > 2 {
			lay.rim(points)
		}
	case Sheet:
		b.clipped(sheetStyle, f.box, lay.lay(points, lapGap))
	case Tape:
		b.tape(clipPath(lay.lay(points, lapGap), f.box))
	case Membrane:
		b.membrane(clipPath(lay.lay(points, 5), f.box))
	case Collar:
		b.collar(clipPath(lay.lay(points, lapGap), f.box))
	case Adhesive:
		b.clipped(adhesiveStyle, f.box, points)
	case Primer:
		b.clipped(primerStyle, f.box, points)
	case Screw:
		if len(points) > 1 {
			b.screw(points[0], points[1])
		}
	case Fold:
		to := Pt{0, -24}
		if len(points) > 1 {
			to = sub(points[1], points[0])
		}
		b.fold(points[0], to)
	case Bead, Staple:
		b.drops(f, p.Kind, points, lay)
	}
}

func (b *board) drops(f *placedFrame, kind PartKind, points []Pt, lay *stack) {
	for _, p := range points {
		if !f.box.holdsPoint(p) {
			continue
		}
		if kind == Bead {
			b.circle(beadStyle, p, beadSize)
			b.soft = append(b.soft, boxAt(p, 2*beadSize, 2*beadSize))
			continue
		}
		p = lay.drawnAt(p)
		u := lay.along(p)
		if n, _ := lay.roomSide(sub(p, u), add(p, u)); dot(n, Pt{u.Y, -u.X}) < 0 {
			u = times(u, -1)
		}
		b.staple(p, u)
	}
}

// along is the direction of the line nearest to p.
func (s *stack) along(p Pt) Pt {
	best, d := Pt{1, 0}, math.Inf(1)
	for _, line := range s.lines {
		if near := toSegment(p, line.a, line.b); near <= d {
			best, d = unit(line.a, line.b), near
		}
	}
	return best
}

// solid draws a cut body: its hatch within the frame, its outline where it does not run on beyond it.
func (b *board) solid(frame Box, m Material, points []Pt) {
	clipped := clipOutline(points, frame)
	if len(clipped) < 3 {
		return
	}
	style := Style{Name: "solid", Fill: Ground, Hatch: m}
	width := cutWidth
	switch m {
	case "air", "":
		style.Hatch, width = "", hiddenWidth
	case "insulation":
		style.Hatch, width = "", seenWidth
	}
	b.shape(style, true, clipped...)
	if m == "insulation" && !b.wave(clipped) {
		style.Hatch = m
		b.shape(style, true, clipped...)
	}
	outline := Style{Name: "cut", Stroke: Black, Width: width}
	if m == "air" || m == "" {
		outline.Dash = "5 4"
	}
	b.outline(outline, frame, points)
}

// outline draws the sides of an outline that lie inside the frame, joined as far as they follow each other.
func (b *board) outline(style Style, frame Box, points []Pt) {
	inner := frame.grow(-0.5)
	whole := true
	for _, p := range points {
		whole = whole && inner.holdsPoint(p)
	}
	if whole {
		b.shape(style, true, points...)
		return
	}
	b.clipped(style, inner, append(points[:len(points):len(points)], points[0]))
}

// clipped draws the parts of a path that lie inside the box.
func (b *board) clipped(style Style, box Box, path []Pt) {
	for _, run := range clipRuns(path, box) {
		b.shape(style, false, run...)
	}
}

// clipPath gives the longest part of a path inside the box.
func clipPath(path []Pt, box Box) []Pt {
	var best []Pt
	longest := 0.0
	for _, run := range clipRuns(path, box) {
		l := 0.0
		for i := 1; i < len(run); i++ {
			l += dist(run[i-1], run[i])
		}
		if l > longest {
			best, longest = run, l
		}
	}
	return best
}

func clipRuns(path []Pt, box Box) [][]Pt {
	var runs [][]Pt
	for i := 1; i < len(path); i++ {
		a, c, ok := clipSegment(path[i-1], path[i], box)
		if !ok {
			continue
		}
		if n := len(runs); n > 0 && dist(runs[n-1][len(runs[n-1])-1], a) < 0.01 {
			runs[n-1] = append(runs[n-1], c)
			continue
		}
		runs = append(runs, []Pt{a, c})
	}
	return runs
}

// wave fills a four-sided body with one continuous wave across its thickness; other bodies take the pattern.
func (b *board) wave(o []Pt) bool {
	if len(o) != 4 {
		return false
	}
	a0, a1, c0, c1 := o[0], o[1], o[3], o[2] // two long sides, same direction
	if dist(o[0], o[1])+dist(o[2], o[3]) < dist(o[1], o[2])+dist(o[3], o[0]) {
		a0, a1, c0, c1 = o[1], o[2], o[0], o[3]
	}
	thick := (dist(a0, c0) + dist(a1, c1)) / 2
	length := (dist(a0, a1) + dist(c0, c1)) / 2
	if thick < 4 || length < 4 {
		return false
	}
	n := int(math.Round(math.Min(length/math.Max(thick*0.22, 6), 160)))
	var points []Pt
	for i := range n + 1 {
		t := float64(i) / float64(max(n, 1))
		p, r := lerp(a0, a1, t), lerp(c0, c1, t)
		if i%2 == 1 {
			p, r = r, p
		}
		points = append(points, lerp(p, r, -0.44)) // a curve goes half way out to its guide points
	}
	b.shape(Style{Name: "wave", Stroke: Black, Width: 1.1, Smooth: true, Round: true}, false, points...)
	return true
}
