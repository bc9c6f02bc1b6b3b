package transient_test

import (
	"testing"

	"lapwork/generator/calc/transient"
	q "lapwork/generator/quantity"
)

// Moisture of timber beside a plane, USDA Wood Handbook table 4-2, at 70 °F (21.1 °C): 16.0 % at 80 % humidity, 11.0 % at 60 %, to
// the 0.05 by which the handbook's own equation leaves its table. Ten humid days are averaged away: (10·0.95 + 20·0.60)/30 is
// 71.7 %, between 13.1 % at 70 % and 14.4 % at 75 %; thirty over the turn of the year are not.
func TestTimberMoisture(t *testing.T) {
	year := func(humid func(day int) q.Ratio) transient.InterfaceYear {
		var p transient.InterfaceYear
		for day := range 365 {
			p.Humidity, p.Temperature = append(p.Humidity, humid(day)), append(p.Temperature, (70-32)/1.8)
		}
		return p
	}
	for name, tt := range map[string]struct {
		humid     func(day int) q.Ratio
		low, high float64
	}{
		"even": {func(int) q.Ratio { return 0.80 }, 15.95, 16.05},
		"ten humid days": {func(day int) q.Ratio {
			if day >= 100 && day < 110 {
				return 0.95
			}
			return 0.60
		}, 13.1, 14.4},
		"thirty over the turn of the year": {func(day int) q.Ratio {
			if day < 15 || day >= 350 {
				return 0.80
			}
			return 0.60
		}, 15.95, 16.05},
	} {
		got, err := year(tt.humid).TimberMoisture()
		if err != nil || float64(got) < tt.low || float64(got) > tt.high {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
}

// A wall that holds its limits is proven with timber in it; behind roofing felt and an open sheet its timber comes over 20 %, and a
// wall without timber there is not asked.
func TestTimberInTheVerdict(t *testing.T) {
	c := mannheim(t, 3)
	good := timberWall()
	good.Source = transient.Reserve{Interface: 3, PerYear: transient.WallReserve}
	limits := transient.Criteria{Free: 100, Reserve: transient.WallReserve, Timber: []int{2, 3, 4}}
	if j := transient.Judge(simulate(t, good, c, transient.Options{}), good, limits); j.Verdict != transient.Proven {
		t.Errorf("%+v", j)
	}
	bad := timberWall()
	bad.Source = good.Source
	bad.Layers[1].Film = filmOf(0.05)
	bad.Layers[4] = transient.Layer{Name: "roofing", Film: filmOf(100)}
	r := simulate(t, bad, c, transient.Options{})
	if j := transient.Judge(r, bad, limits); !has(j, transient.TimberTooWet) || j.Verdict != transient.Fails {
		t.Errorf("%+v", j)
	}
	limits.Timber = nil
	if j := transient.Judge(r, bad, limits); has(j, transient.TimberTooWet) {
		t.Errorf("%+v", j)
	}
}
