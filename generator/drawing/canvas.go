package drawing

// Pt is a point of a figure as shown, in pixels; Y points down.
type Pt struct{ X, Y float64 }

// Ink is a colour by its meaning. A scheme (light, sun, dark) gives each one its value, see Palette.
type Ink uint8

// The inks. NoInk leaves a stroke or a fill away.
const (
	NoInk    Ink = iota
	Black        // the drawing itself and its text
	Quiet        // dimensions, leaders, second text
	Rule         // thin lines that only order the picture
	Ground       // the paper, also under text that stands on a hatch
	Shade        // a quiet tint of the paper
	SheetInk     // the layer
	TapeInk      // tape, bead, adhesive, primer, collar, membrane
	Accent       // what is marked as "here"
	DoneInk      // done, within the limit
	StopInk      // over the limit, fault
	Warn         // caution
	inkCount
)

// Name is the ink's name in class names.
func (i Ink) Name() string {
	return [...]string{"none", "ink", "quiet", "rule", "ground", "shade", "sheet", "tape", "accent", "done", "stop", "warn"}[i]
}

// Stroke widths as shown, in pixels: one ladder for every figure.
const (
	cutWidth    = 3.0  // outline of what is cut
	seenWidth   = 1.5  // edge that is seen
	hiddenWidth = 1.0  // edge that is hidden, dashed
	fineWidth   = 0.75 // dimension, leader
	sheetWidth  = 4.0  // the layer
)

// Style is how a shape is drawn.
type Style struct {
	Name   string // what it is, one word, for style sheets and tests: sheet, tape, lap, hole
	Stroke Ink
	Width  float64 // of the stroke, pixels
	Dash   string  // SVG dash list, empty: unbroken
	Fill   Ink
	Hatch  Material // pattern drawn instead of the fill
	Round  bool     // round caps and joins
	Smooth bool     // the points guide a curve instead of being its corners
}

// Anchor is which point of a text line its place gives.
type Anchor uint8

// The anchors.
const (
	Middle Anchor = iota
	Start
	End
)

// TextStyle is how a line of text is set.
type TextStyle struct {
	Name   string
	Size   float64 // pixels as shown
	Bold   bool
	Ink    Ink
	Anchor Anchor
}

// View is the size of a figure in pixels, and its words for those who cannot see it.
type View struct {
	Width, Height float64
	Title, Desc   string
}

// Canvas is what a figure needs to be drawn. svg.Canvas and the tests' recorder satisfy it. Begin comes once, first.
type Canvas interface {
	Begin(View)
	// Shape draws connected points; closed joins the last to the first.
	Shape(s Style, closed bool, points []Pt)
	// Circle draws a circle.
	Circle(s Style, centre Pt, radius float64)
	// Text sets one line; at is on its baseline.
	Text(s TextStyle, at Pt, line string)
}

// Figure is anything that can be drawn: Section, StripLayout, RoomView, StoreyPlan, KeyPlan, Legend and the charts.
type Figure interface{ Draw(Canvas) }
