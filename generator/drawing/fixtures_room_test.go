package drawing_test

import (
	"fmt"

	d "lapwork/generator/drawing"
)

// prism makes a room of a footprint and one height, with every edge numbered.
func prism(id string, footprint []d.XY, tall float64) d.RoomView {
	v := d.RoomView{Room: id, Name: "bedroom"}
	at := func(p d.XY, z float64) d.XYZ { return d.XYZ{X: p.X, Y: p.Y, Z: z} }
	var floor, ceiling []d.XYZ
	edge := func(name string, from, to d.XYZ) {
		v.Edges = append(v.Edges, d.Edge3{No: len(v.Edges) + 1, ID: name, From: from, To: to, Layer: true})
	}
	for i, p := range footprint {
		next := footprint[(i+1)%len(footprint)]
		wall := fmt.Sprintf("%s-W%d", id, i+1)
		v.Faces = append(v.Faces, d.Face3{ID: wall, Role: d.WallFace, Carries: i%2 == 0, Outline: []d.XYZ{at(p, 0), at(next, 0), at(next, tall), at(p, tall)}})
		floor, ceiling = append(floor, at(p, 0)), append(ceiling, at(p, tall))
		edge(wall+"+C1", at(p, tall), at(next, tall))
		edge(wall+"+F1", at(p, 0), at(next, 0))
		edge(fmt.Sprintf("%s+W%d", wall, (i+1)%len(footprint)+1), at(next, 0), at(next, tall))
	}
	v.Faces = append(v.Faces, d.Face3{ID: id + "-F1", Role: d.FloorFace, Outline: floor}, d.Face3{ID: id + "-C1", Role: d.CeilingFace, Outline: ceiling, Carries: true})
	return v
}

// attic makes a room under a ridge roof: knee walls, gables, two slopes.
func attic() d.RoomView {
	const w, l, knee, ridge = 5000, 6000, 900, 3400
	pt := func(x, y, z float64) d.XYZ { return d.XYZ{X: x, Y: y, Z: z} }
	v := d.RoomView{Room: "A1", Name: "attic", Faces: []d.Face3{
		{ID: "A1-F1", Role: d.FloorFace, Outline: []d.XYZ{pt(0, 0, 0), pt(w, 0, 0), pt(w, l, 0), pt(0, l, 0)}},
		{ID: "A1-K1", Role: d.WallFace, Carries: true, Outline: []d.XYZ{pt(0, 0, 0), pt(0, l, 0), pt(0, l, knee), pt(0, 0, knee)}},
		{ID: "A1-G2", Role: d.WallFace, Carries: true, Outline: []d.XYZ{pt(0, l, 0), pt(w, l, 0), pt(w, l, knee), pt(w/2, l, ridge), pt(0, l, knee)}},
		{ID: "A1-K3", Role: d.WallFace, Carries: true, Outline: []d.XYZ{pt(w, 0, 0), pt(w, l, 0), pt(w, l, knee), pt(w, 0, knee)}},
		{ID: "A1-G4", Role: d.WallFace, Carries: true, Outline: []d.XYZ{pt(0, 0, 0), pt(w, 0, 0), pt(w, 0, knee), pt(w/2, 0, ridge), pt(0, 0, knee)}},
		{ID: "A1-S1", Role: d.SlopeFace, Carries: true, Outline: []d.XYZ{pt(0, 0, knee), pt(0, l, knee), pt(w/2, l, ridge), pt(w/2, 0, ridge)}},
		{ID: "A1-S3", Role: d.SlopeFace, Carries: true, Outline: []d.XYZ{pt(w, 0, knee), pt(w, l, knee), pt(w/2, l, ridge), pt(w/2, 0, ridge)}},
	}}
	lines := [][2]d.XYZ{{pt(0, 0, knee), pt(0, l, knee)}, {pt(w, 0, knee), pt(w, l, knee)}, {pt(w/2, 0, ridge), pt(w/2, l, ridge)}, {pt(0, l, knee), pt(w/2, l, ridge)},
		{pt(w, l, knee), pt(w/2, l, ridge)}, {pt(0, 0, knee), pt(w/2, 0, ridge)}, {pt(w, 0, knee), pt(w/2, 0, ridge)}, {pt(0, 0, 0), pt(0, l, 0)}, {pt(0, l, 0), pt(w, l, 0)}, {pt(w, 0, 0), pt(w, l, 0)}, {pt(0, 0, 0), pt(w, 0, 0)}}
	for i, e := range lines {
		v.Edges = append(v.Edges, d.Edge3{No: i + 1, ID: fmt.Sprintf("A1-J%d", i+1), From: e[0], To: e[1], Layer: i < 7})
	}
	v.Openings = []d.Opening3{{ID: "A1-O1", Face: "A1-G2", Outline: []d.XYZ{pt(1900, l, 900), pt(3100, l, 900), pt(3100, l, 2100), pt(1900, l, 2100)}}}
	v.Holes = []d.Hole3{{ID: "A1-P01", Face: "A1-S1", At: pt(1250, 2000, 2150)}}
	return v
}

func rooms() map[string]d.RoomView {
	box := prism("B2", rect(0, 0, 4200, 3600), 2500)
	box.Openings = []d.Opening3{{ID: "B2-O1", Face: "B2-W3", Outline: []d.XYZ{{X: 2800, Y: 3600, Z: 900}, {X: 1400, Y: 3600, Z: 900}, {X: 1400, Y: 3600, Z: 2200}, {X: 2800, Y: 3600, Z: 2200}}}}
	box.Holes = []d.Hole3{{ID: "B2-P01", Face: "B2-W2", At: d.XYZ{X: 4200, Y: 1200, Z: 300}}, {ID: "B2-P02", Face: "B2-W3", At: d.XYZ{X: 3500, Y: 3600, Z: 300}}}
	return map[string]d.RoomView{"box": box, "ell": prism("C3", path(0, 0, 6000, 0, 6000, 2600, 3200, 2600, 3200, 5000, 0, 5000), 2600), "attic": attic()}
}
