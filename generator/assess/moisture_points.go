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
	text := c.texts.Say("build-up %s: moisture not proven: %s.", c.BuildUp.ID, c.because())
	switch c.Outcome {
	case Uncomputed:
		text = c.texts.Say("build-up %s: moisture not computed: %s.", c.BuildUp.ID, c.Problem)
	case Fails:
		text = c.texts.Say("build-up %s: the moisture check fails: %s.", c.BuildUp.ID, c.because())
	}
	if c.Sheet {
		text = c.texts.Say("%s Hanging stays locked (H1).", text)
	}
	return text
}

// WayOut says how an open check is closed.
func (c *MoistureCheck) WayOut() string {
	out := c.texts.Say("have the designer prove it another way, or record who accepts it: accepted: [{build-up: %s, check: moisture, by: …, reason: …}]", c.BuildUp.ID)
	switch {
	case c.Outcome == Uncomputed:
		return c.texts.Say("%s; or %s", c.Hint, out)
	case slices.ContainsFunc(c.Reasons, func(r Reason) bool { return r.Unanswered }):
		return c.texts.Say("answer what is not answered under exposure in the build-up, and under indoor; then %s", out)
	}
	return out
}

// because lists the reasons of a check in one line.
func (c *MoistureCheck) because() string {
	var out []string
	for _, reason := range c.Reasons {
		text := reason.Text
		if reason.Unanswered {
			text = c.texts.Say("%s (not answered)", text)
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
