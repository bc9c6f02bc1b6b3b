package jobfile

import (
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func (s *resolver) openings(raw rawRoom, room *job.Room) {
	for _, o := range raw.openings.v {
		id := s.partID(room, o.v.id)
		s.answer(id, at[string]{}, o.v.answers.v)
		if want := map[string]string{"roof-window": "slope", "hatch": "ceiling, floor or wall"}[o.v.kind.v]; want != "" && o.v.in.set() && !fits(o.v.kind.v, o.v.in.v) {
			s.fault(o.v.in.pos, "put it into a "+want, "%s %s is in %s", o.v.kind.v, id, o.v.in.v)
		}
		room.Openings = append(room.Openings, &job.Opening{
			ID: job.OpeningID(id), Room: room, Kind: o.v.kind.v, Surface: s.onSurface(room, "opening "+id, o.v.in),
			X: o.v.at.v[0], Y: o.v.at.v[1], Width: o.v.size.v[0], Height: o.v.size.v[1], Depth: o.v.reveal.v,
			Substrate: job.SubstrateID(o.v.substrate.v), Pos: o.pos,
		})
	}
}

// fits tells whether a kind of opening can be in a kind of surface.
func fits(kind, in string) bool {
	slope := len(in) > 5 && in[:5] == "slope"
	return (kind == "roof-window") == slope
}

func (s *resolver) penetrations(raw rawRoom, room *job.Room) {
	for _, p := range raw.penetrations.v {
		id := s.partID(room, p.v.id)
		s.answer(id, at[string]{}, p.v.answers.v)
		if p.v.diameter.set() == p.v.size.set() && p.v.item.set() {
			s.fault(p.pos, "add \"diameter\" for a round item, \"size\" for another", "penetration %s states %s diameter %s size", id,
				pick(p.v.size.set(), "both", "neither"), pick(p.v.size.set(), "and", "nor"))
		}
		if p.v.cables.v > 1 && p.v.item.v != "cable" {
			s.fault(p.v.cables.pos, "\"cables\" is for bundles of cables; use \"count\" for identical items", "penetration %s is no cable", id)
		}
		room.Penetrations = append(room.Penetrations, &job.Penetration{
			ID: job.PenetrationID(id), Room: room, Item: p.v.item.v, Surface: s.onSurface(room, "penetration "+id, p.v.in),
			X: p.v.at.v[0], Y: p.v.at.v[1], Diameter: p.v.diameter.v, Width: p.v.size.v[0], Height: p.v.size.v[1],
			Count: p.v.count.or(1), Cables: p.v.cables.v, Spacing: clearOf(p.v.clear), Hot: p.v.hot.or(p.v.item.v == "flue"), Serves: p.v.serves.v, Pos: p.pos,
		})
	}
}

// clearOf keeps a stated distance of nothing apart from one not stated: items that touch count as 1 mm apart.
func clearOf(clear at[q.MM]) q.MM {
	if clear.set() {
		return max(clear.v, 1)
	}
	return 0
}

// single is how many members there are where none are counted: bays follow from the framing, so they stay open.
func single(item string) int {
	if item == "joist-bays" {
		return 0
	}
	return 1
}

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

func (s *resolver) members(raw rawRoom, room *job.Room) {
	for _, m := range raw.members.v {
		id := s.partID(room, m.v.id)
		s.answer(id, at[string]{}, m.v.answers.v)
		line := m.v.item.v == "partition" || m.v.item.v == "floor-cassette" || m.v.item.v == "stair"
		if line && !m.v.length.set() {
			s.fault(m.pos, "add \"length\"", "member %s is a %s, but the line it makes has no length", id, m.v.item.v)
		}
		if !line && m.v.item.v != "chimney" && m.v.item.v != "masonry" && m.v.item.set() && !m.v.size.set() {
			s.fault(m.pos, "add \"size\"", "member %s is a %s, but its section has no size", id, m.v.item.v)
		}
		room.Members = append(room.Members, &job.Member{
			ID: job.MemberID(id), Room: room, Item: m.v.item.v, Surface: s.onSurface(room, "member "+id, m.v.in),
			X: m.v.at.v[0], Y: m.v.at.v[1], Length: m.v.length.v, Upright: m.v.upright.v, Width: m.v.size.v[0], Height: m.v.size.v[1],
			Count: m.v.count.or(single(m.v.item.v)), Substrate: job.SubstrateID(m.v.meets.v), Own: job.SubstrateID(m.v.own.v), Stands: m.v.stands.v, Pos: m.pos,
		})
	}
}
