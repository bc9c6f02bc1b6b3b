package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"lapwork/generator/job"
)

// storeyApart is the least distance of two storeys, in metres. Floors closer than that to each other are steps in one.
const storeyApart = 1.5

// storeys puts the rooms on storeys: those of the file where the floors of their rooms agree with them, else made from the
// heights of the floors. Rooms get their ids.
func (s *surveyor) storeys() {
	for _, st := range s.Building.Storeys {
		s.levelsOf(st, s.on(st))
	}
	s.loose(s.on(nil))
	slices.SortStableFunc(s.Levels, func(a, b *Level) int { return cmp.Compare(a.Level, b.Level) })
	for i, l := range s.Levels {
		l.ID, l.Letter = job.StoreyID(strconv.Itoa(i)), letters(i)
		for n, r := range l.Rooms {
			r.ID, r.Level = job.RoomID(l.Letter+strconv.Itoa(n+1)), l
			r.Offset = millimetres(r.floor) - l.Level
		}
	}
	s.Rooms = s.Rooms[:0]
	for _, l := range s.Levels {
		s.Rooms = append(s.Rooms, l.Rooms...)
	}
}

// letters counts A, B … Z, AA, AB …
func letters(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letters(i/26-1) + letters(i%26)
}

func (s *surveyor) on(st *Storey) []*Room {
	var out []*Room
	for _, r := range s.Rooms {
		if r.Space.Storey == st {
			out = append(out, r)
		}
	}
	return out
}

// levelsOf makes the level of a stated storey, or several where its rooms lie on top of each other.
func (s *surveyor) levelsOf(st *Storey, rooms []*Room) {
	groups := byFloor(rooms)
	if len(groups) == 0 {
		s.Skipped = append(s.Skipped, Left{What: fmt.Sprintf("storey %s", orID(st.Name, st.ID)), Reason: "no room lies on it"})
		return
	}
	stated := float64(st.Level)
	own := slices.IndexFunc(groups, func(g []*Room) bool { return math.Abs(lowestFloor(g)-stated) < storeyApart })
	for i, g := range groups {
		l := &Level{Name: orID(st.Name, st.ID), Stated: st, Level: millimetres(lowestFloor(g)), Rooms: g}
		switch {
		case i == own:
			l.Level = millimetres(stated)
		case own < 0 && i == 0:
			s.Found.Openf(st.Pos, st.ID, "correct the level in the file, or check that lengths are in the unit stated",
				"storey %s: its level is stated as %.3f m, but the floors of its rooms lie at %.3f m; the floors were trusted", l.Name, stated, lowestFloor(g))
		default:
			l.Name = fmt.Sprintf("%s, at %+.2f m", l.Name, lowestFloor(g))
			s.Guessed = append(s.Guessed, Say("storey %q was made for %s of storey %q that lie higher or lower than the rest", l.Name, Things(len(g), "room", "rooms"), orID(st.Name, st.ID)))
		}
		s.Levels = append(s.Levels, l)
	}
}

func orID(name, id string) string {
	if name != "" {
		return name
	}
	return id
}

// loose puts rooms that name no storey on one at their height, or makes one.
func (s *surveyor) loose(rooms []*Room) {
	for _, g := range byFloor(rooms) {
		z := lowestFloor(g)
		if i := slices.IndexFunc(s.Levels, func(l *Level) bool { return math.Abs(float64(l.Level)/1000-z) < storeyApart/3 }); i >= 0 {
			s.Levels[i].Rooms = append(s.Levels[i].Rooms, g...)
			continue
		}
		l := &Level{Name: fmt.Sprintf("Level at %+.2f m", z), Level: millimetres(z), Rooms: g}
		s.Levels = append(s.Levels, l)
		s.Guessed = append(s.Guessed, Say("storey %q was made from the height of the floors of %s: the file names none for them", l.Name, Things(len(g), "room", "rooms")))
	}
}

// byFloor groups rooms whose floors follow each other in steps smaller than a storey, from the lowest, each group in file
// order.
func byFloor(rooms []*Room) [][]*Room {
	if len(rooms) == 0 {
		return nil
	}
	sorted := slices.Clone(rooms)
	slices.SortStableFunc(sorted, func(a, b *Room) int { return cmp.Compare(a.floor, b.floor) })
	group := map[*Room]int{}
	n := 0
	for i, r := range sorted {
		if i > 0 && r.floor-sorted[i-1].floor > storeyApart {
			n++
		}
		group[r] = n
	}
	out := make([][]*Room, n+1)
	for _, r := range rooms {
		out[group[r]] = append(out[group[r]], r)
	}
	return out
}

func lowestFloor(rooms []*Room) float64 {
	low := math.Inf(1)
	for _, r := range rooms {
		low = min(low, r.floor)
	}
	return low
}
