package jobfile

import q "lapwork/generator/quantity"

type rawStorey struct {
	id, name      at[string]
	level, height at[q.MM]
	usual         at[rawUsual]
	longest       at[q.MM]
	load          at[float64]
}

var storeyValue = object("a storey",
	field("id", "as people call it: 0, 1, attic", id(roomName), func(s *rawStorey) *at[string] { return &s.id }).required(),
	field("name", "name", text(120), func(s *rawStorey) *at[string] { return &s.name }).required(),
	field("level", "finished floor over the job's zero", length(-50_000, 300_000), func(s *rawStorey) *at[q.MM] { return &s.level }).required(),
	field("height", "flat ceiling over the floor, for rooms that state none", length(300, 30_000), func(s *rawStorey) *at[q.MM] { return &s.height }),
	field("usual", "faces that hold where a room of this storey says nothing else", usualValue, func(s *rawStorey) *at[rawUsual] { return &s.usual }),
	field("longest", "longest thing that gets up there by the stairs", length(300, 30_000), func(s *rawStorey) *at[q.MM] { return &s.longest }),
	field("load-kg", "most that is taken up there at once, in kg; a heavier delivery goes up in several loads", number(10, 100_000), func(s *rawStorey) *at[float64] { return &s.load }),
)

type rawRoom struct {
	id, name, storey         at[string]
	plan                     at[rawPlan]
	height, floorOffset      at[q.MM]
	slopes                   at[[]at[rawSlope]]
	walls                    at[[]entry[rawFace]]
	ceiling, floor           at[rawFace]
	dormers                  at[[]at[rawDormer]]
	openings                 at[[]at[rawOpening]]
	penetrations             at[[]at[rawPenetration]]
	members                  at[[]at[rawMember]]
	unheated, noCeiling, wet at[bool]
	works                    at[[]at[string]]
	settings, answers        at[[]entry[string]]

	mirrored bool // by its instance
}

var roomValue = object("a room",
	field("id", "as pencilled on the sheet: B2", id(roomName), func(r *rawRoom) *at[string] { return &r.id }).required(),
	field("name", "what people call it", text(120), func(r *rawRoom) *at[string] { return &r.name }).required(),
	field("storey", "id of its storey", id(roomName), func(r *rawRoom) *at[string] { return &r.storey }).required(),
	field("plan", "internal faces in plan: corners in order, or {from: [x, y], size: [width, depth]}", planValue, func(r *rawRoom) *at[rawPlan] { return &r.plan }).required(),
	field("height", "flat ceiling over the floor", length(300, 30_000), func(r *rawRoom) *at[q.MM] { return &r.height }),
	field("no-flat-ceiling", "the slopes meet, there is no flat part", yesNo, func(r *rawRoom) *at[bool] { return &r.noCeiling }),
	field("floor-offset", "floor over the storey's level", length(-5000, 5000), func(r *rawRoom) *at[q.MM] { return &r.floorOffset }),
	field("slopes", "planes that rise inwards from a wall; where two such walls meet at a corner that points into the room they meet in a valley, elsewhere the lowest counts", list(slopeValue), func(r *rawRoom) *at[[]at[rawSlope]] { return &r.slopes }),
	field("walls", "by number: wall 1 runs from corner 1 to corner 2; usual holds for the rest", named(wallName, faceValue), func(r *rawRoom) *at[[]entry[rawFace]] { return &r.walls }),
	field("ceiling", "face of the flat ceiling", faceValue, func(r *rawRoom) *at[rawFace] { return &r.ceiling }),
	field("floor", "face of the floor", faceValue, func(r *rawRoom) *at[rawFace] { return &r.floor }),
	field("dormers", "dormers in its slopes", list(dormerValue), func(r *rawRoom) *at[[]at[rawDormer]] { return &r.dormers }),
	field("openings", "windows, doors, roof windows, hatches", list(openingValue), func(r *rawRoom) *at[[]at[rawOpening]] { return &r.openings }),
	field("penetrations", "what passes the layer", list(penetrationValue), func(r *rawRoom) *at[[]at[rawPenetration]] { return &r.penetrations }),
	field("members", "timbers, steel, walls and stairs that meet or cross the layer", list(memberValue), func(r *rawRoom) *at[[]at[rawMember]] { return &r.members }),
	field("unheated", "the room is not heated", yesNo, func(r *rawRoom) *at[bool] { return &r.unheated }),
	field("wet", "bath, shower or laundry", yesNo, func(r *rawRoom) *at[bool] { return &r.wet }),
	field("works", "what the work meets here that needs care", list(word(workNames()...)), func(r *rawRoom) *at[[]at[string]] { return &r.works }),
	field("settings", "setting: number, for this room", named(plainName, text(40)), func(r *rawRoom) *at[[]entry[string]] { return &r.settings }),
	field("answers", "question: yes, no or a word, for this room", flagsValue, func(r *rawRoom) *at[[]entry[string]] { return &r.answers }),
)

type rawSlope struct {
	wall   at[int]
	height at[q.MM]
	pitch  at[q.Degrees]
	face   at[rawFace]
}

var slopeValue = object("a slope",
	field("wall", "number of the wall it rises from", count(1, 9999), func(s *rawSlope) *at[int] { return &s.wall }).required(),
	field("height", "over the floor at that wall", length(0, 30_000), func(s *rawSlope) *at[q.MM] { return &s.height }).required(),
	field("pitch", "from the level", angle(2, 85), func(s *rawSlope) *at[q.Degrees] { return &s.pitch }).required(),
	field("face", "face of the slope", faceValue, func(s *rawSlope) *at[rawFace] { return &s.face }),
)

type rawDormer struct {
	id                            at[string]
	slope                         at[int]
	from, to, depth, sill, height at[q.MM]
	front, cheeks, top            at[rawFace]
}

var dormerValue = object("a dormer",
	field("id", "D and a number", id(dormerName), func(d *rawDormer) *at[string] { return &d.id }).required(),
	field("slope", "number of the slope it stands in", count(1, 99), func(d *rawDormer) *at[int] { return &d.slope }).required(),
	field("from", "left cheek, along the wall below from its left end seen from inside", length(0, 200_000), func(d *rawDormer) *at[q.MM] { return &d.from }).required(),
	field("to", "right cheek", length(1, 200_000), func(d *rawDormer) *at[q.MM] { return &d.to }).required(),
	field("depth", "plan distance of its front from the wall", length(0, 20_000), func(d *rawDormer) *at[q.MM] { return &d.depth }),
	field("sill", "lower edge of its front over the floor", length(0, 30_000), func(d *rawDormer) *at[q.MM] { return &d.sill }).required(),
	field("height", "its flat ceiling over the floor", length(300, 30_000), func(d *rawDormer) *at[q.MM] { return &d.height }).required(),
	field("front", "face of the front; as the slope if left out", faceValue, func(d *rawDormer) *at[rawFace] { return &d.front }),
	field("cheeks", "face of both cheeks; as the slope if left out", faceValue, func(d *rawDormer) *at[rawFace] { return &d.cheeks }),
	field("top", "face of its ceiling; as the slope if left out", faceValue, func(d *rawDormer) *at[rawFace] { return &d.top }),
)

// rawPlan is a footprint: corners, or a rectangle by its lower left corner and size.
type rawPlan struct {
	corners []at[[2]q.MM]
	from    at[[2]q.MM]
	size    at[[2]q.MM]
}
