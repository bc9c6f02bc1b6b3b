package library

import (
	"maps"
	"slices"

	"lapwork/generator/calc/table"
	"lapwork/generator/calc/transient"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Storage is the moisture storage of a material: measured points, or the statement that it takes up none.
type Storage struct {
	Curve  transient.Storage
	Source q.Source
}

// readStorage reads the table of sorption isotherms: rows of an id rise in humidity from 0 to 100 %, content in kg/m³. A
// single row with the content none says that the material takes up no water below saturation.
func readStorage(file string, text []byte, found *diag.List) map[string]Storage {
	points, first, out := map[string][]transient.Point{}, map[string]diag.Pos{}, map[string]Storage{}
	for _, r := range table.Read(file, text, []string{"id", "humidity", "content", "source", "status"}, found) {
		id := r.Need("id")
		s := out[id]
		if _, seen := first[id]; !seen {
			first[id] = r.Pos
		}
		s.Source = q.Source{Text: r.Need("source"), Status: s.Source.Status.Weaker(r.Status("status"))}
		if r.Text("content") == "none" {
			s.Curve = transient.NoUptake{}
		} else {
			points[id] = append(points[id], transient.Point{Humidity: q.Ratio(r.Number("humidity", 0, 100) / 100), Value: r.Number("content", 0, 1000)})
		}
		out[id] = s
	}
	for _, id := range slices.Sorted(maps.Keys(points)) {
		s := out[id]
		curve, err := transient.NewIsotherm(points[id])
		if err != nil || s.Curve != nil {
			found.Faultf(first[id], "humidity 0 to 100, content from 0, both rising; or a single row with the content none", "the storage of %q is no sorption isotherm", id)
			delete(out, id)
			continue
		}
		s.Curve = curve
		out[id] = s
	}
	return out
}
