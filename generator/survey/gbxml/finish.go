package gbxml

import (
	"maps"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

// finish resolves references and sums up what occurred often.
func (r *reader) finish(s *stream) {
	r.b.Source.Encoding = r.text.Encoding
	top := diag.Pos{File: s.file}
	if r.text.Repaired > 0 {
		r.b.Found.Notef(top, "", "%d bytes are not valid %s and were read as Windows-1252", r.text.Repaired, r.text.Encoding)
	}
	for _, x := range r.storey {
		if x.space.Storey = r.levels[x.id]; x.space.Storey == nil {
			r.b.Found.Notef(x.space.Pos, "", "space %s names the storey %q, which the file does not hold", x.space.ID, x.id)
		}
	}
	for _, x := range r.sides {
		space := r.spaces[x.space]
		if space == nil {
			r.b.Found.Openf(x.pos, "", "check what lies there", "surface %s names the space %q, which the file does not hold", x.face.ID, x.space)
			continue
		}
		x.face.Spaces = append(x.face.Spaces, space)
	}
	r.resolve()
	r.sum(top)
}

// sum reports what was counted on the way.
func (r *reader) sum(top diag.Pos) {
	total := len(r.b.Faces)
	if n := len(r.otherArea); n > 0 {
		r.b.Found.Notef(top, "", "%d of %d surfaces state a width times height that is not the area of their polygon; polygons were taken (%s)", n, total, some(r.otherArea))
	}
	if n := len(r.otherTilt); n > 0 {
		r.b.Found.Notef(top, "", "%d of %d surfaces state a tilt that is not that of their polygon, as a loop the other way round gives; polygons were taken (%s)", n, total, some(r.otherTilt))
	}
	if n := len(r.flat); n > 0 {
		r.b.Found.Notef(top, "", "%d surfaces have no polygon; their rectangles were taken (%s)", n, some(r.flat))
	}
	if missing := slices.Compact(r.noLayer); len(missing) > 0 {
		r.b.Found.Notef(top, "", "%s layers or materials that the file does not hold; they were read without them (%s)",
			survey.Things(len(missing), "construction names", "constructions name"), some(missing))
	}
	for _, kind := range slices.Sorted(maps.Keys(r.unknownKinds)) {
		nodes := r.unknownKinds[kind]
		r.b.Found.Openf(nodes[0].pos, "", "say in the job what lies behind them", "%s of the kind %q, which is none of the schema: what lies behind is not known",
			survey.Things(len(nodes), "surface is", "surfaces are"), kind)
	}
}

// some names a few ids.
func some(ids []string) string {
	const few = 4
	if len(ids) <= few {
		return strings.Join(ids, ", ")
	}
	return strings.Join(ids[:few], ", ") + " …"
}
