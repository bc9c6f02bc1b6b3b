package jobfile

import (
	"maps"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// repeater writes out the units of a job: each instance gets rooms of its own, and every mention of a room of a unit
// becomes one of each instance's. What comes after knows rooms only.
type repeater struct {
	*reader
	stated map[string]at[rawRoom] // rooms as written, by id
	unitOf map[string]diag.Pos    // rooms that stand in a unit
	copies map[string][]string    // room of a unit: its rooms in every instance
	turned map[string]bool        // rooms of mirrored instances
	within map[string][]string    // instance: its rooms
	taken  map[string]diag.Pos    // ids of units and instances
	levels map[string]bool        // storeys of the job
	out    []at[rawRoom]
}

// repeat writes out raw's units and gives them with the rooms of each instance.
func (r *reader) repeat(raw *rawJob) []job.Unit {
	if len(raw.units.v) == 0 {
		return nil
	}
	p := &repeater{reader: r, stated: map[string]at[rawRoom]{}, unitOf: map[string]diag.Pos{}, copies: map[string][]string{}, turned: map[string]bool{},
		within: map[string][]string{}, taken: map[string]diag.Pos{}, levels: map[string]bool{}}
	for _, s := range raw.storeys.v {
		p.levels[s.v.id.v] = true
	}
	for _, room := range raw.rooms.v {
		if _, twice := p.stated[room.v.id.v]; !twice {
			p.stated[room.v.id.v] = room
		}
	}
	var units []job.Unit
	for _, u := range raw.units.v {
		units = append(units, p.unit(u))
	}
	var rooms []at[rawRoom]
	for _, room := range raw.rooms.v {
		if _, repeated := p.unitOf[room.v.id.v]; !repeated {
			rooms = append(rooms, room)
		}
	}
	raw.rooms.v = append(rooms, p.out...)
	p.mentions(raw)
	if len(raw.zones.v) == 0 {
		raw.zones.v = p.zones(units)
	}
	return units
}

func (p *repeater) unit(u at[rawUnit]) job.Unit {
	p.once(u.v.id)
	out := job.Unit{ID: u.v.id.v, Name: u.v.name.v, Pos: u.pos}
	var rooms []at[rawRoom]
	for _, name := range u.v.rooms.v {
		room, ok := p.stated[name.v]
		first, twice := p.unitOf[name.v]
		switch {
		case name.v == "":
		case !ok:
			p.fault(name.pos, near(p.reader, name.v, p.stated, "rooms here: "), "there is no room %q", name.v)
		case twice:
			p.faultSee(name.pos, seeOne(first), "take it out of one of them", "room %s stands in a unit already", name.v)
		default:
			p.unitOf[name.v] = name.pos
			rooms, out.Rooms = append(rooms, room), append(out.Rooms, job.RoomID(name.v))
		}
	}
	if u.v.instances.set() && len(u.v.instances.v) == 0 {
		p.fault(u.v.instances.pos, "list the dwellings, or delete the unit", "unit %s has no instance", u.v.id.v)
	}
	low, high := extent(rooms)
	step := high - low + gapBeside
	for i, inst := range u.v.instances.v {
		out.Instances = append(out.Instances, p.instance(inst, rooms, step*q.MM(i), low+high))
	}
	return out
}

// gapBeside is what lies between an instance and the next where the job does not say where it stands.
const gapBeside q.MM = 1000

// extent is how far rooms reach along x.
func extent(rooms []at[rawRoom]) (low, high q.MM) {
	low, high = q.MM(1<<40), q.MM(-1<<40)
	for _, room := range rooms {
		for _, c := range room.v.plan.v.corners {
			low, high = min(low, c.v[0]), max(high, c.v[0])
		}
	}
	if high < low {
		return 0, 0
	}
	return low, high
}

// once reports an id of a unit or an instance that another has; false: there is none to go on with.
func (p *repeater) once(id at[string]) bool {
	first, twice := p.taken[id.v]
	if twice && id.v != "" {
		p.again(id.pos, first, id.v)
	}
	p.taken[id.v] = id.pos
	return !twice && id.v != ""
}

// instance gives the rooms of an instance. beside is how far it lies along x from the stated plan where it says nothing else;
// a mirrored one has its x counted from ends, the sum of the unit's two ends.
func (p *repeater) instance(inst at[rawInstance], rooms []at[rawRoom], beside, ends q.MM) job.Instance {
	out := job.Instance{ID: inst.v.id.v, Name: inst.v.name.or(inst.v.id.v), Mirrored: inst.v.mirrored.v, Pos: inst.pos}
	if !p.once(inst.v.id) {
		return out
	}
	if room, clash := p.stated[inst.v.id.v]; clash {
		p.faultSee(inst.v.id.pos, seeOne(room.v.id.pos), "take another id", "an instance and a room are both called %q", inst.v.id.v)
	}
	shift := inst.v.shift.v
	if !inst.v.shift.set() && !inst.v.storeys.set() {
		shift[0] = beside
	}
	storey := p.storeys(inst, rooms)
	for _, room := range rooms {
		if len(p.out) > maxRooms {
			return out // reported when all rooms are counted
		}
		id := inst.v.id.v + "." + room.v.id.v
		if !roomName.pattern.MatchString(id) {
			p.faultSee(inst.v.id.pos, seeOne(room.v.id.pos), "take a shorter id", "%q is too long for a room's id", id)
			continue
		}
		if other, clash := p.stated[id]; clash {
			p.faultSee(inst.v.id.pos, seeOne(other.v.id.pos), "take another id", "an instance would have the room %q, which is stated too", id)
			continue
		}
		one := copyOf(room, id, storey)
		one.v.plan.v.corners = moved(room.v.plan.v.corners, shift, out.Mirrored, ends)
		one.v.mirrored, p.turned[id] = out.Mirrored, out.Mirrored
		p.out = append(p.out, one)
		p.copies[room.v.id.v] = append(p.copies[room.v.id.v], id)
		p.within[inst.v.id.v] = append(p.within[inst.v.id.v], id)
		out.Rooms = append(out.Rooms, job.RoomID(id))
	}
	return out
}

// storeys gives the storey that each storey of a unit's rooms is in an instance.
func (p *repeater) storeys(inst at[rawInstance], rooms []at[rawRoom]) map[string]string {
	has := map[string]bool{}
	for _, room := range rooms {
		has[room.v.storey.v] = true
	}
	out := map[string]string{}
	for _, e := range inst.v.storeys.v {
		if !has[e.name.v] {
			p.fault(e.name.pos, "storeys of its rooms: "+strings.Join(slices.Sorted(maps.Keys(has)), ", "), "the unit has no room on storey %q", e.name.v)
		}
		if !p.levels[e.v] {
			p.fault(e.pos, near(p.reader, e.v, p.levels, "storeys here: "), "there is no storey %q", e.v)
			continue
		}
		out[e.name.v] = e.v
	}
	return out
}

// copyOf gives a room as an instance has it. Its parts are named without the room, so that they follow its id.
func copyOf(room at[rawRoom], id string, storey map[string]string) at[rawRoom] {
	head := room.v.id.v + "-"
	room.v.id.v = id
	if s, ok := storey[room.v.storey.v]; ok {
		room.v.storey.v = s
	}
	room.v.openings.v = parts(room.v.openings.v, head, func(o *rawOpening) *string { return &o.id.v })
	room.v.penetrations.v = parts(room.v.penetrations.v, head, func(o *rawPenetration) *string { return &o.id.v })
	room.v.members.v = parts(room.v.members.v, head, func(o *rawMember) *string { return &o.id.v })
	room.v.dormers.v = parts(room.v.dormers.v, head, func(o *rawDormer) *string { return &o.id.v })
	return room
}

// moved gives the corners of a plan as an instance has them.
func moved(corners []at[[2]q.MM], shift [2]q.MM, mirrored bool, ends q.MM) []at[[2]q.MM] {
	corners = slices.Clone(corners)
	for i := range corners {
		c := &corners[i].v
		if mirrored {
			c[0] = ends - c[0]
		}
		c[0], c[1] = c[0]+shift[0], c[1]+shift[1]
	}
	return corners
}

func parts[T any](list []at[T], head string, id func(*T) *string) []at[T] {
	list = slices.Clone(list)
	for i := range list {
		name := id(&list[i].v)
		*name = strings.TrimPrefix(*name, head)
	}
	return list
}
