package pack

import (
	"fmt"

	"lapwork/generator/assess"
	"lapwork/generator/record"
)

// signOffs gives the sign-off pages: each room, each storey, each test zone, the job.
func (a *assembler) signOffs() []Page {
	var out []Page
	for _, st := range a.Job.Storeys {
		rooms := a.layerRooms(st)
		for _, room := range rooms {
			out = append(out, a.signOff(string(room.ID), string(room.ID)+" "+room.Name, Link{Text: string(room.ID) + " " + room.Name, Path: roomPath(room.ID)}))
		}
		if scope := assess.StoreyScope(st.ID); len(a.Results.ChecksIn(scope)) > 0 {
			out = append(out, a.signOff(scope, st.Name, Link{Text: "Overview", Path: "index.html"}))
		}
	}
	for _, zone := range a.Zones() {
		out = append(out, a.signOff(assess.ZoneScope(zone), "Fan tests, "+zone.Name, Link{Text: "Airtightness", Path: "air.html"}))
	}
	return append(out, a.signOff(assess.JobScope, "The whole job", Link{Text: "Overview", Path: "index.html"}))
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
			g.Hold, g.HoldText, g.Sign = c.Hold.ID, c.Hold.Release, &view
			continue
		}
		g.Checks = append(g.Checks, view)
	}
	v.Seal = record.Seal(v.Statement())
	v.QR = a.qr(fmt.Sprintf("%s %s seal %s", packID(a.Job.Reference), signPath(scope), v.Seal[:16]))
	return Page{Path: signPath(scope), Kind: KindSignOff, Title: "Sign-off: " + place, Where: "Sign-off " + scope, SignOff: v}
}

// defects is the defect log. Its words are those of the inspection plan (common practice, no source).
func (a *assembler) defects() Page {
	v := &Defects{
		Kinds:      []string{"gap", "peel", "bridge", "tear", "missing", "wrong part", "dirty", "wet", "new hole", "other"},
		Severities: []string{"minor", "medium", "major"},
		Causes:     []string{"method", "product", "substrate", "other trade", "design", "weather"},
		Rules: []string{"Never delete a line.", "Minor: cosmetic, or air slower than 0.5 m/s at 50 Pa.",
			"Medium: 0.5 to 2 m/s, or a tolerance missed without flow.",
			"Major: faster than 2 m/s, a junction missing, anything hot, fire or gas, timber wetter than 20 %, the wrong sheet.",
			"Major keeps H4 and H6 locked.", "One failure in a sample: check all of that kind in the room.",
			"Accepted with a reason: name the designer and the client."},
		Rows: 12,
	}
	for _, p := range a.Results.Places {
		title := what(p.Record)
		if p.Answered() {
			title = p.Chosen.Statement.Title
		}
		v.Places = append(v.Places, Term{p.Record.ID, title})
	}
	return Page{Path: "defects.html", Kind: KindDefects, Title: "Defects", Where: "Defects", Defects: v}
}
