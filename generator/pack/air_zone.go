package pack

// ZoneRow is the leakage budget of one test zone against its share of the target.
type ZoneRow struct{ Zone, Rooms, Volume, Low, Likely, High, Allowed, Verdict string }

// zoneRows are the budgets of the job's test zones.
func (a *assembler) zoneRows() []ZoneRow {
	var out []ZoneRow
	for _, z := range a.Air.Zones {
		row := ZoneRow{Zone: z.Scope.Name, Volume: a.format.Volume(z.Volume), Low: a.flow(z.Budget.Sum.Low), Likely: a.flow(z.Budget.Sum.Expected), High: a.flow(z.Budget.Sum.High)}
		for i, room := range z.Scope.Rooms {
			if i > 0 {
				row.Rooms += ", "
			}
			row.Rooms += string(room.ID)
		}
		if z.Allowed > 0 {
			row.Allowed, row.Verdict = a.flow(z.Allowed), a.say("within its share")
			if z.Over() {
				row.Verdict = a.say("more than its share")
			}
		}
		out = append(out, row)
	}
	return out
}
