package job

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Opening is a hole in a surface for a window, door, roof window or hatch.
type Opening struct {
	ID        OpeningID
	Room      *Room
	Kind      string // window, door, roof-window, hatch, temporary
	Surface   string // where: "wall 3", "slope 1", "ceiling", "dormer 1 front", resolved by surface
	X, Y      q.MM   // lower left corner on the surface
	Width     q.MM
	Height    q.MM
	Depth     q.MM        // reveal depth from the layer plane to the frame
	Substrate SubstrateID // of the opening's reveal; empty: the surface's
	Pos       diag.Pos    `hash:"ignore"`
}

// Penetration is an item that passes the layer, or Count of them at one place.
type Penetration struct {
	ID       PenetrationID
	Room     *Room
	Item     string // cable, conduit, pipe, soil-pipe, rain-pipe, vent-pipe, duct, terminal, flue, luminaire, back-box, bracket, gas-pipe ...
	Surface  string
	X, Y     q.MM
	Diameter q.MM
	Width    q.MM // rectangular items
	Height   q.MM
	Count    int  // identical items, 1 at least
	Cables   int  // cables in one bundle; 0 or 1: single
	Spacing  q.MM // clear distance to the next; 0: not stated (1000)
	Hot      bool
	Serves   string   // what it is, in words
	Pos      diag.Pos `hash:"ignore"`
}

// Member is a timber, steel or building part that meets or crosses the layer: an abutment in the widest sense.
type Member struct {
	ID        MemberID
	Room      *Room
	Item      string // partition, floor-cassette, joist-bays, joist, timber-member, steel-member, stair, chimney, masonry
	Surface   string
	X, Y      q.MM // where it starts on the surface
	Length    q.MM // of the line it makes on the surface
	Upright   bool // line runs up the surface
	Width     q.MM // of its section or of the strip it takes from the surface
	Height    q.MM
	Count     int
	Substrate SubstrateID // of the masonry or plane it meets
	Own       SubstrateID // of the member itself
	Stands    string      // before, after: when it stands relative to the layer
	Pos       diag.Pos    `hash:"ignore"`
}

// BuildUp is a construction, its layers from inside to outside.
type BuildUp struct {
	ID         BuildUpID
	Name       string
	Layers     []Layer
	Framing    *BuildUpFraming
	SheetClass ComponentID // the class the moisture check was made with; empty: not stated
	Ventilated bool
	Exposure   Exposure
	CountAbove q.Ratio  // a simulation counts the hours above this humidity; 0: not stated
	Pos        diag.Pos `hash:"ignore"`
}

// BuildUpFraming is the share of framing that bridges its layers.
type BuildUpFraming struct {
	Fraction q.Ratio // 0: from the spacing of the surfaces
	Material string
}

// Layer is one layer of a build-up.
type Layer struct {
	Material   string      // a row of the material table
	Component  ComponentID // for the control layer itself
	Sd         q.SdValue   // declared by the product, m; 0: not stated
	Thickness  q.MM
	Bridged    bool // crossed by the framing
	Air        bool
	Across     *BuildUpFraming // members in it that run across the framing: battens of a service cavity; nil: none
	Emissivity q.Ratio         // of the shinier face of an air layer; 0: ordinary faces
	Openings   float64         // of an air layer to the outside, mm² for each metre of a wall or m² of a roof
	Fixings    *Fixings        // metal that pierces it; nil: none
	Gaps       string          // one of Gaps, in an insulation; empty: none that count
	Pos        diag.Pos        `hash:"ignore"`
}

// Fixings are metal fixings that pierce an insulation.
type Fixings struct {
	PerM2    float64 // for each m²
	Diameter q.Length
	Lambda   float64  // of the metal, W/(m·K)
	Depth    q.Length // length in the insulation; 0: through all of it
}

// Gaps are the air gaps of an insulation: through it, and with air that also moves on its warm side.
var Gaps = []string{"through", "circulating"}
