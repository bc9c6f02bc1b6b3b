package assess

import (
	"slices"
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
		found.Openf(c.BuildUp.Pos, string(c.BuildUp.ID), c.WayOut(), "%s", c.OpenPoint())
	}
}

// OpenPoint is the finding about a check that is open.
func (c *MoistureCheck) OpenPoint() string {
	text := "moisture not proven: " + c.because()
	switch c.Outcome {
	case Uncomputed:
		text = "moisture not computed: " + c.Problem
	case Fails:
		text = "the moisture check fails: " + c.because()
	}
	text = "build-up " + string(c.BuildUp.ID) + ": " + text + "."
	if c.Sheet {
		text += " Hanging stays locked (H1)."
	}
	return text
}

// WayOut says how an open check is closed.
func (c *MoistureCheck) WayOut() string {
	out := "have the designer prove it another way, or record who accepts it: accepted: [{build-up: " + string(c.BuildUp.ID) + ", check: moisture, by: …, reason: …}]"
	switch {
	case c.Outcome == Uncomputed:
		return c.Hint + "; or " + out
	case slices.ContainsFunc(c.Reasons, func(r Reason) bool { return r.Unanswered }):
		return "answer what is not answered under exposure in the build-up, and under indoor; then " + out
	}
	return out
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

// unnamed lists the surfaces that carry the sheet and lose heat, but name no build-up: nothing can be checked there.
func (r *Results) unnamed(found *diag.List) {
	var ids []string
	for _, l := range r.Layouts {
		if s := l.Surface; s.Face.BuildUp == nil && s.LosesHeat {
			ids = append(ids, string(s.ID))
		}
	}
	if len(ids) > 0 {
		found.Openf(r.Job.Pos, "", "add its layers under build-ups, and name it in the faces: build-up: …",
			"no build-up is stated for %s: moisture is not checked there. Hanging stays locked (H1).", several(ids))
	}
}
