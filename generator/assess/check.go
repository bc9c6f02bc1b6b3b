package assess

import (
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/library"
)

// Check is one line of the check plan: one check of the inspection plan for one kind of place in a room, or for a room,
// zone or the job as a whole.
type Check struct {
	Key      string // scope/QA/object: the statement, or the scope itself
	Scope    string // room id, storey id with a leading S, or job
	Room     *job.Room
	QA       *library.QACheck
	Accept   string
	Range    library.Range // of the number recorded
	Activity *library.Activity
	Hold     *library.Hold // set on a signature that releases a hold
	Signer   string        // role of that signature, where a hold wants several
	Places   []string
}

// JobScope is the scope of what is checked once. It holds a hyphen, as the scopes of storeys and zones do, so that no room's
// id can be the same.
const JobScope = "whole-job"

// StoreyScope is the scope of what is checked once a storey.
func StoreyScope(s job.StoreyID) string { return "storey-" + string(s) }

// ZoneScope is the scope of what is checked once a test zone.
func ZoneScope(s Scope) string {
	if id := strings.TrimPrefix(s.ID, "Z"); id != "" {
		return "zone-" + id
	}
	return "zone-all"
}

// checkPlan lists every check of the job.
func (r *Results) checkPlan() []Check {
	var out []Check
	for _, room := range r.Job.Rooms {
		first := r.firstActivity(room)
		for _, stage := range r.Stages[room.ID] {
			out = append(out, r.stageChecks(room, stage, first)...)
		}
	}
	for _, st := range r.Job.Storeys {
		if r.storeyHasLayer(st) {
			out = append(out, r.wide(StoreyScope(st.ID), "storey")...)
		}
	}
	for _, zone := range r.Zones() {
		out = append(out, r.wide(ZoneScope(zone), "zone")...)
	}
	return append(append(out, r.briefing()...), r.wide(JobScope, "job")...)
}

func (r *Results) storeyHasLayer(st *job.Storey) bool {
	return slices.ContainsFunc(r.Job.Rooms, func(room *job.Room) bool { return room.Storey == st && r.HasLayer(room.ID) })
}

// wide lists the checks of activities that concern a whole storey, zone or job.
func (r *Results) wide(scope string, scopes ...string) []Check {
	var out []Check
	for _, a := range r.Library.Activities.All() {
		if !slices.Contains(scopes, a.Scope) {
			continue
		}
		for _, id := range a.Checks {
			if qa := r.Library.Checks.Find(id); qa != nil && r.applies(qa) {
				out = append(out, Check{Key: again(out, checkKey(scope, id, scope), a), Scope: scope, QA: qa, Accept: qa.Accept, Range: r.wideRange(qa), Activity: a})
			}
		}
		out = append(out, r.holdChecks(scope, nil, a)...)
	}
	return out
}

// stageChecks lists the checks of one activity in a room: for each kind of place its own acceptance, then what the plan
// asks of the room whatever stands in it, then the signatures that release the hold. first says where each check stands.
func (r *Results) stageChecks(room *job.Room, stage Stage, first map[string]string) []Check {
	scope := string(room.ID)
	var out []Check
	covered := map[string]bool{}
	for _, id := range stage.Activity.Checks {
		qa := r.Library.Checks.Find(id)
		if qa == nil || !r.applies(qa) {
			continue
		}
		for _, g := range r.groups(room, id) {
			covered[id] = true
			out = append(out, Check{Key: checkKey(scope, id, g.object), Scope: scope, Room: room, QA: qa, Accept: g.accept(), Range: g.rangeOf(qa),
				Activity: stage.Activity, Places: g.places()})
		}
		if !covered[id] && !r.onlyByStatement(qa) {
			out = append(out, Check{Key: checkKey(scope, id, scope), Scope: scope, Room: room, QA: qa, Accept: qa.Accept, Range: qa.Range, Activity: stage.Activity})
		}
	}
	return append(dedupe(out, first), r.holdChecks(scope, room, stage.Activity)...)
}

// firstActivity says, for each check of a room, in which activity it stands: the first of its own that the room has.
func (r *Results) firstActivity(room *job.Room) map[string]string {
	first := map[string]string{}
	for _, s := range r.Stages[room.ID] {
		for _, id := range s.Activity.Checks {
			if first[id] == "" {
				first[id] = s.Activity.ID
			}
		}
	}
	return first
}

// dedupe keeps a check in its first activity only; a daily one is read off the first too.
func dedupe(checks []Check, first map[string]string) []Check {
	return slices.DeleteFunc(checks, func(c Check) bool { return first[c.QA.ID] != c.Activity.ID })
}

// onlyByStatement reports whether a check makes no sense without a place: the installers' checks of sheet, boards and single seals.
func (r *Results) onlyByStatement(qa *library.QACheck) bool {
	switch qa.ID {
	case "QA-08", "QA-13", "QA-15", "QA-16", "QA-18", "QA-19", "QA-20", "QA-21", "QA-22", "QA-23", "QA-24", "QA-25", "QA-26", "QA-30", "QA-35", "QA-45":
		return true
	}
	return false
}

// applies reports whether a check belongs to this job.
func (r *Results) applies(qa *library.QACheck) bool {
	if strings.Contains(qa.OnlyIf, "existing") {
		return r.Job.State.Retrofit
	}
	return true
}

// holdChecks are the signatures that release an activity's hold: one for each role that signs.
func (r *Results) holdChecks(scope string, room *job.Room, a *library.Activity) []Check {
	if a.Hold == "" {
		return nil
	}
	h := r.Library.Holds.Find(a.Hold)
	if h == nil {
		return nil
	}
	one := Check{Key: checkKey(scope, h.ID, scope), Scope: scope, Room: room, Accept: h.Release, Activity: a, Hold: h}
	if len(h.Signs) < 2 {
		return []Check{one}
	}
	out := make([]Check, len(h.Signs))
	for i, role := range h.Signs {
		out[i] = one
		out[i].Key, out[i].Signer = checkKey(scope, h.ID, role), role
	}
	return out
}
