package job

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Storey is a level of the building.
type Storey struct {
	ID    StoreyID
	Name  string
	Level q.MM     // finished floor over the job's datum
	Pos   diag.Pos `hash:"ignore"`

	Longest q.MM   // thing that gets up there by the stairs; 0: not stated
	Load    q.Mass // that is taken up there at once; 0: not stated
}

// Corner is a point of a footprint in plan, in millimetres.
type Corner struct {
	X, Y q.MM
	Pos  diag.Pos `hash:"ignore"`
}

// Room is a footprint (internal faces, plan coordinates of the whole house) under a ceiling. Wall n stands on the edge
// from corner n to corner n+1 as listed.
type Room struct {
	ID           RoomID
	Name         string
	Storey       *Storey
	FloorOffset  q.MM // floor over the storey's level
	Footprint    []Corner
	Ceiling      CeilingShape
	Walls        []*Wall      // one per footprint edge, in order; defaults filled in by the reader
	CeilingFace  Face         // the flat ceiling(s)
	Slopes       []*SlopeFace // faces of Ceiling.Slopes, same order
	Floor        Face
	Dormers      []*Dormer
	Openings     []*Opening
	Penetrations []*Penetration
	Members      []*Member
	Heated       bool
	WetRoom      bool
	Works        Works
	Mirrored     bool     // its plan is another's left for right; strips begin at the other end
	Pos          diag.Pos `hash:"ignore"`
}

// CeilingShape is the lower envelope of a flat height and sloped planes; slopes on walls that meet at a corner which points
// into the room meet in a valley.
type CeilingShape struct {
	Height q.MM // flat ceiling over the room's floor; 0: none, the slopes meet
	Slopes []Slope
	Pos    diag.Pos `hash:"ignore"`
}

// Slope is a plane that rises inwards from a footprint edge.
type Slope struct {
	Edge   int  // footprint edge, from 1
	Height q.MM // of the plane over the floor at that edge
	Pitch  q.Degrees
	Pos    diag.Pos `hash:"ignore"`
}

// Behind is what lies on the other side of a surface.
type Behind string

// What can lie behind a surface.
const (
	Outside  Behind = "outside"
	Ground   Behind = "ground"
	Unheated Behind = "unheated" // cold loft, garage, eaves void
	Party    Behind = "party"    // another home
	Heated   Behind = "heated"   // the same home
)

// LayerKind is what forms the air-and-vapour control layer on a surface.
type LayerKind string

// The layer kinds.
const (
	Sheet   LayerKind = "sheet"
	Board   LayerKind = "board"
	Plaster LayerKind = "plaster"
	NoLayer LayerKind = "none" // the surface carries no layer (inside walls, heated behind)
)

// Face is what is said about one surface.
type Face struct {
	Behind      Behind
	Layer       LayerKind
	BuildUp     *BuildUp    // nil: none stated
	Substrate   SubstrateID // what the sheet is fixed to or what the surface is made of
	Framing     Framing
	Direction   string // "", upright, level: strip direction fixed for this surface
	LooseFill   bool   // loose-fill rests on the sheet
	Cavity      q.MM   // service cavity depth; 0 = none
	Lining      q.MM   // lining board thickness
	AirBoundary *bool  // nil: follows from Behind and Layer
	LosesHeat   *bool
	Pos         diag.Pos `hash:"ignore"`
}

// Framing is the support behind a surface.
type Framing struct {
	Pitch   q.MM     // centre spacing; 0: full support (boarding or masonry)
	Offset  q.MM     // of the first line from the left end (walls, slopes) or the lower plan coordinate (ceilings)
	Lines   []q.MM   // explicit centre lines instead of pitch and offset
	Doubled []q.MM   // centre lines that are doubled studs
	Along   string   // "" = upright on walls and along the fall on slopes; "x" or "y" (plan axis) for ceilings
	Width   q.MM     // stud face; 0 = 45
	Noggins []q.MM   // heights of level blocking over the lower edge
	Pos     diag.Pos `hash:"ignore"`

	// BackFrom is where lines that run up or along y are counted back from, in a room of mirrored plan; 0: from the left end
	// or the lower plan coordinate on.
	BackFrom q.MM
}

// Wall is the face on a footprint edge.
type Wall struct {
	Edge int // from 1
	Face
	FloorJoint Joint       // how the lower edge meets the floor
	MovementMM q.MM        // stated movement at its head, from the engineer
	Timber     *CrossGrain // that dries between its sheet and the one above its head; nil: none stated
}

// CrossGrain is timber that lies across the line of a movement: plates and joists in series.
type CrossGrain struct {
	Depth    q.MM    // all of it together
	From, To float64 // moisture content as fitted and in use, % of the dry mass
}

// SlopeFace is the face under one slope.
type SlopeFace struct {
	Slope int // from 1
	Face
}

// Joint overrides the substrate met at an edge.
type Joint struct {
	Substrate SubstrateID
	Pos       diag.Pos `hash:"ignore"`
}

// Dormer replaces the ceiling over a rectangle of the footprint by a flat or pitched roof of its own with cheeks and
// a front wall.
type Dormer struct {
	ID                 string // B2-D1
	Slope              int    // slope it stands in, from 1
	From, To           q.MM   // along the slope's edge, from its left end as seen from inside
	Depth              q.MM   // plan distance of its front wall from the footprint edge (0: front on the edge)
	Sill               q.MM   // height of the front wall's lower edge over the floor; it meets the slope there
	Height             q.MM   // flat dormer ceiling over the floor
	Front, Cheeks, Top Face
	Pos                diag.Pos `hash:"ignore"`
}

// Works are facts about a room that trigger cautions.
type Works struct {
	DisturbsOldMaterial bool // drilling, scraping or removing any old board, lagging, coating ...
	AbradesOldPaint     bool
	StairOrVoid         bool // open stair, floor or roof hole
	HotWork             bool
	Nests               bool
	Mould               bool
	LowSpace            bool // crawl space, eaves, low loft
	PressurePipes       bool // water or heating pipes near the work
	HotRoom             bool // above 30 °C expected
	SolventPrimer       bool
	InsulationFibre     bool // mineral or cellulose fibre handled
	DampSigns           bool
	ExposedHazard       bool // asbestos, loose fill, mould or soot exposed during a fan test
}
