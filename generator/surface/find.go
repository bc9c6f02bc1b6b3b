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
	found, err := m.pieces(room, text)
	if err != nil {
		return nil, err
	}
	return found[0], nil
}

// pieces is Find with every piece of a surface that is named as a whole: pieces share their frame.
func (m *Model) pieces(room *job.Room, text string) ([]*Surface, error) {
	shape := m.Room(room)
	want := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if g := wallWords.FindStringSubmatch(want); g != nil {
		want = "wall " + g[2]
	}
	var found []*Surface
	var names []string
	if shape != nil {
		for _, s := range shape.Surfaces {
			names = append(names, s.Name)
			id := strings.ToLower(string(s.ID))
			short := strings.TrimPrefix(id, strings.ToLower(string(room.ID))+"-")
			whole := want == "ceiling" && strings.HasPrefix(s.Name, "ceiling") || strings.HasPrefix(s.Name, want+".")
			if s.Name == want || id == want || short == want || whole || want == "ceiling 1" && s.Name == "ceiling" {
				found = append(found, s)
			}
		}
	}
	if len(found) == 0 {
		u := &UnknownSurface{Room: room.ID, Text: text, Hint: "the room has no shape yet: see its other findings"}
		if len(names) > 0 {
			u.Hint = "it has: " + strings.Join(names, ", ")
		}
		return nil, u
	}
	return found, nil
}
