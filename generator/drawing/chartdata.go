package drawing

// Axis is a scale of a chart with finished words; its steps are found by the chart.
type Axis struct {
	Label string // "Pressure, Pa"
	Log   bool   // logarithmic; every value must then be over 0
	// From and To fix the range; both 0: taken from the data.
	From, To float64
}

// Mark is the sign a series is drawn with, so that black print tells series apart.
type Mark uint8

// The marks.
const (
	Disc Mark = iota
	Ring
	Square
	Cross
	NoMark
)

// Series is a row of points. Line joins them.
type Series struct {
	Name   string
	X, Y   []float64
	Line   bool
	Dashed bool
	Mark   Mark
	Ink    Ink
}

// Level is a line across the chart: a limit or a target. Upright: at a value of X.
type Level struct {
	Name    string
	Value   float64
	Upright bool
	Ink     Ink
}

// Chart is a chart of series over two axes: time series, the log-log plot of a fan test, a vapour profile.
type Chart struct {
	Title  string
	Desc   string // in words, from the same values; empty: made from the series
	X, Y   Axis
	Series []Series
	Levels []Level
	Bands  []Band
	Words  *Words
}

// Band is a range of X shaded and named: a layer of a build-up, a day. A hatched one is a place marked: a wet plane; it is
// drawn wide enough to be seen even where From = To, and is not counted among the shaded ones.
type Band struct {
	Name     string
	From, To float64
	Hatched  bool
}

// FanPlot is a fan test: measured points, the fitted line, and each point's deviation from it below.
type FanPlot struct {
	Title          string
	Desc           string
	Pressure, Flow []float64 // Pa and m³/h, all over 0
	Coefficient    float64   // flow = Coefficient · pressure^Exponent, m³/h
	Exponent       float64
	Second         *FanPlot // the other direction of the same test, drawn with rings
	Name           string   // "Pressurised"
	Words          *Words
}

// Bars is a chart of horizontal bars: a budget, or the time an activity takes.
type Bars struct {
	Title, Desc string
	Label       string // of the scale
	Rows        []BarRow
	Limit       float64 // 0: none
	LimitName   string
	Words       *Words
}

// BarRow is one bar from From (mostly 0) to To, with a finished text for its value.
type BarRow struct {
	Name     string
	From, To float64
	Text     string
	Ink      Ink // NoInk: Accent
}

// Schedule is a chart of activities over working days, earliest first.
type Schedule struct {
	Title, Desc string
	Label       string // "Working day"
	Rows        []TaskRow
	Words       *Words
}

// TaskRow is one activity: bars in days from the start (0 = start of day 1). Hold marks a hold point at its end.
type TaskRow struct {
	Name string
	Bars []Span
	Hold string // words of the hold point, empty: none
}

// Span is a stretch of a scale.
type Span struct{ From, To float64 }

// Legend explains the marks used in the drawings. Empty Marks: all of them.
type Legend struct {
	Title     string
	Marks     []PartKind
	Materials []Material
	Words     *Words
}
