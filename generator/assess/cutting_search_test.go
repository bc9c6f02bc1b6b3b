package assess

import (
	"context"
	"testing"

	"lapwork/generator/calc/rolls"
	"lapwork/generator/job"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"

	"pgregory.net/rapid"
)

// Whatever the pieces: where counted work stops before a proof, an open search ends with a plan that is proven and costs no
// more; where the search is over before it begins, or was never opened, the plan stays as it is; what the clock ended is marked.
func TestLawOfSearching(t *testing.T) {
	over, end := context.WithCancel(context.Background())
	end()
	stopped, searched := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		c := Context{Job: &job.Job{Stock: []job.StockRoll{{Component: "sheet-main", Width: 1500, Length: 10_000}, {Component: "sheet-main", Width: 1500, Length: 7000}}}}
		var pieces []CutPiece
		for i := range rapid.IntRange(6, 18).Draw(t, "pieces") {
			pieces = append(pieces, CutPiece{ID: string(rune('a' + i)), RollWidth: 1500, Width: 1500, Cut: q.MM(rapid.IntRange(900, 5200).Draw(t, "cut"))})
		}
		plan := func(search context.Context) (before, after rolls.Plan) {
			k := c.newCutter(nil)
			k.work, k.Search = 1, search
			before, err := k.cutRolls(context.Background(), 1500, pieces, nil, 0, 0)
			if err != nil {
				t.Fatal(err)
			}
			p := batchPlan{widths: []q.MM{1500}, pieces: map[q.MM][]CutPiece{1500: pieces}, rolls: map[q.MM]rolls.Plan{1500: before}}
			if err := k.search(&p); err != nil {
				t.Fatal(err)
			}
			return before, p.rolls[1500]
		}
		for _, search := range []context.Context{nil, over} {
			if before, after := plan(search); after.Cost != before.Cost || after.Bound != before.Bound || after.Aborted {
				t.Errorf("no search, and the plan goes from %d to %d", before.Cost, after.Cost)
			}
		}
		before, after := plan(context.Background())
		if !before.Proven() {
			stopped++
		}
		if after.Cost < before.Cost {
			searched++
		}
		if !after.Proven() || after.Aborted || after.Cost > before.Cost {
			t.Errorf("searched to the end: cost %d of %d, bound %d, ended by the clock %v", after.Cost, before.Cost, after.Bound, after.Aborted)
		}
	})
	if stopped == 0 {
		t.Error("counted work always ends with a proof: the law says nothing")
	}
	t.Log(stopped, "left unproven,", searched, "of them improved")
}
