package assess

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/job"
	_ "lapwork/generator/lawtest"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Whatever the pieces, feed gives them all back in order; a piece is cut from a roll or from one rip, never fed and
// feeding; what one rip feeds fits into it, piece by piece and in area; less sheet comes from rolls than before.
func TestLawOfFeeding(t *testing.T) {
	rooms := []*surface.Surface{{ID: "A1-W1", Room: &job.Room{ID: "A1"}}, {ID: "A2-W1", Room: &job.Room{ID: "A2"}}}
	rapid.Check(t, func(t *rapid.T) {
		var pieces []CutPiece
		for i := range rapid.IntRange(0, 25).Draw(t, "pieces") {
			roll := q.MM(rapid.SampledFrom([]int{1350, 1500, 3000}).Draw(t, "roll"))
			p := CutPiece{ID: fmt.Sprint(i), Surface: rapid.SampledFrom(rooms).Draw(t, "room"), RollWidth: roll, Width: roll,
				Cut: q.MM(rapid.IntRange(200, 8000).Draw(t, "cut"))}
			if rapid.Bool().Draw(t, "ripped") {
				p.Width = q.MM(rapid.IntRange(1, int(roll)).Draw(t, "width"))
			}
			pieces = append(pieces, p)
		}
		out := feed(pieces)
		if len(out) != len(pieces) {
			t.Fatalf("%d pieces of %d", len(out), len(pieces))
		}
		fed := map[string]string{}
		for i, p := range out {
			if p.ID != pieces[i].ID || p.Cut != pieces[i].Cut || p.Width != pieces[i].Width {
				t.Errorf("%+v became %+v", pieces[i], p)
			}
			if p.OffcutOf != "" && len(p.Feeds) > 0 {
				t.Errorf("%s is fed and feeds", p.ID)
			}
			area := q.MM(0)
			for _, x := range p.Feeds {
				fed[x.ID] = p.ID
				area += x.Width * x.Cut
				if x.Width > p.RollWidth-p.Width || x.Cut > p.Cut {
					t.Errorf("%d x %d does not fit the rip of %+v", x.Width, x.Cut, p)
				}
			}
			if area > (p.RollWidth-p.Width)*p.Cut {
				t.Errorf("the rip of %s feeds %d mm²", p.ID, area)
			}
		}
		for _, p := range out {
			if fed[p.ID] != p.OffcutOf {
				t.Errorf("%s comes from %q, listed at %q", p.ID, p.OffcutOf, fed[p.ID])
			}
		}
	})
}

// Every way of laying is ordered the same from both sides, so that the first one does not depend on the order given.
func TestLawOfChoices(t *testing.T) {
	draw := func(t *rapid.T) Choice {
		c := Choice{barred: rapid.Bool().Draw(t, "barred"), Why: Why{Reason: rapid.SampledFrom([]LayReason{ByCost, WideDrops, AgainstRule}).Draw(t, "why")}}
		c.Cost = LayCost{Known: rapid.Bool().Draw(t, "known"), Sheet: rapid.Int64Range(0, 2).Draw(t, "cost")}
		c.Pieces = rapid.IntRange(1, 2).Draw(t, "pieces")
		return c
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := draw(t), draw(t), draw(t)
		if a.compare(b) != -b.compare(a) {
			t.Errorf("%+v against %+v: %d and %d", a, b, a.compare(b), b.compare(a))
		}
		if a.compare(b) <= 0 && b.compare(c) <= 0 && a.compare(c) > 0 {
			t.Errorf("%+v, %+v and %+v go round", a, b, c)
		}
	})
}
