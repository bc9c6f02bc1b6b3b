package condensation

import (
	"lapwork/generator/calc/table"
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// CurveColumns are the columns of the table of curves, in any order.
func CurveColumns() []string { return []string{"id", "humidity", "sd", "source", "status"} }

// ParseCurves reads the table of curves of sd by humidity, by the id of the component or material they belong to. The
// rows of an id rise in humidity; a curve with faults is reported and left out.
func ParseCurves(file string, text []byte, found *diag.List) map[string]Curve {
	out := map[string]Curve{}
	bad := map[string]bool{}
	first := map[string]diag.Pos{}
	for _, r := range table.Read(file, text, CurveColumns(), found) {
		id := r.Need("id")
		c, seen := out[id]
		if !seen {
			first[id] = r.Pos
			c.Source.Text = r.Need("source")
		}
		c.Source.Status = c.Source.Status.Weaker(r.Status("status"))
		p := CurvePoint{Humidity: q.Ratio(r.Number("humidity", 0, 100) / 100), Sd: q.SdValue(r.Number("sd", 0.001, float64(mostSd)))}
		if n := len(c.Points); r.OK() && n > 0 && p.Humidity <= c.Points[n-1].Humidity {
			r.Fault("humidity", "sort the rows of an id by humidity", "not above the row before")
		}
		c.Points = append(c.Points, p)
		out[id], bad[id] = c, bad[id] || !r.OK()
	}
	for id, c := range out {
		if !bad[id] && len(c.Points) < 2 {
			found.Faultf(first[id], "cup tests give two points or more", "the curve of %q has one point", id)
			bad[id] = true
		}
		if bad[id] {
			delete(out, id)
		}
	}
	return out
}
