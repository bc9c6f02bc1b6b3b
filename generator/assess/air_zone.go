package assess

import (
	"slices"

	"lapwork/generator/calc/leakage"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// ZoneBudget is the part of the leakage budget that one fan test covers.
type ZoneBudget struct {
	Scope   Scope
	Volume  q.Volume       // of its rooms as stated in the job
	Budget  leakage.Budget // of the places in its rooms
	Allowed q.AirFlow      // of the target's flow at 50 Pa, the share of its volume; 0: not known
}

// Over says that more is expected than the zone's share of the target.
func (z ZoneBudget) Over() bool { return z.Allowed > 0 && z.Budget.Sum.Expected > z.Allowed }

// zoneBudgets splits the budget by the test zones that the job states; nil where one test covers everything. A room counts in
// the first zone that has it, and a place where its room is, so nothing counts twice; heated rooms in no zone make one more. The
// target's flow is shared by volume, which keeps n50 the same in every zone.
func (r *Results) zoneBudgets(a *Air) ([]ZoneBudget, error) {
	scopes, all := r.heatedZones()
	if len(scopes) < 2 || all <= 0 {
		return nil, nil
	}
	var out []ZoneBudget
	for _, s := range scopes {
		z := ZoneBudget{Scope: s}
		for _, shape := range r.Model.Rooms {
			if shape.Room.Heated && slices.Contains(s.Rooms, shape.Room) {
				z.Volume += shape.Volume
			}
		}
		var spots []Spot
		for _, x := range a.Spots {
			if slices.Contains(s.Rooms, x.Room) {
				spots = append(spots, x)
			}
		}
		var err error
		if z.Budget, err = leakage.Sum(byKind(spots), leakage.ReferenceDensity); err != nil {
			return nil, err
		}
		z.Allowed = q.AirFlow(float64(a.Target.Allowed) * float64(z.Volume/all))
		out = append(out, z)
	}
	return out, nil
}

// heatedZones gives the rooms of each stated test zone, whether they carry the layer or not, and the heated volume of all.
func (r *Results) heatedZones() (out []Scope, all q.Volume) {
	left := slices.Clone(r.Job.Rooms)
	take := func(s Scope, mine func(*job.Room) bool) {
		for _, room := range left {
			if mine(room) {
				s.Rooms = append(s.Rooms, room)
			}
		}
		left = slices.DeleteFunc(left, mine)
		if len(s.Rooms) > 0 {
			out = append(out, s)
		}
	}
	for _, z := range r.Job.Zones {
		name := z.Name
		if name == "" {
			name = r.say("zone %s", z.ID)
		}
		take(Scope{Kind: "zone", ID: "Z" + z.ID, Name: name}, func(room *job.Room) bool { return len(z.Rooms) == 0 || slices.Contains(z.Rooms, room.ID) })
	}
	take(Scope{Kind: "zone", ID: "Z", Name: r.say("rooms outside the stated zones")}, func(room *job.Room) bool { return room.Heated })
	for _, shape := range r.Model.Rooms {
		if shape.Room.Heated {
			all += shape.Volume
		}
	}
	return out, all
}
