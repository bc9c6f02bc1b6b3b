package pack

import (
	"fmt"
	"slices"

	"lapwork/generator/assess"
	"lapwork/generator/parallel"
	"lapwork/generator/record"
)

// signOffs gives the sign-off pages: each room, each storey, each test zone, the job.
func (a *assembler) signOffs() []Page {
	type sheet struct {
		scope, place string
		back         Link
	}
	var sheets []sheet
	for _, st := range a.Job.Storeys {
		for _, room := range a.layerRooms(st) {
			name := string(room.ID) + " " + room.Name
			sheets = append(sheets, sheet{string(room.ID), name, Link{Text: name, Path: roomPath(room.ID)}})
		}
		if scope := assess.StoreyScope(st.ID); len(a.Results.ChecksIn(scope)) > 0 {
			sheets = append(sheets, sheet{scope, st.Name, Link{Text: a.say("Overview"), Path: "index.html"}})
		}
	}
	for _, zone := range a.Zones() {
		sheets = append(sheets, sheet{assess.ZoneScope(zone), a.say("Fan tests, %s", zone.Name), Link{Text: a.say("Airtightness"), Path: "air.html"}})
	}
	sheets = append(sheets, sheet{assess.JobScope, a.say("The whole job"), Link{Text: a.say("Overview"), Path: "index.html"}})
	return parallel.Map(len(sheets), func(i int) Page { return a.signOff(sheets[i].scope, sheets[i].place, sheets[i].back) })
}

// signOff is one sign-off page: the checks of its scope by activity, each group closed by its hold.
func (a *assembler) signOff(scope, place string, back Link) Page {
	v := &SignOff{Place: place, Back: back}
	for _, c := range a.Results.ChecksIn(scope) {
		if n := len(v.Groups); n == 0 || v.Groups[n-1].Title != c.Activity.Title {
			v.Groups = append(v.Groups, SignGroup{Title: c.Activity.Title})
		}
		g := &v.Groups[len(v.Groups)-1]
		view := a.checks[c.Key]
		if c.Hold != nil {
			if g.Hold == "" && !v.has(c.Hold.ID) {
				g.Anchor = c.Hold.ID
			}
			g.Hold, g.HoldText, g.Signs = c.Hold.ID, c.Hold.Release, append(g.Signs, view)
			continue
		}
		g.Checks = append(g.Checks, view)
	}
	v.Seal = record.Seal(v.Statement())
	v.QR = a.qr(fmt.Sprintf("%s %s seal %s", packID(a.Job.Reference), signPath(scope), v.Seal[:16]))
	return Page{Path: signPath(scope), Kind: KindSignOff, Title: a.say("Sign-off: %s", place), Where: a.say("Sign-off %s", scope), SignOff: v}
}

// has is whether a group is closed by a hold.
func (v *SignOff) has(hold string) bool {
	return slices.ContainsFunc(v.Groups, func(g SignGroup) bool { return g.Hold == hold })
}

// defects is the defect log. Its words are those of the inspection plan (common practice, no source).
func (a *assembler) defects() Page {
	v := &Defects{
		Kinds:      []string{a.say("gap"), a.say("peel"), a.say("bridge"), a.say("tear"), a.say("missing"), a.say("wrong part"), a.say("dirty"), a.say("wet"), a.say("new hole"), a.say("other")},
		Severities: []string{a.say("minor"), a.say("medium"), a.say("major")},
		Causes:     []string{a.say("method"), a.say("product"), a.say("substrate"), a.say("other trade"), a.say("design"), a.say("weather")},
		Rules: []string{a.say("Never delete a line."), a.say("Minor: cosmetic, or air slower than 0.5 m/s at 50 Pa."),
			a.say("Medium: 0.5 to 2 m/s, or a tolerance missed without flow."),
			a.say("Major: faster than 2 m/s, a junction missing, anything hot, fire or gas, timber wetter than 20 %%, the wrong sheet."),
			a.say("Major keeps H4 and H6 locked."), a.say("One failure in a sample: check all of that kind in the room."),
			a.say("Accepted with a reason: name the designer and the client.")},
		Rows: 12, Home: a.defectRows(),
	}
	for _, p := range a.Results.Places {
		title := a.what(p.Record)
		if p.Answered() {
			title = p.Chosen.Statement.Title
		}
		v.Places = append(v.Places, Term{p.Record.ID, title})
	}
	return Page{Path: "defects.html", Kind: KindDefects, Title: a.say("Defects"), Where: a.say("Defects"), Defects: v}
}
