package survey

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// Vec is a point or a direction in space, in metres, z up.
type Vec struct{ X, Y, Z float64 }

// Building is what one file says, before anything is put right.
type Building struct {
	Source        Source
	Name          string
	North         q.Degrees // clockwise from north to the plan's +Y
	Storeys       []*Storey
	Spaces        []*Space
	Faces         []*Face
	Constructions []*Construction
	Counts        []Count   // what the file holds, by its own kinds, in the order met
	Left          []Left    // what was left out and why
	Columns       []string  // of a list: how its columns were understood, a sentence each
	Guessed       []Said    // what the reader assumed, in sentences
	Assumed       []Said    // what it assumed besides, where Found says so already
	Found         diag.List // what the reader found
}

// Source is where a building comes from.
type Source struct {
	Name     string // file name as the user gave it, with "!name" for a file inside a container
	Format   string // "gbXML", "IFC", "room list"
	Version  string // as the file states it; empty: not stated
	Encoding string // as read
	SHA256   string // of the file as it lies on disk
	Units    string // in words, as stated or guessed: "lengths feet, areas square feet"
	Basis    string // what the lines are, where the file says: "inner faces", "centre lines"; empty: not stated
}

// Count is how many things of a kind a file holds.
type Count struct {
	Group string // space, storey, surface, opening, penetration, row
	Kind  string // the file's own word; empty: all of the group
	N     int
}

// Left is something that was left out of the job.
type Left struct {
	What   string // "12 Shade surfaces"
	Reason string
}

// Storey is a level as the file states it.
type Storey struct {
	ID, Name string
	Level    q.Length
	Pos      diag.Pos
}

// Warm says whether a space is heated.
type Warm uint8

// Whether a space is heated. NotSaid counts as heated unless its name speaks against it.
const (
	NotSaid Warm = iota
	IsHeated
	NotHeated
)

// Space is a room as the file states it. Either Body, or Shape, or faces that name it, or Outline and a stated height
// must give its form; where several do, they are tried in this order.
type Space struct {
	ID       string // the file's own, unique in it
	Number   string // as on the plan; may be empty
	Name     string
	Storey   *Storey // nil: not stated
	Body     []Poly  // faces of its closed body; directions need not be right
	Shape    *Shape  // for lists: the form in figures
	Outline  []Vec   // floor outline; may be empty
	Stated   Stated
	Heated   Warm
	WetRoom  bool
	External bool // not a room of the building (plot, roof terrace): left out and counted
	Pos      diag.Pos
}

// Stated are a space's figures as the file states them; zero: not stated.
type Stated struct {
	FloorArea q.Area
	Volume    q.Volume
	Height    q.Length
}

// Poly is a plane face: an outline and holes, corners in order, the first not repeated.
type Poly struct {
	Loop  []Vec
	Holes [][]Vec
}

// Shape is a room's form in figures: a rectangle, or corners in the room's own plan, with a height and slopes.
type Shape struct {
	Corners []Vec // plan coordinates, z not used
	Placed  bool  // corners are plan coordinates of the building; else only the form is known
	Height  q.Length
	Slopes  []ShapeSlope
	Walls   map[int]job.Behind // by wall from 1; missing: not stated
	Ceiling job.Behind
	Floor   job.Behind
}

// ShapeSlope is a slope over a wall of a shape.
type ShapeSlope struct {
	Wall   int // from 1
	Height q.Length
	Pitch  q.Degrees
}

// What lies behind a face, beyond the words of package job.
const (
	Unknown job.Behind = ""         // the file does not say
	Inside  job.Behind = "inside"   // another room, but the file does not say which
	Nothing job.Behind = "nothing"  // an imaginary division: the air goes through
	Shading job.Behind = "no space" // stands outside and bounds nothing
)

// Role is what kind of surface the file says a face is.
type Role uint8

// The roles. NoRole leaves it to the geometry.
const (
	NoRole Role = iota
	WallFace
	FloorFace
	CeilingFace
	RoofFace
)

// Face lies between two spaces, or between a space and what is behind it. Direction of the loop does not matter.
type Face struct {
	ID           string
	Kind         string // the file's own word
	Role         Role
	Poly         Poly
	Spaces       []*Space   // none, one or two; the same twice: a piece inside one room
	Behind       job.Behind // with one space: what lies behind; with two the other space decides, unless Nothing
	Openings     []*Opening
	Penetrations []*Penetration
	Construction *Construction
	Pos          diag.Pos
}

// Opening is a window, door or hatch in a face.
type Opening struct {
	ID, Name string
	Kind     string // the file's own word
	As       string // window, door, roof-window, hatch; "air": a hole between rooms
	Loop     []Vec  // in space
	Reveal   q.MM   // 0: not stated
	Pos      diag.Pos
}

// Penetration is something that passes a face.
type Penetration struct {
	ID, Name      string
	Item          string // of the items of a job: pipe, duct, cable ...
	At            Vec
	Diameter      q.MM // or
	Width, Height q.MM
	Pos           diag.Pos
}

// Construction is a build-up as the file states it, layers from inside to outside.
type Construction struct {
	ID, Name string
	Layers   []Layer
	Outside  bool // layers were stated from outside to inside and have been turned round
	Pos      diag.Pos
}

// Layer is a layer of a construction.
type Layer struct {
	Name      string
	Thickness q.Length
	Lambda    float64 // W/(m·K); 0: not stated
	Density   float64 // kg/m³; 0: not stated
	Pos       diag.Pos
}
