package drawing

// XYZ is a point in space in millimetres; Z points up.
type XYZ struct{ X, Y, Z float64 }

// FaceRole is what a face of a room is in its view.
type FaceRole uint8

// The roles. Walls in front of the eye are cut away.
const (
	WallFace    FaceRole = iota // walls, knee walls, gables
	SlopeFace                   // slopes
	CeilingFace                 // flat ceilings
	FloorFace
)

// RoomView is an isometric view into a room with the near walls cut away. Each junction line carries its number once.
type RoomView struct {
	Room     string // B2
	Name     string // Bedroom
	Faces    []Face3
	Edges    []Edge3
	Openings []Opening3
	Holes    []Hole3
	Words    *Words
}

// Face3 is a face with its outline in space. Its turn does not matter.
type Face3 struct {
	ID      string // B2-W3
	Role    FaceRole
	Outline []XYZ
	Carries bool // carries the layer: its letters are written on it
}

// Edge3 is a junction line.
type Edge3 struct {
	No       int    // the number written at it; 0: no number
	ID       string // B2-W3+C1
	From, To XYZ
	Layer    bool // the layer runs over it: drawn as sheet
}

// Opening3 is an opening on a face.
type Opening3 struct {
	ID, Face string
	Outline  []XYZ
}

// Hole3 is a penetration on a face.
type Hole3 struct {
	ID, Face string
	At       XYZ
}
