// Package junction derives the records that method statements are selected for: one for every field, edge, seam,
// crossing, opening edge, penetration and fixing of the layer. A record is typed attributes; there is no list of details
// here, so a firm adds details without a line of Go.
package junction

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// Edge is the kind of place a record stands for.
type Edge string

// The kinds of place.
const (
	Field          Edge = "field"
	Lap            Edge = "lap"
	EndJoint       Edge = "end-joint"
	InsideEdge     Edge = "inside-edge"
	OutsideEdge    Edge = "outside-edge"
	AbutmentEdge   Edge = "abutment-edge"
	FloorEdge      Edge = "floor-edge"
	CrossingPlane  Edge = "crossing-plane"
	CrossingMember Edge = "crossing-member"
	OpeningEdge    Edge = "opening-edge"
	OpeningCorner  Edge = "opening-corner"
	PenetrationAt  Edge = "penetration"
	Recess         Edge = "recess"
	Fixing         Edge = "fixing"
	Damage         Edge = "damage"
)

// Edges are all kinds of place.
var Edges = []Edge{Field, Lap, EndJoint, InsideEdge, OutsideEdge, AbutmentEdge, FloorEdge, CrossingPlane, CrossingMember,
	OpeningEdge, OpeningCorner, PenetrationAt, Recess, Fixing, Damage}

// Record is one place of the layer that needs a method statement. Empty text and zero values mean "not so here"; the
// defaults of the trade specification are applied when the record is made.
type Record struct {
	ID              string // B2-W3+C1, B2-O1/sill, B2-P02, B2-W3/3+4 ...
	Edge            Edge
	Room            *job.Room
	A, B            *surface.Surface // B nil where there is no second surface
	SurfaceA        string           // role word, normalised: slope before knee-wall ..., chimney and party-wall as B
	SurfaceB        string
	Layer           job.LayerKind
	LayerA          job.LayerKind
	LayerB          job.LayerKind   // NoLayer = empty
	Substrate       job.SubstrateID // substrate_b, what the sheet is sealed to
	MemberSubstrate job.SubstrateID // substrate_m
	Item            string
	Part            string // jamb, head, sill, corner
	Upright         bool   // orientation of a seam
	Supported       bool
	LoadOnLayer     bool
	Hot             bool
	Angle           q.Degrees
	Movement        q.MM      // the greatest a fold here has to absorb
	Head            *HeadFold // what Movement is made of; nil: nothing moves
	Spacing         q.MM

	// Measures, in the variables of the quantity expressions.
	Length    q.Length
	Height    q.Length
	Width     q.Length
	Depth     q.Length
	Perimeter q.Length
	Area      q.Area
	Diameter  q.MM
	Count     int
	Corners   int
	Ends      int
	Cables    int
	Bays      int
	Studs     int

	StripLayoutRun bool          // sheet area and staples come from the cutting plan
	Optional       bool          // nothing is to be done here when no statement matches: not unresolved then
	Stands         string        // before, after: when a member stands relative to the layer; empty: not stated
	Object         string        // id of the opening, penetration or member it belongs to; empty for edges
	Where          []string      // ids of the surfaces it touches
	Runs           []surface.Run // the parts of an edge net of openings; Length is their sum
	Pos            diag.Pos      `hash:"ignore"`
}
