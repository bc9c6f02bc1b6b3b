package junction

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Tables is what deriving needs from the substrate table.
type Tables struct {
	Family map[job.SubstrateID]string // timber, panel, mineral, coated, unsealable, metal, plastic ...
}

// Derive gives the records of the building in a fixed order: room by room as the job lists them, and in a room the
// surfaces with their battens and staples, then edges, openings, penetrations and members. A line of the envelope that
// ends at nothing, or meets something the job does not name, still gives a record and an open finding; no statement
// answers it, so it stays unresolved until a person decides.
func Derive(m *surface.Model, t Tables, found *diag.List) []Record {
	var out []Record
	bareEnvelope(m, found)
	for _, room := range m.Rooms {
		for _, s := range room.Surfaces {
			out = append(out, fields(s, t)...)
		}
		out = append(out, edges(room, t, found)...)
		for _, s := range room.Surfaces {
			if !needsSealing(s) {
				continue
			}
			for i := range s.Openings {
				out = append(out, opening(s, s.Openings[i], found)...)
			}
		}
		for _, s := range room.Surfaces {
			if !needsSealing(s) {
				continue
			}
			for i := range s.Penetrations {
				out = append(out, penetration(s, i, found)...)
			}
		}
		for _, s := range room.Surfaces {
			if !needsSealing(s) {
				continue
			}
			for i := range s.Members {
				out = append(out, member(s, s.Members[i], found)...)
			}
		}
	}
	return out
}

// needsSealing says whether a hole in the surface is a hole in the envelope. A slab without a layer of its own is: the
// soil pipe through it leaks like one through the sheet.
func needsSealing(s *surface.Surface) bool { return s.CarriesSheet || s.AirBoundary }

// at starts a record on a surface with the defaults of the trade specification.
func at(s *surface.Surface, id string, e Edge) Record {
	layer := layerOf(s)
	return Record{
		ID: id, Edge: e, Room: s.Room, A: s,
		SurfaceA: s.Role.String(), Layer: layer, LayerA: layer,
		Supported: true, LoadOnLayer: s.Face.LooseFill,
		Angle: 90, Spacing: 1000,
		Count: 1, Corners: 4, Ends: 2, Cables: 1,
		StripLayoutRun: true,
		Where:          []string{string(s.ID)},
		Pos:            s.Face.Pos,
	}
}

// layerOf gives the layer kind a surface carries, sheet where the kind is not stated; empty where it carries none.
func layerOf(s *surface.Surface) job.LayerKind {
	switch {
	case !s.CarriesSheet || s.Face.Layer == job.NoLayer:
		return ""
	case s.Face.Layer == "":
		return job.Sheet
	}
	return s.Face.Layer
}

// girth gives the perimeter of a rectangle.
func girth(w, h q.MM) q.Length { return 2 * (w + h).Metres() }

// stated gives the first substrate that is stated.
func stated(ids ...job.SubstrateID) job.SubstrateID {
	for _, id := range ids {
		if id != "" {
			return id
		}
	}
	return ""
}

// askSubstrate adds an open finding when a record that is sealed to a substrate has none.
func askSubstrate(r Record, of string, found *diag.List) {
	if r.Substrate == "" {
		found.Openf(r.Pos, r.ID, "state its substrate", "%s is sealed to %s, whose substrate is not stated", r.ID, of)
	}
}
