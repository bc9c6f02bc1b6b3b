package jobfile

import (
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// rawJob is a job as written, before names are resolved and defaults filled in.
type rawJob struct {
	reference, name, language, scenario, lengths at[string]
	alsoIn                                       at[[]at[string]]
	beneath                                      at[string]
	imperial                                     at[bool]
	files                                        at[[]at[string]]
	place                                        at[rawPlace]
	indoor                                       at[rawIndoor]
	client                                       at[rawPerson]
	firm                                         at[rawFirm]
	rates                                        at[rawRates]
	people                                       at[[]at[rawPerson]]
	issue                                        at[rawIssue]
	target                                       at[rawTarget]
	measures                                     at[rawMeasures]
	tests                                        at[[]at[rawTest]]
	instruments                                  at[[]at[rawInstrument]]
	attachments                                  at[[]at[rawAttachment]]
	building                                     at[rawBuilding]
	burners                                      at[[]at[rawBurner]]
	buildUps                                     at[[]entry[rawBuildUp]]
	storeys                                      at[[]at[rawStorey]]
	faces                                        at[[]entry[rawFace]]
	usual                                        at[rawUsual]
	rooms                                        at[[]at[rawRoom]]
	units                                        at[[]at[rawUnit]]
	zones                                        at[[]at[rawZone]]
	stock                                        at[[]at[rawStock]]
	deliveries                                   at[[]at[rawDelivery]]
	tradeTimes                                   at[[]at[rawTradeTime]]
	settings                                     at[[]at[rawSettings]]
	answers                                      at[[]at[rawAnswers]]
	choices                                      at[[]entry[string]]
	resolved                                     at[[]at[rawResolution]]
	accepted                                     at[[]at[rawAcceptance]]
	assumed                                      at[[]at[string]]
	safety                                       at[rawSafety]
	site                                         at[rawSite]
}

// jobKeys are the top keys of job.yaml. The further files may hold any of them except files and lengths.
func jobKeys() []*key[*rawJob] {
	return []*key[*rawJob]{
		field("reference", "the job's number in the office", text(60), func(j *rawJob) *at[string] { return &j.reference }).required(),
		field("name", "what people call the job", text(120), func(j *rawJob) *at[string] { return &j.name }).required(),
		field("language", "language tag of the pack; en if left out", id(tag), func(j *rawJob) *at[string] { return &j.language }),
		field("also-in", "language tags of further languages; each gets pages and a file of its own", list(id(tag)), func(j *rawJob) *at[[]at[string]] { return &j.alsoIn }),
		field("beneath", "language tag of the language that stands beneath each step", id(tag), func(j *rawJob) *at[string] { return &j.beneath }),
		field("imperial", "feet, inches and pounds stand beside the metric figures", yesNo, func(j *rawJob) *at[bool] { return &j.imperial }),
		field("scenario", "a paragraph about the house and the work", text(4000), func(j *rawJob) *at[string] { return &j.scenario }),
		field("lengths", "unit of every length written without one", word("mm", "cm", "m", "in", "ft"), func(j *rawJob) *at[string] { return &j.lengths }),
		field("files", "further files of the job, inside its folder", list(id(fileName)), func(j *rawJob) *at[[]at[string]] { return &j.files }),
		field("place", "where the house stands", placeValue, func(j *rawJob) *at[rawPlace] { return &j.place }),
		field("indoor", "indoor climate for the moisture checks; humidity class 3 is assumed if left out", indoorValue, func(j *rawJob) *at[rawIndoor] { return &j.indoor }),
		field("client", "who ordered the work", personValue, func(j *rawJob) *at[rawPerson] { return &j.client }),
		field("firm", "who does the work, where this job differs from firm.yaml", firmHeadValue, func(j *rawJob) *at[rawFirm] { return &j.firm }),
		field("rates", "prices and pace, where this job differs from firm.yaml", ratesValue, func(j *rawJob) *at[rawRates] { return &j.rates }),
		more("people", "who has a part in the job", list(personValue), func(j *rawJob) *at[[]at[rawPerson]] { return &j.people }),
		field("issue", "number and date of this issue of the pack; without it the pack counts as not issued", issueValue, func(j *rawJob) *at[rawIssue] { return &j.issue }),
		field("target", "how tight the building has to be", targetValue, func(j *rawJob) *at[rawTarget] { return &j.target }).required(),
		field("measures", "volume and areas taken otherwise than from the rooms", measuresValue, func(j *rawJob) *at[rawMeasures] { return &j.measures }),
		more("tests", "fan tests, by the files of their readings", list(testValue), func(j *rawJob) *at[[]at[rawTest]] { return &j.tests }),
		more("instruments", "instruments that readings are taken with", list(instrumentValue), func(j *rawJob) *at[[]at[rawInstrument]] { return &j.instruments }),
		more("attachments", "surveys, safety sheets and photos that go with the pack", atMost(mostPapers, "attachments", list(attachmentValue)), func(j *rawJob) *at[[]at[rawAttachment]] { return &j.attachments }),
		field("building", "what kind of building the work meets", buildingValue, func(j *rawJob) *at[rawBuilding] { return &j.building }),
		more("burners", "stoves, boilers and cookers that burn something", list(burnerValue), func(j *rawJob) *at[[]at[rawBurner]] { return &j.burners }),
		more("build-ups", "constructions by id, layers from inside to outside", named(plainName, buildUpValue), func(j *rawJob) *at[[]entry[rawBuildUp]] { return &j.buildUps }),
		more("storeys", "storeys, from the lowest up", list(storeyValue), func(j *rawJob) *at[[]at[rawStorey]] { return &j.storeys }),
		more("faces", "kinds of wall, slope, ceiling and floor by name, to be named wherever they occur", named(plainName, faceValue), func(j *rawJob) *at[[]entry[rawFace]] { return &j.faces }),
		field("usual", "faces that hold where a room or storey says nothing else", usualValue, func(j *rawJob) *at[rawUsual] { return &j.usual }),
		more("rooms", "the rooms, in working order", atMost(maxRooms, "rooms", list(roomValue)), func(j *rawJob) *at[[]at[rawRoom]] { return &j.rooms }),
		more("units", "kinds of dwelling that are built several times", list(unitValue), func(j *rawJob) *at[[]at[rawUnit]] { return &j.units }),
		more("test-zones", "what one fan test covers; the whole dwelling, or each instance of a unit, if left out", list(zoneValue), func(j *rawJob) *at[[]at[rawZone]] { return &j.zones }),
		more("stock", "roll lengths that can be bought, and leftovers to use up first", list(stockValue), func(j *rawJob) *at[[]at[rawStock]] { return &j.stock }),
		more("deliveries", "batches of material; one a storey if left out", list(deliveryValue), func(j *rawJob) *at[[]at[rawDelivery]] { return &j.deliveries }),
		more("trade-times", "what other trades say their work takes; without it they take no time in the programme", list(tradeTimeValue), func(j *rawJob) *at[[]at[rawTradeTime]] { return &j.tradeTimes }),
		more("settings", "settings that differ from the tables, for the job or a place", list(settingsValue), func(j *rawJob) *at[[]at[rawSettings]] { return &j.settings }),
		more("answers", "answers to the questions to the site lead, for the job or a place", list(answersValue), func(j *rawJob) *at[[]at[rawAnswers]] { return &j.answers }),
		more("choices", "the class chosen for a component that stands for several", named(component, componentID), func(j *rawJob) *at[[]entry[string]] { return &j.choices }),
		more("resolved", "junctions without a method statement that were settled on site", list(resolutionValue), func(j *rawJob) *at[[]at[rawResolution]] { return &j.resolved }),
		more("accepted", "open points about a build-up that somebody accepted", list(acceptanceValue), func(j *rawJob) *at[[]at[rawAcceptance]] { return &j.accepted }),
		more("assumed", "what a survey assumed; each is an open point until its line is taken out", atMost(mostAssumed, "assumptions", list(text(400))), func(j *rawJob) *at[[]at[string]] { return &j.assumed }).emptied(),
		field("safety", "the site's own safety data", safetyValue, func(j *rawJob) *at[rawSafety] { return &j.safety }),
		field("site", "working times", siteValue, func(j *rawJob) *at[rawSite] { return &j.site }),
	}
}

type rawPlace struct {
	address, country, climate at[string]
	weatherYear               at[string]
	altitude                  at[q.MM]
	radon                     at[bool]
}

var placeValue = object("a place",
	field("address", "street and town", text(200), func(p *rawPlace) *at[string] { return &p.address }),
	field("country", "two letters as in ISO 3166", id(country), func(p *rawPlace) *at[string] { return &p.country }),
	field("climate", "id of a climate of the climate table, or an hourly weather file (.epw) inside the job's folder", climateSource, func(p *rawPlace) *at[string] { return &p.climate }),
	field("weather-year", "what the weather file holds: an average year, or one as severe as comes once in ten; average if left out", word(job.WeatherYears...), func(p *rawPlace) *at[string] { return &p.weatherYear }),
	field("altitude", "over the sea", length(-500_000, 6_000_000), func(p *rawPlace) *at[q.MM] { return &p.altitude }),
	field("radon", "radon area", yesNo, func(p *rawPlace) *at[bool] { return &p.radon }),
)

type rawPerson struct{ name, role, contact at[string] }

var personValue = object("a person",
	field("name", "name", text(120), func(p *rawPerson) *at[string] { return &p.name }).required(),
	field("role", "part in the job", word(job.Roles...), func(p *rawPerson) *at[string] { return &p.role }),
	field("contact", "telephone or post", text(200), func(p *rawPerson) *at[string] { return &p.contact }),
)

type rawIssue struct {
	number           at[int]
	date, by, reason at[string]
	ordered          at[string]
}

var issueValue = object("an issue",
	field("number", "counts up from 1", count(1, 9999), func(i *rawIssue) *at[int] { return &i.number }).required(),
	field("date", "day of issue", date, func(i *rawIssue) *at[string] { return &i.date }).required(),
	field("by", "who issued it", text(120), func(i *rawIssue) *at[string] { return &i.by }),
	field("reason", "why there is a new issue", text(400), func(i *rawIssue) *at[string] { return &i.reason }),
	field("ordered", "who ordered what is new in it, and when", text(200), func(i *rawIssue) *at[string] { return &i.ordered }),
)

type rawTarget struct {
	kind, source, limit at[string]
	value               at[float64]
}

var targetValue = object("a target",
	field("kind", "n50 in 1/h, qE50 or qF50 in m³/(h·m²)", word(string(job.N50), string(job.QE50), string(job.QF50)), func(t *rawTarget) *at[string] { return &t.kind }).required(),
	field("value", "at 50 Pa", number(0.01, 50), func(t *rawTarget) *at[float64] { return &t.value }).required(),
	field("source", "who asks for it", text(200), func(t *rawTarget) *at[string] { return &t.source }),
	field("limit", "row of the table of limits that a result is held against too", limitID, func(t *rawTarget) *at[string] { return &t.limit }),
)

type rawBuilding struct {
	work              at[string]
	crooked, occupied at[bool]
	built             at[int]
}

var buildingValue = object("a building",
	field("work", "new or retrofit", word("new", "retrofit"), func(b *rawBuilding) *at[string] { return &b.work }).required(),
	field("crooked", "walls and frames out of true", yesNo, func(b *rawBuilding) *at[bool] { return &b.crooked }),
	field("occupied", "people live there during the work", yesNo, func(b *rawBuilding) *at[bool] { return &b.occupied }),
	field("built", "year", count(1000, 2200), func(b *rawBuilding) *at[int] { return &b.built }),
)

type rawBurner struct {
	id, room, kind, air, signedBy at[string]
	outOfUse                      at[bool]
}

var burnerValue = object("a burner",
	field("id", "id", id(plainName), func(b *rawBurner) *at[string] { return &b.id }).required(),
	field("room", "room it stands in", id(roomName), func(b *rawBurner) *at[string] { return &b.room }),
	field("kind", "kind of appliance", word("stove", "boiler", "cooker", "open-fire", "water-heater", "other"), func(b *rawBurner) *at[string] { return &b.kind }).required(),
	field("air", "where it takes its air from; unknown if left out", word("room", "outside", "unknown"), func(b *rawBurner) *at[string] { return &b.air }),
	field("out-of-use", "a licensed person signed it as out of use", yesNo, func(b *rawBurner) *at[bool] { return &b.outOfUse }),
	field("signed-by", "who signed", text(120), func(b *rawBurner) *at[string] { return &b.signedBy }),
)

type rawZone struct {
	id, name at[string]
	rooms    at[[]at[string]]
}

var zoneValue = object("a test zone",
	field("id", "id", id(plainName), func(z *rawZone) *at[string] { return &z.id }).required(),
	field("name", "name", text(120), func(z *rawZone) *at[string] { return &z.name }),
	field("rooms", "its rooms; all if left out", list(id(roomName)), func(z *rawZone) *at[[]at[string]] { return &z.rooms }),
)

type rawDelivery struct {
	id, name, date at[string]
	rooms          at[[]at[string]]
	load           at[float64]
}

var deliveryValue = object("a delivery",
	field("id", "id", id(plainName), func(d *rawDelivery) *at[string] { return &d.id }).required(),
	field("name", "name", text(120), func(d *rawDelivery) *at[string] { return &d.name }),
	field("rooms", "rooms it is for", list(id(roomName)), func(d *rawDelivery) *at[[]at[string]] { return &d.rooms }).required(),
	field("date", "day wanted on site", date, func(d *rawDelivery) *at[string] { return &d.date }),
	field("load-kg", "most that goes up at once, in kg: what its hoist or lift takes; the storeys' if left out", number(10, 100_000), func(d *rawDelivery) *at[float64] { return &d.load }),
)

type rawSettings struct {
	where  at[[]at[string]]
	values at[[]entry[string]]
}

var settingsValue = object("settings",
	field("for", "room or surface; the whole job if left out", oneOrMore(id(scopeName)), func(s *rawSettings) *at[[]at[string]] { return &s.where }),
	field("values", "setting: number in its own unit", named(plainName, text(40)), func(s *rawSettings) *at[[]entry[string]] { return &s.values }).required(),
)

type rawAnswers struct {
	where at[[]at[string]]
	by    at[string]
	flags at[[]entry[string]]
}

var answersValue = object("answers",
	field("for", "room, surface, opening, penetration or member; the whole job if left out", oneOrMore(id(scopeName)), func(a *rawAnswers) *at[[]at[string]] { return &a.where }),
	field("by", "who answered", text(120), func(a *rawAnswers) *at[string] { return &a.by }),
	field("flags", "question: yes, no or a word", flagsValue, func(a *rawAnswers) *at[[]entry[string]] { return &a.flags }).required(),
)

var flagsValue = named(plainName, text(40))

type rawResolution struct{ junction, statement, variant, by, role, reason at[string] }

var resolutionValue = object("a resolution",
	field("junction", "id of the junction", text(80), func(s *rawResolution) *at[string] { return &s.junction }).required(),
	field("statement", "method statement chosen, or licensed where a licensed person sealed it", id(plainName), func(s *rawResolution) *at[string] { return &s.statement }).required(),
	field("variant", "variant chosen", id(plainName), func(s *rawResolution) *at[string] { return &s.variant }),
	field("by", "who decided", text(120), func(s *rawResolution) *at[string] { return &s.by }).required(),
	field("role", "that person's part in the job", word(job.Roles...), func(s *rawResolution) *at[string] { return &s.role }),
	field("reason", "why", text(400), func(s *rawResolution) *at[string] { return &s.reason }),
)

type rawAcceptance struct{ buildUp, check, by, reason at[string] }

var acceptanceValue = object("an acceptance",
	field("build-up", "id of the build-up", id(plainName), func(a *rawAcceptance) *at[string] { return &a.buildUp }).required(),
	field("check", "what was accepted", word("moisture", "class", "ventilation"), func(a *rawAcceptance) *at[string] { return &a.check }).required(),
	field("by", "who accepted it", text(120), func(a *rawAcceptance) *at[string] { return &a.by }).required(),
	field("reason", "why", text(400), func(a *rawAcceptance) *at[string] { return &a.reason }).required(),
)

type rawSafety struct {
	emergency, firstAider, assembly, isolation, sheets, heater at[string]
	briefed                                                    at[[]at[string]]
}

var safetyValue = object("safety data",
	field("emergency", "emergency number", text(80), func(s *rawSafety) *at[string] { return &s.emergency }),
	field("first-aider", "who gives first aid", text(120), func(s *rawSafety) *at[string] { return &s.firstAider }),
	field("assembly-point", "where people meet after an alarm", text(200), func(s *rawSafety) *at[string] { return &s.assembly }),
	field("isolation", "where power, water and gas are turned off", text(400), func(s *rawSafety) *at[string] { return &s.isolation }),
	field("safety-sheets", "where the safety sheets of the products are", text(200), func(s *rawSafety) *at[string] { return &s.sheets }),
	field("briefed", "who was briefed", list(text(120)), func(s *rawSafety) *at[[]at[string]] { return &s.briefed }),
	field("heater", "how the site is heated; a flueless burner is not an answer", word("electric", "indirect", "none"), func(s *rawSafety) *at[string] { return &s.heater }),
)

type rawSite struct {
	start          at[string]
	dayStart, day  at[int]
	workDays, shut at[[]at[string]]
}

var siteValue = object("working times",
	field("start", "day 1", date, func(s *rawSite) *at[string] { return &s.start }),
	field("day-start", "when work begins; 08:00 if left out", clock, func(s *rawSite) *at[int] { return &s.dayStart }),
	field("day-length", "working time a day; 8 h if left out", minutes, func(s *rawSite) *at[int] { return &s.day }),
	field("work-days", "days of the week; mon to fri if left out", list(word("mon", "tue", "wed", "thu", "fri", "sat", "sun")), func(s *rawSite) *at[[]at[string]] { return &s.workDays }),
	field("closed", "days without work", list(date), func(s *rawSite) *at[[]at[string]] { return &s.shut }),
)
