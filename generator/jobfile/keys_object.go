package jobfile

import (
	"regexp"

	q "lapwork/generator/quantity"
)

var surfacePlace = nameRule{"a surface",
	regexp.MustCompile(`^(wall [1-9]\d{0,3}|slope [1-9]\d?(\.[1-9])?|ceiling( [1-9])?|floor|dormer [1-9]\d? (front|left cheek|right cheek|top))$`),
	"wall 3, slope 1, ceiling, floor, or dormer 1 with front, left cheek, right cheek or top"}

type rawOpening struct {
	id, kind, in, substrate at[string]
	at, size                at[[2]q.MM]
	reveal                  at[q.MM]
	answers                 at[[]entry[string]]
}

var openingValue = object("an opening",
	field("id", "O and a number", id(openingName), func(o *rawOpening) *at[string] { return &o.id }).required(),
	field("kind", "kind", word("window", "door", "roof-window", "hatch", "temporary"), func(o *rawOpening) *at[string] { return &o.kind }).required(),
	field("in", "surface it is in", id(surfacePlace), func(o *rawOpening) *at[string] { return &o.in }).required(),
	field("at", "its lower left corner on the surface: [across, up]", pair(length(-1_000_000, 1_000_000), "[across, up]"), func(o *rawOpening) *at[[2]q.MM] { return &o.at }).required(),
	field("size", "clear size at the layer: [width, height]", pair(length(100, 20_000), "[width, height]"), func(o *rawOpening) *at[[2]q.MM] { return &o.size }).required(),
	field("reveal", "depth from the layer to the frame", length(0, 1500), func(o *rawOpening) *at[q.MM] { return &o.reveal }),
	field("substrate", "of the reveal, where it is not the surface's", substrateID, func(o *rawOpening) *at[string] { return &o.substrate }),
	field("answers", "question: yes, no or a word, for this opening", flagsValue, func(o *rawOpening) *at[[]entry[string]] { return &o.answers }),
)

var penetrationItems = []string{"cable", "conduit", "pipe", "soil-pipe", "rain-pipe", "vent-pipe", "duct", "terminal", "flue",
	"luminaire", "back-box", "bracket", "gas-pipe", "refrigerant-line", "sprinkler-pipe", "lightning-conductor"}

type rawPenetration struct {
	id, item, in, serves at[string]
	at, size             at[[2]q.MM]
	diameter, clear      at[q.MM]
	count, cables        at[int]
	hot                  at[bool]
	answers              at[[]entry[string]]
}

var penetrationValue = object("a penetration",
	field("id", "P and a number", id(penetration), func(p *rawPenetration) *at[string] { return &p.id }).required(),
	field("item", "what it is", word(penetrationItems...), func(p *rawPenetration) *at[string] { return &p.item }).required(),
	field("in", "surface it passes", id(surfacePlace), func(p *rawPenetration) *at[string] { return &p.in }).required(),
	field("at", "its centre on the surface: [across, up]", pair(length(-1_000_000, 1_000_000), "[across, up]"), func(p *rawPenetration) *at[[2]q.MM] { return &p.at }).required(),
	field("diameter", "outside diameter, insulation taken off", length(1, 2000), func(p *rawPenetration) *at[q.MM] { return &p.diameter }),
	field("size", "of an item that is not round: [width, height]", pair(length(1, 3000), "[width, height]"), func(p *rawPenetration) *at[[2]q.MM] { return &p.size }),
	field("count", "identical items at one place; 1 if left out", count(1, 200), func(p *rawPenetration) *at[int] { return &p.count }),
	field("cables", "cables in one bundle", count(1, 24), func(p *rawPenetration) *at[int] { return &p.cables }),
	field("clear", "clear distance to the next item, where it is close", length(0, 1000), func(p *rawPenetration) *at[q.MM] { return &p.clear }),
	field("hot", "can pass 80 °C or carries combustion gas; a flue counts as hot", yesNo, func(p *rawPenetration) *at[bool] { return &p.hot }),
	field("serves", "what it is for", text(200), func(p *rawPenetration) *at[string] { return &p.serves }),
	field("answers", "question: yes, no or a word, for this penetration", flagsValue, func(p *rawPenetration) *at[[]entry[string]] { return &p.answers }),
)

var memberItems = []string{"partition", "floor-cassette", "joist-bays", "joist", "timber-member", "steel-member", "stair", "chimney", "masonry"}

type rawMember struct {
	id, item, in, meets, own, stands at[string]
	at, size                         at[[2]q.MM]
	length                           at[q.MM]
	upright                          at[bool]
	count                            at[int]
	answers                          at[[]entry[string]]
}

var memberValue = object("a member",
	field("id", "M and a number", id(memberName), func(m *rawMember) *at[string] { return &m.id }).required(),
	field("item", "what it is", word(memberItems...), func(m *rawMember) *at[string] { return &m.item }).required(),
	field("in", "surface it meets", id(surfacePlace), func(m *rawMember) *at[string] { return &m.in }).required(),
	field("at", "where it starts on the surface: [across, up]", pair(length(-1_000_000, 1_000_000), "[across, up]"), func(m *rawMember) *at[[2]q.MM] { return &m.at }).required(),
	field("length", "of the line it makes on the surface", length(0, 100_000), func(m *rawMember) *at[q.MM] { return &m.length }),
	field("upright", "the line runs up the surface", yesNo, func(m *rawMember) *at[bool] { return &m.upright }),
	field("size", "of its section: [width, height]", pair(length(1, 5000), "[width, height]"), func(m *rawMember) *at[[2]q.MM] { return &m.size }),
	field("count", "identical members, or bays; 1 if left out", count(1, 200), func(m *rawMember) *at[int] { return &m.count }),
	field("meets", "substrate of the wall or plane it meets", substrateID, func(m *rawMember) *at[string] { return &m.meets }),
	field("own", "substrate of the member itself", substrateID, func(m *rawMember) *at[string] { return &m.own }),
	field("stands", "whether it is there before the layer or comes after", word("before", "after"), func(m *rawMember) *at[string] { return &m.stands }),
	field("answers", "question: yes, no or a word, for this member", flagsValue, func(m *rawMember) *at[[]entry[string]] { return &m.answers }),
)
