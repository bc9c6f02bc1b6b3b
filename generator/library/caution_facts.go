package library

import (
	"slices"

	"lapwork/generator/job"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
)

// RoomFacts gives what a job says about a room's safety; room may be nil for a page of the whole job. In existing buildings
// a room whose works nobody described counts as unanswered.
func RoomFacts(j *job.Job, room *job.Room) CautionFacts {
	f := CautionFacts{Retrofit: AnswerOf(j.State.Retrofit), Occupied: AnswerOf(j.State.Occupied),
		RadonArea: AnswerOf(j.Place.RadonArea), Burner: AnswerOf(len(j.Burners) > 0), Hot: No, PartyWall: No,
		CoversCables: No, FloorOnGround: No}
	works := job.Works{}
	if room != nil {
		works = room.Works
		f.FloorOnGround = AnswerOf(room.Floor.Behind == job.Ground)
	}
	f.DisturbsOldMaterial = AnswerOf(works.DisturbsOldMaterial)
	f.AbradesOldPaint = AnswerOf(works.AbradesOldPaint)
	f.DampSigns, f.Nests, f.Mould = AnswerOf(works.DampSigns), AnswerOf(works.Nests), AnswerOf(works.Mould)
	if room != nil && j.State.Retrofit && works == (job.Works{}) {
		f.DisturbsOldMaterial, f.AbradesOldPaint, f.DampSigns, f.Nests = Unanswered, Unanswered, Unanswered, Unanswered
	}
	f.StairOrVoid, f.HotWork = AnswerOf(works.StairOrVoid), AnswerOf(works.HotWork)
	f.LowSpace, f.HotRoom = AnswerOf(works.LowSpace), AnswerOf(works.HotRoom)
	f.PressurePipes, f.ExposedHazard = AnswerOf(works.PressurePipes), AnswerOf(works.ExposedHazard)
	f.Fibre, f.Flammables = works.InsulationFibre, works.SolventPrimer
	return f
}

// RecordFacts adds a record and what was selected for it to the facts of its room. Reach is how high the line lies over
// the floor.
func (l *Library) RecordFacts(f CautionFacts, r *junction.Record, sel Selection, reach q.Length) CautionFacts {
	f.Item, f.Hot, f.Reach = r.Item, AnswerOf(r.Hot), reach
	f.Overhead = slices.Contains([]string{"flat-ceiling", "slope"}, r.SurfaceA) || r.SurfaceB == "flat-ceiling"
	f.PartyWall = AnswerOf(r.SurfaceA == "party-wall" || r.SurfaceB == "party-wall")
	f.Cuts = f.Cuts || r.Edge != junction.Fixing
	if sel.Statement == nil {
		return f
	}
	for _, id := range sel.Statement.Cautions {
		f.Stated = append(f.Stated, CautionID(id))
	}
	for _, line := range sel.Lines {
		if c := l.Components.Find(string(line.Component)); c != nil {
			f.component(c)
		}
	}
	return f
}

// component adds what a component brings along.
func (f *CautionFacts) component(c *Component) {
	for _, id := range c.Cautions {
		f.Stated = append(f.Stated, CautionID(id))
	}
	switch c.Class {
	case "adhesive", "liquid", "primer":
		f.Chemicals, f.Adhesives = true, true
	case "tape":
		f.Adhesives = true
	case "board":
		f.HeavyParts = true
	}
	switch c.ID {
	case "staple":
		f.Staples = true
	case "plug-masonry", "screw-batten", "screw-board":
		f.Drills = true
	case "primer-solvent", "foam-gun", "wipe-alcohol":
		f.Flammables = true
	case "mortar-level":
		f.MineralDust = true
	case "sheet-tight":
		f.Conductive = true
	}
}
