package gbxml

import (
	"math"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/survey"
)

// meaning is what a surfaceType says, by the schema's annotations.
type meaning struct {
	role   survey.Role
	behind job.Behind
}

var meanings = map[string]meaning{
	"ExteriorWall":       {survey.WallFace, job.Outside},
	"Roof":               {survey.RoofFace, job.Outside},
	"ExposedFloor":       {survey.FloorFace, job.Outside},
	"RaisedFloor":        {survey.FloorFace, job.Outside},
	"UndergroundWall":    {survey.WallFace, job.Ground},
	"UndergroundSlab":    {survey.FloorFace, job.Ground},
	"SlabOnGrade":        {survey.FloorFace, job.Ground},
	"UndergroundCeiling": {survey.CeilingFace, job.Ground},
	"InteriorWall":       {survey.WallFace, survey.Inside},
	"InteriorFloor":      {survey.NoRole, survey.Inside},
	"Ceiling":            {survey.NoRole, survey.Inside},
	"Air":                {survey.NoRole, survey.Nothing},
	"Shade":              {survey.NoRole, survey.Shading},
	"FreestandingColumn": {survey.NoRole, survey.Shading},
	"EmbeddedColumn":     {survey.NoRole, survey.Shading},
}

// surface reads a Surface. Spaces are resolved when the whole file is read.
func (r *reader) surface(n *node) {
	kind := n.attr("surfaceType")
	m, ok := meanings[kind]
	if !ok {
		m.behind = survey.Unknown
		r.unknownKinds[kind] = append(r.unknownKinds[kind], n)
	}
	f := &survey.Face{ID: n.attr("id"), Kind: kind, Role: m.role, Behind: m.behind, Pos: n.pos}
	r.count("surface", kind)
	for _, a := range n.all("AdjacentSpaceId") {
		r.sides = append(r.sides, side{face: f, space: a.attr("spaceIdRef"), pos: a.pos})
	}
	if id := n.attr("constructionIdRef"); id != "" {
		r.uses = append(r.uses, use{face: f, construction: id})
	}
	q, hasRect := r.rectangular(n)
	f.Poly.Loop = r.planar(n)
	switch {
	case len(f.Poly.Loop) > 0:
		r.compare(f, q, hasRect)
	case hasRect && q.turned:
		f.Poly.Loop = q.corners()
		r.flat = append(r.flat, f.ID)
	default:
		r.b.Found.Openf(n.pos, "", "give its PlanarGeometry", "surface %s has no geometry that can be read; it was left out", f.ID)
		return
	}
	for _, o := range n.all("Opening") {
		r.opening(f, o, q, hasRect)
	}
	r.b.Faces = append(r.b.Faces, f)
}

// compare counts where a rectangle says otherwise than the polygon.
func (r *reader) compare(f *survey.Face, q rect, hasRect bool) {
	if !hasRect {
		return
	}
	v := f.Poly.AreaVector()
	area := v.Length()
	if d := math.Abs(q.width*q.height - area); q.width > 0 && q.height > 0 && d > 0.01*area && d > 0.02 {
		r.otherArea = append(r.otherArea, f.ID)
	}
	if q.turned && area > 0 {
		tilt := math.Acos(max(-1, min(1, v.Z/area))) * 180 / math.Pi
		if math.Abs(tilt-q.tilt) > 1 {
			r.otherTilt = append(r.otherTilt, f.ID)
		}
	}
}

var openingKinds = map[string]string{"FixedWindow": "window", "OperableWindow": "window", "FixedSkylight": "roof-window",
	"OperableSkylight": "roof-window", "SlidingDoor": "door", "NonSlidingDoor": "door", "Air": "air"}

// opening reads an Opening of a surface.
func (r *reader) opening(f *survey.Face, n *node, parent rect, hasParent bool) {
	kind := n.attr("openingType")
	r.count("opening", kind)
	as, ok := openingKinds[kind]
	if !ok {
		as = "window"
		r.b.Found.Openf(n.pos, "", "check what it is", "opening %s is of the kind %q, which is none of the schema; a window was taken", n.attr("id"), kind)
	}
	o := &survey.Opening{ID: n.attr("id"), Name: n.words("Name"), Kind: kind, As: as, Pos: n.pos, Loop: r.planar(n)}
	at, u, v, framed := frame(f.Poly.Loop, parent, hasParent)
	switch g := n.child("PlanarGeometry"); {
	case len(o.Loop) > 0:
		if strings.EqualFold(g.attr("coordinatesAbsolute"), "false") && framed {
			for i, p := range o.Loop {
				o.Loop[i] = place(p, at, u, v)
			}
		}
	default:
		q, ok := r.rectangular(n)
		if !ok || !framed || q.width <= 0 || q.height <= 0 {
			r.b.Found.Openf(n.pos, "", "give its PlanarGeometry", "opening %s of %s has no geometry that can be read; it was left out", o.ID, f.ID)
			return
		}
		q.u, q.v = survey.Vec{X: 1}, survey.Vec{Y: 1}
		for _, p := range q.corners() {
			o.Loop = append(o.Loop, place(p, at, u, v))
		}
	}
	f.Openings = append(f.Openings, o)
}
