package library

import "testing"

// Boards that are the layer are ordered as the surface names them; a panel that stands is not; what lets air through, or is no
// board, is nobody's to decide on site. Common practice, no source.
func TestBoardsAreThoseOfTheSurface(t *testing.T) {
	l := builtin(t)
	for sub, want := range map[string]struct{ board, variant string }{
		"osb": {"board-osb", "default"}, "osb-rough": {"board-osb", "default"}, "plywood": {"board-plywood", "default"},
		"plasterboard": {"board-gypsum", "default"}, "gypsum-fibre": {"board-gypsum-fibre", "default"}, "board-noncomb": {"board-noncomb", "default"},
		"clt-glulam": {"", "panel-stands"}, "wood-fibre": {"", "no-air-layer"}, "timber-planed": {"", "board-not-named"},
	} {
		sel, _ := pick(t, l, "edge=field;surface_a=wall;layer=board;layer_a=board;substrate_b="+sub)
		if sel.Statement.ID != "field-board" || sel.Variant.ID != want.variant || (sel.Unresolved != "") != (want.variant == "no-air-layer" || want.variant == "board-not-named") {
			t.Errorf("%s: %s/%s, %q", sub, sel.Statement.ID, sel.Variant.ID, sel.Unresolved)
		}
		got := ""
		for _, c := range sel.Lines {
			if c.Component != "screw-board" {
				got += string(c.Component)
			}
		}
		if got != want.board {
			t.Errorf("%s: orders %q, want %q", sub, got, want.board)
		}
	}
	if sel, _ := pick(t, l, "edge=field;surface_a=slope;layer=board;substrate_b=osb"); sel.Variant.ID != "ceiling" || sel.Activity != "hang-ceilings" {
		t.Errorf("overhead: %s in %s", sel.Variant.ID, sel.Activity)
	}
}
