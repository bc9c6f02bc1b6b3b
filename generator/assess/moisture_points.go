package assess

import (
	"strings"

	"lapwork/generator/diag"
)

// moisturePointsOpen lists the build-ups whose moisture check opens nothing by itself: they keep hanging locked (H1) until the
// job records who accepted them and why.
func (r *Results) moisturePointsOpen(m *Moisture, found *diag.List) {
	for _, c := range m.Checks {
		if !c.Open() {
			continue
		}
		id, text, hint := string(c.BuildUp.ID), "", "have the designer prove it another way, or record who accepts it: accepted: {build-up: "+string(c.BuildUp.ID)+", check: moisture, by: …, reason: …}"
		switch c.Outcome {
		case Uncomputed:
			text = "moisture not computed: " + c.Problem
			hint = c.Hint + "; or " + hint
		case Fails:
			text = "the moisture check fails: " + c.Reasons[0].Text
		default:
			text = "moisture not proven: " + c.because()
		}
		locked := ""
		if c.Sheet {
			locked = " Hanging stays locked (H1)."
		}
		found.Openf(c.BuildUp.Pos, id, hint, "build-up %s: %s.%s", id, text, locked)
	}
}

// because lists the reasons of a check in one line.
func (c *MoistureCheck) because() string {
	var out []string
	for _, reason := range c.Reasons {
		text := reason.Text
		if reason.Unanswered {
			text += " (not answered)"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
