package library

import (
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator/diag"
)

// A row about weights or substitutes that cannot be meant is a fault at its place.
func TestGoodsThatCannotBe(t *testing.T) {
	const weights, substitutes = "component,low,likely,high,source,status\n", "id,component,instead,factor,changes,source,status\n"
	for _, c := range []struct{ file, row, want string }{
		{"weights", "tape-split,0.02,0.01,0.04,own scales,confirmed", "not in this order"},
		{"weights", "tape-split,0,0.01,0.04,own scales,confirmed", "no amount over zero"},
		{"weights", "tape-split,,0.01,0.04,own scales,confirmed", `column "low" is empty`},
		{"weights", "tape-splot,0.01,0.01,0.04,own scales,confirmed", `unknown component "tape-splot"`},
		{"substitutes", "x,tape-split,tape-split,1,nothing,own,common practice", "stands for itself"},
		{"substitutes", "x,tape-split,primer-water,1,all,own,common practice", "counted in m, primer-water in ml"},
		{"substitutes", "x,sheet-variable,sheet-open,1,sd,own,common practice", "a sheet has no substitute"},
		{"substitutes", "x,tape-split,tape-wide-100,NaN,all,own,common practice", "no amount over zero"},
	} {
		head := map[string]string{"weights": weights, "substitutes": substitutes}[c.file]
		firm := fstest.MapFS{"tables/" + c.file + ".csv": {Data: []byte(head + c.row + "\n")}}
		var found diag.List
		Load(content.FS, firm, nil, &found)
		err := found.Err()
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "firm/tables/"+c.file+".csv:2:") {
			t.Errorf("%s: want %q, got %v", c.row, c.want, err)
		}
	}
}

// Every component that is ordered has a weight. A roll of 1.5 m by 50 m weighs 6 to 15 kg (R-GEO-4, common practice).
func TestWeightsOfAllGoods(t *testing.T) {
	var found diag.List
	l := Load(content.FS, nil, nil, &found)
	for _, c := range l.Components.All() {
		switch c.Class {
		case "placeholder", "tool", "ppe":
		default:
			if _, ok := l.MassOf(c.ID, 1); !ok {
				t.Errorf("%s has no weight", c.ID)
			}
		}
	}
	if m, ok := l.MassOf("sheet-variable", 75); !ok || m < 6 || m > 15 {
		t.Errorf("a roll weighs %v kg", m)
	}
	if len(l.SubstitutesOf("tape-single-60")) < 2 {
		t.Error("nothing stands for tape-single-60")
	}
}
