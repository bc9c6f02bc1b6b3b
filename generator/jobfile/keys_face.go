package jobfile

import (
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// rawFace is what a file says about a surface, or about a kind of surface.
type rawFace struct {
	like, behind, layer, buildUp, substrate, direction, floorJoint at[string]
	framing                                                        at[rawFraming]
	looseFill, airBoundary, losesHeat                              at[bool]
	cavity, lining, movement                                       at[q.MM]
	timber                                                         at[rawCrossGrain]
}

type rawCrossGrain struct {
	depth    at[q.MM]
	from, to at[float64]
}

var crossGrainValue = object("timber across the grain",
	field("depth", "of plates and joists together, one over the other", length(10, 2000), func(c *rawCrossGrain) *at[q.MM] { return &c.depth }).required(),
	field("from", "moisture content as fitted, %; 18 if left out", number(4, 40), func(c *rawCrossGrain) *at[float64] { return &c.from }),
	field("to", "moisture content in use, %; 10 if left out", number(4, 40), func(c *rawCrossGrain) *at[float64] { return &c.to }),
)

type rawFraming struct {
	pitch, offset, width    at[q.MM]
	lines, doubled, noggins at[[]at[q.MM]]
	along                   at[string]
}

var framingValue = object("framing",
	field("spacing", "between centre lines; left out: full support", length(50, 2000), func(f *rawFraming) *at[q.MM] { return &f.pitch }),
	field("offset", "of the first centre line from the left end, seen from inside", length(0, 2000), func(f *rawFraming) *at[q.MM] { return &f.offset }),
	field("lines", "centre lines, instead of spacing and offset", list(length(0, 100_000)), func(f *rawFraming) *at[[]at[q.MM]] { return &f.lines }),
	field("doubled", "centre lines of doubled studs", list(length(0, 100_000)), func(f *rawFraming) *at[[]at[q.MM]] { return &f.doubled }),
	field("along", "for ceilings: the plan axis the joists follow", word("x", "y"), func(f *rawFraming) *at[string] { return &f.along }),
	field("width", "face of a stud; 45 mm if left out", length(20, 400), func(f *rawFraming) *at[q.MM] { return &f.width }),
	field("noggins", "heights of level blocking over the lower edge", list(length(0, 30_000)), func(f *rawFraming) *at[[]at[q.MM]] { return &f.noggins }),
)

var faceLong = object("a face",
	field("like", "name of a face that holds where nothing else is said", id(plainName), func(f *rawFace) *at[string] { return &f.like }),
	field("behind", "what lies on the other side", word(string(job.Outside), string(job.Ground), string(job.Unheated), string(job.Party), string(job.Heated)), func(f *rawFace) *at[string] { return &f.behind }),
	field("layer", "what forms the air and vapour control layer here", word(string(job.Sheet), string(job.Board), string(job.Plaster), string(job.NoLayer)), func(f *rawFace) *at[string] { return &f.layer }),
	field("build-up", "id of a build-up", id(plainName), func(f *rawFace) *at[string] { return &f.buildUp }),
	field("substrate", "what the sheet is fixed to, or what the surface is made of", substrateID, func(f *rawFace) *at[string] { return &f.substrate }),
	field("framing", "studs, rafters or joists behind it", framingValue, func(f *rawFace) *at[rawFraming] { return &f.framing }),
	field("direction", "fixes how the strips run", word("upright", "level"), func(f *rawFace) *at[string] { return &f.direction }),
	field("loose-fill", "loose-fill rests on the sheet", yesNo, func(f *rawFace) *at[bool] { return &f.looseFill }),
	field("cavity", "depth of the service cavity in front of the layer", length(0, 400), func(f *rawFace) *at[q.MM] { return &f.cavity }),
	field("lining", "thickness of the lining board", length(0, 100), func(f *rawFace) *at[q.MM] { return &f.lining }),
	field("air-boundary", "bounds the heated air; follows from the rest if left out", yesNo, func(f *rawFace) *at[bool] { return &f.airBoundary }),
	field("loses-heat", "follows from the rest if left out", yesNo, func(f *rawFace) *at[bool] { return &f.losesHeat }),
	field("floor-joint", "walls: substrate met at the lower edge, where it is not the floor's", substrateID, func(f *rawFace) *at[string] { return &f.floorJoint }),
	field("movement", "walls: movement at the head, from the engineer", length(0, 100), func(f *rawFace) *at[q.MM] { return &f.movement }),
	field("timber-at-head", "walls: timber that dries between its sheet and the sheet above its head; the stress-relief fold is sized for it", crossGrainValue, func(f *rawFace) *at[rawCrossGrain] { return &f.timber }),
)

// faceValue is a face, or only the name of one.
var faceValue = either(faceLong, id(plainName), func(name at[string]) rawFace { return rawFace{like: name} })

type rawUsual struct{ walls, slopes, ceiling, floor at[rawFace] }

var usualValue = object("usual faces",
	field("walls", "walls", faceValue, func(u *rawUsual) *at[rawFace] { return &u.walls }),
	field("slopes", "slopes", faceValue, func(u *rawUsual) *at[rawFace] { return &u.slopes }),
	field("ceiling", "flat ceilings", faceValue, func(u *rawUsual) *at[rawFace] { return &u.ceiling }),
	field("floor", "floors", faceValue, func(u *rawUsual) *at[rawFace] { return &u.floor }),
)

type rawBuildUp struct {
	name, checkedWith at[string]
	ventilated        at[bool]
	layers            at[[]at[rawLayer]]
	framing           at[rawShare]
	exposure          at[rawExposure]
	countAbove        at[float64]
}

var buildUpValue = object("a build-up",
	field("name", "name", text(120), func(b *rawBuildUp) *at[string] { return &b.name }).required(),
	field("layers", "from inside to outside", list(layerValue), func(b *rawBuildUp) *at[[]at[rawLayer]] { return &b.layers }).required(),
	field("framing", "timber that crosses the layers marked as bridged", shareValue, func(b *rawBuildUp) *at[rawShare] { return &b.framing }),
	field("checked-with", "sheet class the moisture check was made with", componentID, func(b *rawBuildUp) *at[string] { return &b.checkedWith }),
	field("ventilated", "an outer layer is ventilated: the outermost air layer, or the space outside the last layer", yesNo, func(b *rawBuildUp) *at[bool] { return &b.ventilated }),
	field("exposure", "what decides whether monthly means can prove it; what is left out counts as the worse case", exposureValue, func(b *rawBuildUp) *at[rawExposure] { return &b.exposure }),
	field("count-above", "relative humidity; a simulation counts the hours above it at each plane; 80 % if left out", share, func(b *rawBuildUp) *at[float64] { return &b.countAbove }),
)

type rawShare struct {
	share    at[float64]
	material at[string]
}

var shareValue = object("a framing share",
	field("share", "of the area, plates and noggins included; left out: from the spacing of the surfaces", share, func(s *rawShare) *at[float64] { return &s.share }),
	field("material", "id of a material", materialID, func(s *rawShare) *at[string] { return &s.material }).required(),
)

type rawLayer struct {
	material, component at[string]
	thickness           at[q.MM]
	sd                  at[float64]
	bridged, air        at[bool]
	across              at[rawShare]
	emissivity          at[float64]
	openings            at[float64]
	fixings             at[rawFixings]
	gaps                at[string]
}

type rawFixings struct {
	perM2, diameter, lambda at[float64]
	depth                   at[q.MM]
}

var fixingsValue = object("a set of fixings",
	field("per-m2", "how many pierce each m²", number(0.1, 200), func(f *rawFixings) *at[float64] { return &f.perM2 }).required(),
	field("diameter", "of one, in mm", number(0.5, 50), func(f *rawFixings) *at[float64] { return &f.diameter }).required(),
	field("lambda", "of the metal, W/(m·K): 50 for steel, 17 for stainless steel", number(0.1, 400), func(f *rawFixings) *at[float64] { return &f.lambda }).required(),
	field("depth", "length in the insulation; left out: through all of it", length(1, 2000), func(f *rawFixings) *at[q.MM] { return &f.depth }),
)

var layerValue = object("a layer",
	field("material", "id of a material", materialID, func(l *rawLayer) *at[string] { return &l.material }),
	field("component", "for the control layer itself: id of a component", componentID, func(l *rawLayer) *at[string] { return &l.component }),
	field("sd", "for the control layer: its declared equivalent air layer thickness in metres", number(0.01, 100_000), func(l *rawLayer) *at[float64] { return &l.sd }),
	field("air", "an air layer", yesNo, func(l *rawLayer) *at[bool] { return &l.air }),
	field("thickness", "thickness", length(0, 3000), func(l *rawLayer) *at[q.MM] { return &l.thickness }),
	field("bridged", "crossed by the framing", yesNo, func(l *rawLayer) *at[bool] { return &l.bridged }),
	field("across", "members in this layer that run across the framing, such as the battens of a service cavity", shareValue, func(l *rawLayer) *at[rawShare] { return &l.across }),
	field("emissivity", "of the shiny face of an air layer; left out: ordinary faces", number(0.01, 1), func(l *rawLayer) *at[float64] { return &l.emissivity }),
	field("openings", "of an air layer to the outside, in mm²: for each metre of a wall, for each m² of a roof", number(0, 100_000), func(l *rawLayer) *at[float64] { return &l.openings }),
	field("fixings", "metal that pierces this insulation", fixingsValue, func(l *rawLayer) *at[rawFixings] { return &l.fixings }),
	field("gaps", "air gaps through this insulation; circulating: air also moves on its warm side", word(job.Gaps...), func(l *rawLayer) *at[string] { return &l.gaps }),
)
