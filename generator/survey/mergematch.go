package survey

import (
	"strconv"
	"strings"

	"lapwork/generator/job"
)

// matchStoreys gives levels the ids of the job's storeys: by name, else by height.
func (m *merging) matchStoreys(s *Survey) {
	taken := map[string]bool{}
	type own struct {
		id, name string
		level    int
	}
	var owns []own
	for _, f := range m.tree.files {
		if list := valueOf(f.root, "storeys"); list != nil {
			for _, n := range list.Content {
				level, err := strconv.Atoi(textOf(n, "level"))
				if err != nil {
					level = 1 << 30 // with a unit: matched by name only
				}
				owns = append(owns, own{textOf(n, "id"), textOf(n, "name"), level})
				taken[textOf(n, "id")] = true
			}
		}
	}
	used := map[string]bool{}
	for _, by := range []func(own, *Level) bool{
		func(o own, l *Level) bool { return o.name == l.Name },
		func(o own, l *Level) bool { return abs(o.level-int(l.Level)) < 500 },
	} {
		for _, l := range s.Levels {
			if used["*"+l.Letter] {
				continue
			}
			for _, o := range owns {
				if !used[o.id] && by(o, l) {
					l.ID = job.StoreyID(o.id)
					used[o.id], used["*"+l.Letter] = true, true
					break
				}
			}
		}
	}
	for _, l := range s.Levels {
		if used["*"+l.Letter] {
			continue
		}
		id := string(l.ID)
		for n := len(owns); taken[id]; n++ {
			id = strconv.Itoa(n)
		}
		l.ID, taken[id], m.storeys[l] = job.StoreyID(id), true, true
	}
}

func abs(n int) int { return max(n, -n) }

// matchRooms gives surveyed rooms the ids they have in the job and new rooms free ones. It gives the record of each that
// was matched by it.
func (m *merging) matchRooms(s *Survey) map[*Room]*recordRoom {
	match := map[*Room]*recordRoom{}
	taken := map[string]bool{}
	for id := range m.tree.rooms {
		taken[id] = true
	}
	done := map[*Room]bool{}
	used := map[string]bool{}
	for _, r := range s.Rooms {
		for i := range m.before.Rooms {
			b := &m.before.Rooms[i]
			if _, there := m.tree.rooms[b.ID]; there && !used[b.ID] && b.Source == r.Space.ID && b.Part == s.partOf(r) {
				r.ID, match[r], done[r], used[b.ID] = job.RoomID(b.ID), b, true, true
				break
			}
		}
	}
	for _, r := range s.Rooms {
		if done[r] {
			continue
		}
		for _, id := range m.tree.order {
			node := m.tree.rooms[id].node
			if !used[id] && textOf(node, "name") == label(r.Name, r.Space.ID) && textOf(node, "storey") == string(r.Level.ID) {
				r.ID, done[r], used[id] = job.RoomID(id), true, true
				break
			}
		}
	}
	for _, r := range s.Rooms {
		if done[r] {
			continue
		}
		letter := m.letterOf(r, s, done)
		n := 1
		for taken[letter+strconv.Itoa(n)] {
			n++
		}
		r.ID = job.RoomID(letter + strconv.Itoa(n))
		taken[string(r.ID)] = true
	}
	return match
}

// letterOf is the letter of a new room: that of the rooms the job has on its storey.
func (m *merging) letterOf(r *Room, s *Survey, matched map[*Room]bool) string {
	for _, o := range s.Rooms {
		if matched[o] && o.Level == r.Level {
			return strings.TrimRight(string(o.ID), "0123456789.")
		}
	}
	for _, id := range m.tree.order {
		if textOf(m.tree.rooms[id].node, "storey") == string(r.Level.ID) {
			return strings.TrimRight(id, "0123456789.")
		}
	}
	used := map[string]bool{}
	for id := range m.tree.rooms {
		used[strings.TrimRight(id, "0123456789.")] = true
	}
	letter := r.Level.Letter
	for i := 0; used[letter]; i++ {
		letter = letters(i)
	}
	return letter
}
