package pack

import (
	"lapwork/generator/assess"
	"lapwork/generator/job"
)

// WidthRow is the sheet of the job in rolls of one width.
type WidthRow struct{ Width, Sheet, Pieces, Tape, Rolls, Cost, Note string }

// InsteadRow is a component beside one that can stand for it.
type InsteadRow struct {
	Name, Order, Cost        string
	Other, OtherOrder, Costs string
	Changes, Status          string
}

// widths sets the stocked roll widths side by side.
func (a *assembler) widths() []WidthRow {
	var out []WidthRow
	for _, t := range a.Widths() {
		row := WidthRow{Width: a.say("as laid"), Sheet: a.format.Area(t.Sheet), Pieces: a.say("%d pieces", t.Pieces), Tape: a.format.Metres(t.Tape)}
		if t.Width > 0 {
			row.Width = a.say("all in %s rolls", a.format.MM(t.Width))
		}
		row.Rolls = a.say("%d rolls, %s", t.Rolls, a.format.Area(t.Bought))
		if !t.Proven {
			row.Rolls = a.say("at most %d rolls, %s", t.Rolls, a.format.Area(t.Bought))
		}
		if t.Known {
			row.Cost = a.format.Money(t.Cost, a.Job.Currency())
		}
		if t.Kept > 0 {
			row.Note = a.say("%d surfaces cannot be laid in it and stay as laid", t.Kept)
		}
		out = append(out, row)
	}
	return out
}

// instead lists what could be bought in place of a component.
func (a *assembler) instead() []InsteadRow {
	var out []InsteadRow
	for _, x := range a.Results.Instead() {
		out = append(out, InsteadRow{Name: a.componentName(string(x.Substitute.Component)), Order: a.packsText(x.Substitute.Component, x.Packs), Cost: a.costOf(x.Price),
			Other: a.componentName(string(x.Substitute.Instead)), OtherOrder: a.packsText(x.Substitute.Instead, x.Swap), Costs: a.costOf(x.SwapPrice),
			Changes: x.Substitute.Changes, Status: a.status(x.Substitute.Source)})
	}
	return out
}

func (a *assembler) packsText(id job.ComponentID, packs int) string {
	c := a.Library.Components.Find(string(id))
	if c == nil || c.Pack.Likely <= 0 {
		return ""
	}
	return a.say("%d of %s", packs, a.format.Amount(c.Pack.Likely, c.Unit))
}

// costOf writes a sum; where the job states prices but this one is missing, it says so.
func (a *assembler) costOf(sum *int64) string {
	switch {
	case a.Job.Currency() == "":
		return ""
	case sum == nil:
		return a.say("no price")
	}
	return a.format.Money(*sum, a.Job.Currency())
}

// Unit is the page of a kind of dwelling that is built several times.
type Unit struct {
	Name      string
	Facts     []Term
	Instances []UnitInstance
}

// UnitInstance is one dwelling of it, with records of its own.
type UnitInstance struct {
	ID, Name        string
	Rooms, SignOffs []Link
}

func unitPath(id string) string { return "units/" + id + ".html" }

// unitPages gives a page for each kind of dwelling.
func (a *assembler) unitPages() []Page {
	var out []Page
	for i := range a.Job.Units {
		u := &a.Job.Units[i]
		out = append(out, Page{Path: unitPath(u.ID), Kind: KindUnit, Title: u.Name, Where: u.Name, Unit: a.unit(u)})
	}
	return out
}

// unitLinks are the entries of the menu for kinds of dwelling.
func (a *assembler) unitLinks() []Link {
	var out []Link
	for _, u := range a.Job.Units {
		out = append(out, Link{Text: u.Name, Path: unitPath(u.ID)})
	}
	return out
}

func (a *assembler) unit(u *job.Unit) *Unit {
	v := &Unit{Name: a.say("%d built after one plan", len(u.Instances)), Facts: a.unitFacts(u)}
	for _, inst := range u.Instances {
		row := UnitInstance{ID: inst.ID, Name: inst.Name}
		if inst.Mirrored {
			row.Name = a.say("%s, left for right", inst.Name)
		}
		for _, id := range inst.Rooms {
			if !a.HasLayer(id) {
				continue
			}
			row.Rooms = append(row.Rooms, Link{Text: string(id), Path: roomPath(id)})
			row.SignOffs = append(row.SignOffs, Link{Text: string(id), Path: signPath(string(id))})
		}
		if zone := a.zoneOf(inst); zone != "" {
			row.SignOffs = append(row.SignOffs, Link{Text: a.say("fan tests"), Path: signPath(zone)})
		}
		v.Instances = append(v.Instances, row)
	}
	return v
}

// zoneOf gives the sign-off of the test zone that is this dwelling and nothing else; empty: there is none.
func (a *assembler) zoneOf(inst job.Instance) string {
	for _, z := range a.Zones() {
		if len(z.Rooms) == 0 {
			continue
		}
		in := map[job.RoomID]bool{}
		for _, id := range inst.Rooms {
			in[id] = a.HasLayer(id)
		}
		same := true
		for _, room := range z.Rooms {
			same = same && in[room.ID]
			delete(in, room.ID)
		}
		for _, more := range in {
			same = same && !more
		}
		if same {
			return assess.ZoneScope(z)
		}
	}
	return ""
}

// unitFacts are the sums of all instances, and of each where they are alike.
func (a *assembler) unitFacts(u *job.Unit) []Term {
	each := make([]assess.Share, len(u.Instances))
	var all assess.Share
	for i, inst := range u.Instances {
		each[i] = a.ShareOf(inst.Rooms)
		all = all.Plus(each[i])
	}
	f := a.format
	terms := []Term{{a.say("Layer, net"), f.Area(all.Layer)}, {a.say("Sheet cut"), f.Area(all.Sheet)}, {a.say("Fitting"), f.Minutes(all.Minutes.Likely)}}
	alike := len(each) > 1
	for _, s := range each {
		alike = alike && s.Like(each[0])
	}
	if alike {
		s := each[0]
		for i, one := range []string{f.Area(s.Layer), f.Area(s.Sheet), f.Minutes(s.Minutes.Likely)} {
			terms[i].Text = a.say("%s in all, %s each", terms[i].Text, one)
		}
	} else if len(each) > 1 {
		for i, s := range each {
			terms = append(terms, Term{u.Instances[i].Name, a.say("layer %s, sheet %s, fitting %s", f.Area(s.Layer), f.Area(s.Sheet), f.Minutes(s.Minutes.Likely))})
		}
	}
	return terms
}
