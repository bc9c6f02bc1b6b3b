package surface

import (
	"fmt"
	"regexp"
	"strings"

	"lapwork/generator/job"
)

// UnknownSurface is the error for a text that names no surface of a room.
type UnknownSurface struct {
	Room job.RoomID
	Text string
	Hint string
}

// Error says which text was not understood.
func (u *UnknownSurface) Error() string {
	return fmt.Sprintf("room %s has no surface %q", u.Room, u.Text)
}

// wallWords may stand for any wall: what is a wall, a knee wall or a gable follows from the ceiling.
var wallWords = regexp.MustCompile(`^(knee[ -]wall|gable|w|k|g) ?(\d+)$`)

// Find gives the surface of a room that a text names: "wall 3", "slope 1", "slope 1.2", "ceiling", "ceiling 2", "floor",
// "dormer 1 front", or an id with or without its room. The error is an *UnknownSurface with a hint.
func (m *Model) Find(room *job.Room, text string) (*Surface, error) {
	shape := m.Room(room)
	if shape == nil {
		shape = &RoomShape{Room: room}
	}
	found, err := shape.pieces(text)
	if err != nil {
		return nil, err
	}
	return found[0], nil
}

// pieces is Find with every piece of a surface that is named as a whole: pieces share their frame.
func (r *RoomShape) pieces(text string) ([]*Surface, error) {
	want := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if g := wallWords.FindStringSubmatch(want); g != nil {
		want = "wall " + g[2]
	}
	var found []*Surface
	var names []string
	for _, s := range r.Surfaces {
		names = append(names, s.Name)
		if s.named(want) {
			found = append(found, s)
		}
	}
	if len(found) > 0 {
		return found, nil
	}
	u := &UnknownSurface{Room: r.Room.ID, Text: text, Hint: "the room has no shape yet: see its other findings"}
	if len(names) > 0 {
		u.Hint = "it has: " + strings.Join(names, ", ")
	}
	return nil, u
}

// named says whether a surface, or the whole it is a piece of, goes by a name in lower case.
func (s *Surface) named(want string) bool {
	id := strings.ToLower(string(s.ID))
	switch want {
	case s.Name, id, strings.TrimPrefix(id, strings.ToLower(string(s.Room.ID))+"-"):
		return true
	case "ceiling":
		return s.Role == Ceiling && s.Dormer == nil
	case "ceiling 1":
		return s.Name == "ceiling"
	}
	return strings.HasPrefix(s.Name, want+".")
}
