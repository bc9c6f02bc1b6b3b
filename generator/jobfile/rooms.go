package jobfile

import (
	"fmt"
	"slices"
	"strconv"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func ratio(f float64) q.Ratio { return q.Ratio(f) }

// room resolves one room and enters it into the job.
func (s *resolver) room(raw at[rawRoom]) {
	id := raw.v.id
	if first := s.rooms[id.v]; first != nil {
		s.again(id.pos, first.Pos, id.v)
		return
	}
	out := &job.Room{
		ID: job.RoomID(id.v), Name: raw.v.name.v, FloorOffset: raw.v.floorOffset.v, Heated: !raw.v.unheated.v,
		WetRoom: raw.v.wet.v, Works: worksOf(raw.v.works.v), Pos: id.pos,
	}
	if id.v == "" {
		out.Pos = raw.pos
	} else {
		s.rooms[id.v] = out
	}
	for _, c := range raw.v.plan.v.corners {
		out.Footprint = append(out.Footprint, job.Corner{X: c.v[0], Y: c.v[1], Pos: c.pos})
	}
	storey := s.storeyOf(raw.v.storey, out)
	s.ceilingShape(raw, storey, out)
	s.roomFaces(raw.v, storey, out)
	s.dormers(raw.v, out)
	s.openings(raw.v, out)
	s.penetrations(raw.v, out)
	s.members(raw.v, out)
	if raw.v.mirrored {
		mirror(out)
	}
	s.answer(id.v, at[string]{}, raw.v.answers.v)
	s.setting(id.v, raw.v.settings.v)
	s.job.Rooms = append(s.job.Rooms, out)
}

func (s *resolver) storeyOf(name at[string], room *job.Room) rawStorey {
	if name.v == "" {
		s.lost = true // reported where the key is missing
		return rawStorey{}
	}
	raw, ok := s.storeys[name.v]
	if s.lost = !ok; !ok {
		s.fault(name.pos, near(s.reader, name.v, s.storeys, "storeys here: "), "there is no storey %q", name.v)
	}
	room.Storey = s.levels[name.v]
	return raw.v
}

func (s *resolver) ceilingShape(raw at[rawRoom], storey rawStorey, out *job.Room) {
	height := over(raw.v.height, storey.height)
	out.Ceiling = job.CeilingShape{Height: height.v, Pos: height.pos}
	if raw.v.noCeiling.v {
		out.Ceiling.Height, out.Ceiling.Pos = 0, raw.v.noCeiling.pos
		if raw.v.height.set() {
			s.faultSee(raw.v.noCeiling.pos, seeOne(raw.v.height.pos), "delete one of them", "room %s states a flat ceiling and that it has none", out.ID)
		}
	}
	if (raw.v.noCeiling.v || !height.set()) && len(raw.v.slopes.v) == 0 && !s.lost {
		s.fault(out.Pos, "add \"height\" here or to the storey, or \"slopes\"", "room %s has no ceiling", out.ID)
	}
	for i, slope := range raw.v.slopes.v {
		s.wallNumber(slope.v.wall, "slope "+strconv.Itoa(i+1), out)
		out.Ceiling.Slopes = append(out.Ceiling.Slopes, job.Slope{Edge: slope.v.wall.v, Height: slope.v.height.v, Pitch: slope.v.pitch.v, Pos: slope.pos})
		if h := slope.v.height; h.set() && out.Ceiling.Height > 0 && h.v >= out.Ceiling.Height {
			s.fault(h.pos, "make it lower than the flat ceiling, or leave the slope out", "slope %d of room %s begins at %s, not below the flat ceiling at %s", i+1, out.ID, mmText(h.v), mmText(out.Ceiling.Height))
		}
	}
}

// wallNumber reports a wall that the plan does not have.
func (s *resolver) wallNumber(n at[int], who string, room *job.Room) {
	if walls := len(room.Footprint); n.set() && walls > 0 && n.v > walls {
		s.fault(n.pos, "the plan has walls 1 to "+strconv.Itoa(walls), "%s of room %s names wall %d", who, room.ID, n.v)
	}
}

// roomFaces fills in a face for every surface that the room may have.
func (s *resolver) roomFaces(raw rawRoom, storey rawStorey, out *job.Room) {
	own := map[int]at[rawFace]{}
	var usual at[rawFace]
	for _, e := range raw.walls.v {
		if e.name.v == "usual" {
			usual = e.at
			continue
		}
		n, err := strconv.Atoi(e.name.v)
		if err != nil {
			continue // the name rule lets only numbers through
		}
		s.wallNumber(at[int]{n, e.name.pos}, "\"walls\"", out)
		own[n] = e.at
	}
	whole := s.raw.usual.v
	for n := range out.Footprint {
		out.Walls = append(out.Walls, s.wall(n+1, out, own[n+1], usual, storey.usual.v.walls, whole.walls))
	}
	if out.Ceiling.Height > 0 {
		out.CeilingFace = s.faceOf("the ceiling of room "+string(out.ID), out.Pos, raw.ceiling, storey.usual.v.ceiling, whole.ceiling)
	}
	out.Floor = s.faceOf("the floor of room "+string(out.ID), out.Pos, raw.floor, storey.usual.v.floor, whole.floor)
	for i, slope := range raw.slopes.v {
		face := s.faceOf(fmt.Sprintf("slope %d of room %s", i+1, out.ID), slope.pos, slope.v.face, storey.usual.v.slopes, whole.slopes)
		out.Slopes = append(out.Slopes, &job.SlopeFace{Slope: i + 1, Face: face})
	}
}

func (s *resolver) wall(n int, room *job.Room, chain ...at[rawFace]) *job.Wall {
	out := &job.Wall{Edge: n}
	var sum rawFace
	out.Face, sum = s.settle(fmt.Sprintf("wall %d of room %s", n, room.ID), room.Footprint[n-1].Pos, chain...)
	out.FloorJoint = job.Joint{Substrate: job.SubstrateID(sum.floorJoint.v), Pos: sum.floorJoint.pos}
	out.MovementMM = sum.movement.v
	if t := sum.timber; t.set() {
		out.Timber = &job.CrossGrain{Depth: t.v.depth.v, From: 18, To: 10}
		if t.v.from.set() {
			out.Timber.From = t.v.from.v
		}
		if t.v.to.set() {
			out.Timber.To = t.v.to.v
		}
	}
	return out
}

func (s *resolver) dormers(raw rawRoom, out *job.Room) {
	for i, d := range raw.dormers.v {
		id := s.partID(out, d.v.id)
		if want := fmt.Sprintf("%s-D%d", out.ID, i+1); d.v.id.v != "" && id != want {
			s.fault(d.v.id.pos, "number the dormers in the order they are listed: "+want, "dormer %s is number %d of its room", id, i+1)
		}
		if d.v.slope.v > len(raw.slopes.v) {
			s.fault(d.v.slope.pos, fmt.Sprintf("the room has %d slopes", len(raw.slopes.v)), "dormer %s stands in slope %d", id, d.v.slope.v)
			continue
		}
		if d.v.to.v > 0 && d.v.to.v <= d.v.from.v {
			s.fault(d.v.to.pos, "\"to\" is the right cheek, seen from inside", "dormer %s has no width", id)
		}
		if d.v.height.v > 0 && d.v.height.v <= d.v.sill.v {
			s.fault(d.v.height.pos, "both are heights over the floor", "the ceiling of dormer %s is not above its sill", id)
		}
		out.Dormers = append(out.Dormers, s.dormer(id, d, raw, out))
	}
}

func (s *resolver) dormer(id string, d at[rawDormer], raw rawRoom, room *job.Room) *job.Dormer {
	slope := s.raw.usual.v.slopes
	if n := d.v.slope.v; n >= 1 {
		own := raw.slopes.v[n-1].v.face
		slope = over(own, over(s.storeys[raw.storey.v].v.usual.v.slopes, slope))
	}
	face := func(part string, f at[rawFace]) job.Face {
		return s.faceOf("the "+part+" of dormer "+id, d.pos, f, slope)
	}
	return &job.Dormer{ID: id, Slope: d.v.slope.v, From: d.v.from.v, To: d.v.to.v, Depth: d.v.depth.v, Sill: d.v.sill.v,
		Height: d.v.height.v, Front: face("front", d.v.front), Cheeks: face("cheeks", d.v.cheeks), Top: face("top", d.v.top), Pos: d.pos}
}

// partID gives the full id of a part of a room, and reports one that is taken or names another room.
func (s *resolver) partID(room *job.Room, id at[string]) string {
	full := id.v
	if full == "" {
		return string(room.ID) + "-?"
	}
	head := string(room.ID) + "-"
	if i := slices.Index([]byte(full), '-'); i < 0 {
		full = head + full
	} else if full[:i+1] != head {
		s.fault(id.pos, "begin it with "+head+", or write only what follows", "%q stands in room %s", clip(full), room.ID)
		return full
	}
	if first, taken := s.taken[full]; taken {
		s.again(id.pos, first, full)
	}
	s.taken[full] = id.pos
	return full
}

// onSurface reports a part placed on a surface that its room does not have.
func (s *resolver) onSurface(room *job.Room, who string, in at[string]) string {
	var n int
	pos := in.pos
	switch {
	case scan(in.v, "wall %d", &n) && len(room.Footprint) > 0 && n > len(room.Footprint):
		s.fault(pos, fmt.Sprintf("the plan has walls 1 to %d", len(room.Footprint)), "%s is in wall %d", who, n)
	case scan(in.v, "slope %d", &n) && n > len(room.Ceiling.Slopes):
		s.fault(pos, fmt.Sprintf("the room has %d slopes", len(room.Ceiling.Slopes)), "%s is in slope %d", who, n)
	case scan(in.v, "dormer %d", &n) && n > len(room.Dormers):
		s.fault(pos, "check the number, or add the dormer", "%s is in dormer %d, which room %s does not have", who, n, room.ID)
	case in.v == "ceiling" && room.Ceiling.Height == 0:
		s.fault(pos, "name the slope it is in", "%s is in the ceiling, but room %s has no flat ceiling", who, room.ID)
	}
	return in.v
}

func scan(text, format string, n *int) bool {
	got, err := fmt.Sscanf(text, format, n)
	return err == nil && got == 1
}
