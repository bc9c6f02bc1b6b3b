package assess

import (
	"strings"

	"lapwork/generator/library"
)

// briefing is the check that each named worker has heard the safety briefing: one signature a person, before the first
// tool is lifted (common practice, no source).
func (r *Results) briefing() []Check {
	a := r.Library.Activities.Find("brief")
	if a == nil {
		return nil
	}
	qa := &library.QACheck{ID: "BRIEF", Title: r.say("Safety briefing heard"), Signs: "fitter", Record: []string{"signature"},
		Method: r.say("the site lead goes through the cautions of this pack, the emergency number, the assembly point and where power, water and gas are turned off"),
		Accept: r.say("each person on site signs in their own name"), Failure: r.say("no work by who has not heard it")}
	var out []Check
	for _, name := range r.crewNames() {
		out = append(out, Check{Key: JobScope + "/" + qa.ID + "/" + strings.ReplaceAll(name, " ", "-"), Scope: JobScope, QA: qa, Accept: qa.Accept, Activity: a, Places: []string{name}})
	}
	return out
}

// crewNames lists who works on site: the fitters and the site lead of the job, and who else the safety data name.
func (r *Results) crewNames() []string {
	var out []string
	seen := map[string]bool{}
	add := func(name string) {
		if name != "" && !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}
	for _, p := range r.Job.People {
		if p.Role == "site-lead" || p.Role == "fitter" {
			add(p.Name)
		}
	}
	for _, name := range r.Job.Safety.Briefed {
		add(name)
	}
	return out
}
