package junction

import (
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/surface"
)

// tight are substrates that hold the air by themselves: cast slabs. Common practice, no source.
var tight = map[job.SubstrateID]bool{"concrete-cast": true, "screed": true}

// bareEnvelope reports surfaces that bound the heated air and have no layer: their edges are junctions of nothing, so
// nobody would miss them. A slab on the ground is left out, and what is cast of concrete.
func bareEnvelope(m *surface.Model, found *diag.List) {
	const most = 8
	var ids []string
	var first *surface.Surface
	for _, room := range m.Rooms {
		for _, s := range room.Surfaces {
			if !s.AirBoundary || s.CarriesSheet || s.Face.Behind == job.Ground || tight[s.Face.Substrate] {
				continue
			}
			if first == nil {
				first = s
			}
			ids = append(ids, string(s.ID))
		}
	}
	if first == nil {
		return
	}
	if len(ids) > most {
		ids = append(ids[:most], "…")
	}
	found.Openf(first.Face.Pos, string(first.ID), "state the layer of the face: sheet, board or plaster; or \"air-boundary: no\" where another surface keeps the air",
		"no layer is stated for %s: nothing keeps the air there", strings.Join(ids, ", "))
}
