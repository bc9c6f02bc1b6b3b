package job

import "lapwork/generator/diag"

// Instrument is a measuring instrument of the job with its calibration.
type Instrument struct {
	ID         string // MM1
	Kind       string // one of InstrumentKinds
	Name       string
	Serial     string
	Calibrated string   // ISO date; empty: not stated
	Due        string   // ISO date to which the calibration holds; empty: not stated
	Pos        diag.Pos `hash:"ignore"`
}

// InstrumentKinds are the kinds of instrument that readings of a pack are taken with.
var InstrumentKinds = []string{"moisture-meter", "thermometer", "hygrometer", "fan", "gauge", "anemometer", "rule", "other"}

// Attachment is a paper or picture that goes with the pack: a survey, a product's safety sheet, a photo.
type Attachment struct {
	File  string // inside the job's folder
	Path  string // of the file in the folder the job was read from
	Kind  string // one of AttachmentKinds
	Title string
	For   string // room, surface or component it is about; empty: the job
	Is    string // document of the handover that it is, D-14; empty: none in particular
	Bytes int64
	Hash  string   // SHA-256 of its bytes, hex
	Pos   diag.Pos `hash:"ignore"`
}

// AttachmentKinds are the kinds of attachment.
var AttachmentKinds = []string{"survey", "safety-sheet", "photo", "drawing", "report", "other"}
