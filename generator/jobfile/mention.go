package jobfile

import (
	"slices"
	"strings"

	"lapwork/generator/job"
)

// mentions turns every mention of a room of a unit, or of a part of one, into one of each instance's; the id of an
// instance where rooms are listed means all of its rooms.
func (p *repeater) mentions(raw *rawJob) {
	var burners []at[rawBurner]
	for _, b := range raw.burners.v {
		copies := p.copies[b.v.room.v]
		for _, room := range copies {
			c := b
			c.v.room.v = room
			c.v.id.v, _, _ = strings.Cut(room, ".")
			c.v.id.v += "." + b.v.id.v
			burners = append(burners, c)
		}
		if len(copies) == 0 {
			burners = append(burners, b)
		}
	}
	raw.burners.v = burners
	raw.zones.v = slices.Clone(raw.zones.v)
	for i := range raw.zones.v {
		raw.zones.v[i].v.rooms.v = p.spread(raw.zones.v[i].v.rooms.v)
	}
	raw.deliveries.v = slices.Clone(raw.deliveries.v)
	for i := range raw.deliveries.v {
		raw.deliveries.v[i].v.rooms.v = p.spread(raw.deliveries.v[i].v.rooms.v)
	}
	for i := range raw.tradeTimes.v {
		raw.tradeTimes.v[i].v.rooms.v = p.spread(raw.tradeTimes.v[i].v.rooms.v)
	}
	for i := range raw.settings.v {
		raw.settings.v[i].v.where.v = p.spread(raw.settings.v[i].v.where.v)
	}
	for i := range raw.answers.v {
		raw.answers.v[i].v.where.v = p.spread(raw.answers.v[i].v.where.v)
	}
	var resolved []at[rawResolution]
	for _, x := range raw.resolved.v {
		for _, id := range p.spread([]at[string]{x.v.junction}) {
			x.v.junction = id
			resolved = append(resolved, x)
		}
	}
	raw.resolved.v = resolved
}

// spread writes out a list of rooms and parts.
func (p *repeater) spread(names []at[string]) []at[string] {
	var out []at[string]
	for _, name := range names {
		if rooms := p.within[name.v]; len(rooms) > 0 {
			for _, room := range rooms {
				out = append(out, at[string]{room, name.pos})
			}
			continue
		}
		head, part := name.v, ""
		if i := strings.IndexAny(name.v, "-/"); i >= 0 {
			head, part = name.v[:i], name.v[i:]
		}
		copies := p.copies[head]
		for _, room := range copies {
			// Both surfaces of a junction stand in one room and are named after it.
			id := room + strings.ReplaceAll(part, "+"+head+"-", "+"+room+"-")
			if p.turned[room] {
				id = otherCheek(id)
			}
			out = append(out, at[string]{id, name.pos})
		}
		if len(copies) == 0 {
			out = append(out, name)
		}
	}
	return out
}

// zones makes each instance a test zone, since it is a dwelling of its own; the rooms outside the units make another.
func (p *repeater) zones(units []job.Unit) []at[rawZone] {
	var out []at[rawZone]
	for _, u := range units {
		for _, inst := range u.Instances {
			if len(inst.Rooms) == 0 {
				continue
			}
			z := rawZone{id: at[string]{inst.ID, inst.Pos}, name: at[string]{inst.Name, inst.Pos}}
			for _, room := range inst.Rooms {
				z.rooms.v = append(z.rooms.v, at[string]{string(room), inst.Pos})
			}
			z.rooms.pos = inst.Pos
			out = append(out, at[rawZone]{z, inst.Pos})
		}
	}
	return out
}
