package jobfile

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// working resolves what concerns people, material and time rather than the building.
func (s *resolver) working(top diag.Pos) {
	s.burners()
	s.zones()
	s.deliveries()
	s.tradeTimes()
	s.job.Stock = stockOf(s.reader, s.raw.stock.v)
	s.safety(top)
	for _, x := range s.raw.resolved.v {
		s.job.Resolutions = append(s.job.Resolutions, job.Resolution{Junction: x.v.junction.v, Statement: x.v.statement.v,
			Variant: x.v.variant.v, By: x.v.by.v, Role: x.v.role.v, Reason: x.v.reason.v, Pos: x.pos})
	}
	for _, a := range s.raw.accepted.v {
		if a.v.buildUp.set() {
			s.buildUp(a.v.buildUp)
		}
		s.job.MoistureNotes = append(s.job.MoistureNotes, job.Acceptance{BuildUp: job.BuildUpID(a.v.buildUp.v),
			Check: a.v.check.v, By: a.v.by.v, Reason: a.v.reason.v, Pos: a.pos})
	}
	s.assumptions()
	w := s.raw.site.v
	s.job.Site = job.Site{Start: w.start.v, DayMinutes: w.day.v, DayStart: w.dayStart.v, WorkDays: plain(w.workDays.v),
		Closed: plain(w.shut.v), Pos: s.raw.site.pos}
}

// mostAssumed bounds the list of what a survey assumed.
const mostAssumed = 200

// assumptions keeps each thing that a survey assumed open until somebody takes it out of the job.
func (s *resolver) assumptions() {
	for _, a := range s.raw.assumed.v {
		s.job.Assumed = append(s.job.Assumed, job.Assumption{Text: a.v, Pos: a.pos})
		s.found.Openf(a.pos, "", "confirm it, or change what is wrong in the job, then take the line out of assumed", "assumed by the survey: %s", a.v)
	}
}

func (s *resolver) burners() {
	taken := map[string]diag.Pos{}
	for _, b := range s.raw.burners.v {
		s.unique(taken, b.v.id)
		if b.v.room.set() {
			s.roomNamed(b.v.room)
		}
		if b.v.outOfUse.v && !b.v.signedBy.set() {
			s.fault(b.v.outOfUse.pos, "add \"signed-by\": the licensed person, or leave out-of-use away", "burner %s is out of use, but nobody signed it", b.v.id.v)
		}
		s.job.Burners = append(s.job.Burners, job.Burner{ID: b.v.id.v, Room: job.RoomID(b.v.room.v), Kind: b.v.kind.v,
			AirSupply: b.v.air.or("unknown"), OutOfUse: b.v.outOfUse.v, SignedBy: b.v.signedBy.v, Pos: b.pos})
	}
}

// unique reports an id that is taken.
func (s *resolver) unique(taken map[string]diag.Pos, id at[string]) {
	if first, twice := taken[id.v]; twice && id.v != "" {
		s.again(id.pos, first, id.v)
	}
	taken[id.v] = id.pos
}

func (s *resolver) zones() {
	taken := map[string]diag.Pos{}
	in, whole := map[job.RoomID]bool{}, !s.raw.zones.set()
	for _, z := range s.raw.zones.v {
		s.unique(taken, z.v.id)
		s.job.Zones = append(s.job.Zones, job.TestZone{ID: z.v.id.v, Name: z.v.name.v, Rooms: s.roomList(z.v.rooms.v), Pos: z.pos})
		whole = whole || len(z.v.rooms.v) == 0 || len(s.job.Zones[len(s.job.Zones)-1].Rooms) < len(z.v.rooms.v) // a wrong name is reported
		for _, room := range s.job.Zones[len(s.job.Zones)-1].Rooms {
			in[room] = true
		}
	}
	var out []string
	for _, room := range s.job.Rooms {
		if !whole && room.Heated && !in[room.ID] {
			out = append(out, string(room.ID))
		}
	}
	if len(out) > 0 {
		s.found.Openf(s.raw.zones.pos, "", "add them to a zone, or a zone of their own", "no test zone has the heated rooms %s: no fan test covers them", someOf(out))
	}
}

// someOf lists the first few of many ids.
func someOf(ids []string) string {
	const most = 8
	if len(ids) > most {
		return strings.Join(ids[:most], ", ") + ", …"
	}
	return strings.Join(ids, ", ")
}

func (s *resolver) deliveries() {
	taken, room := map[string]diag.Pos{}, map[string]diag.Pos{}
	for _, d := range s.raw.deliveries.v {
		s.unique(taken, d.v.id)
		for _, name := range d.v.rooms.v {
			if first, twice := room[name.v]; twice {
				s.faultSee(name.pos, seeOne(first), "take it out of one of them", "room %s is in two deliveries", name.v)
			}
			room[name.v] = name.pos
		}
		s.job.Deliveries = append(s.job.Deliveries, job.Delivery{ID: d.v.id.v, Name: d.v.name.v, Rooms: s.roomList(d.v.rooms.v), Date: d.v.date.v, Load: q.Mass(d.v.load.v), Pos: d.pos})
	}
}

func (s *resolver) roomList(names []at[string]) []job.RoomID {
	var out []job.RoomID
	for _, name := range names {
		if s.roomNamed(name) {
			out = append(out, job.RoomID(name.v))
		}
	}
	return out
}

func stockOf(r *reader, list []at[rawStock]) []job.StockRoll {
	var out []job.StockRoll
	for _, x := range list {
		if x.v.count.set() && !x.v.leftover.set() {
			r.fault(x.v.count.pos, "add \"leftover\" with its name, or delete the count: bought rolls are ordered as needed", "only leftovers are counted")
		}
		count := x.v.count.v
		if x.v.leftover.set() {
			count = x.v.count.or(1)
		}
		out = append(out, job.StockRoll{Component: job.ComponentID(x.v.component.v), Width: x.v.width.v, Length: x.v.length.v,
			Leftover: x.v.leftover.v, Count: count, Article: x.v.article.v, Price: pointer(x.v.price), Pos: x.pos})
	}
	return out
}

// safety takes the site's safety data; what is missing is an open point.
func (s *resolver) safety(top diag.Pos) {
	d := s.raw.safety.v
	pos := top
	if s.raw.safety.set() {
		pos = s.raw.safety.pos
	}
	var lacks []string
	for _, entry := range []struct {
		key string
		set bool
	}{
		{"emergency", d.emergency.set()}, {"first-aider", d.firstAider.set()}, {"assembly-point", d.assembly.set()}, {"isolation", d.isolation.set()},
		{"safety-sheets", d.sheets.set()}, {"briefed", d.briefed.set()}, {"heater", d.heater.set()},
	} {
		if !entry.set {
			lacks = append(lacks, entry.key)
		}
	}
	if len(lacks) > 0 { // the keys tell what they are for, in every language of a pack
		s.found.Openf(pos, "", "write them under safety; isolation is where power, water and gas are turned off, briefed is a list of names, heater is electric, indirect or none",
			"the site's safety data lack: %s", strings.Join(lacks, ", "))
	}
	s.job.Safety = job.Safety{Emergency: d.emergency.v, FirstAider: d.firstAider.v, AssemblyPoint: d.assembly.v, Isolation: d.isolation.v,
		SheetList: d.sheets.v, Briefed: plain(d.briefed.v), Heater: d.heater.v, Pos: s.raw.safety.pos}
}

// places resolves settings and answers that name a place, after all ids are known.
func (s *resolver) places() {
	for _, x := range s.raw.settings.v {
		for _, scope := range s.scopes(x.v.where.v) {
			s.setting(scope, x.v.values.v)
		}
	}
	for _, x := range s.raw.answers.v {
		for _, scope := range s.scopes(x.v.where.v) {
			s.answer(scope, x.v.by, x.v.flags.v)
		}
	}
}

// scopes gives the places named, or the whole job.
func (s *resolver) scopes(where []at[string]) []string {
	if len(where) == 0 {
		return []string{""}
	}
	var out []string
	for _, w := range where {
		if s.placeKnown(w) {
			out = append(out, w.v)
		}
	}
	return out
}

// placeKnown checks a room, part or surface by its id. Which letter a wall's surface has follows from the roof, so a
// wall is found by its number under any of the wall letters.
func (s *resolver) placeKnown(w at[string]) bool {
	if _, part := s.taken[w.v]; part {
		return true
	}
	name, part, isPart := strings.Cut(w.v, "-")
	if !s.roomNamed(at[string]{name, w.pos}) {
		return false
	}
	if !isPart {
		return true
	}
	room := s.rooms[name]
	if dormer, _, nested := strings.Cut(part, "-"); nested {
		part = dormer // which faces a dormer has follows from its shape
	}
	n, err := strconv.Atoi(part[1:])
	most := map[byte]int{'W': len(room.Footprint), 'K': len(room.Footprint), 'G': len(room.Footprint), 'S': len(room.Ceiling.Slopes), 'C': 99, 'F': 99, 'D': len(room.Dormers)}[part[0]]
	if err != nil || n < 1 || n > most {
		s.fault(w.pos, "check the number; ids stand on the room's page", "room %s has no %q", name, part)
		return false
	}
	return true
}

// answer enters answers to questions and checks them against the table of questions.
func (s *resolver) answer(scope string, by at[string], list []entry[string]) {
	for _, e := range list {
		allowed, ok := s.known.Flags[e.name.v]
		if len(allowed) == 0 {
			allowed = []string{"yes", "no"}
		}
		value := map[string]string{"true": "yes", "false": "no"}[e.v]
		if value == "" {
			value = e.v
		}
		switch {
		case len(s.known.Flags) > 0 && !ok:
			s.fault(e.name.pos, didYouMean(e.name.v, s.known.flagNames(), "questions: "), "there is no question %q", e.name.v)
			continue
		case len(s.known.Flags) > 0 && !slices.Contains(allowed, value):
			s.fault(e.at.pos, "one of: "+strings.Join(allowed, ", "), "%q is no answer to %s", clip(e.v), e.name.v)
			continue
		}
		s.job.Flags = append(s.job.Flags, job.FlagAnswer{Flag: job.FlagID(e.name.v), Scope: scope, Value: value, By: by.v, Pos: e.name.pos})
	}
}

// setting enters settings.
func (s *resolver) setting(scope string, list []entry[string]) {
	s.job.Settings = append(s.job.Settings, settingsOf(s.reader, scope, list)...)
}

func settingsOf(r *reader, scope string, list []entry[string]) []job.Setting {
	var out []job.Setting
	for _, e := range list {
		span, ok := r.known.Settings[e.name.v]
		if len(r.known.Settings) == 0 {
			span = Range{Low: -1e9, High: 1e9}
		} else if !ok {
			r.fault(e.name.pos, didYouMean(e.name.v, r.known.settingNames(), "settings: "), "there is no setting %q", e.name.v)
			continue
		}
		text := strings.TrimSpace(strings.TrimSuffix(e.v, span.Unit))
		v, wrong, hint := parseNumber(text, span.Low, span.High)
		if wrong != "" {
			if strings.HasPrefix(hint, "from ") {
				hint = strings.TrimSpace(hint + " " + span.Unit)
			}
			r.fault(e.at.pos, hint, "%s: %s", e.name.v, wrong)
			continue
		}
		out = append(out, job.Setting{Name: e.name.v, Scope: scope, Value: v, Pos: e.name.pos})
	}
	return out
}

func firmOf(raw at[rawFirm]) job.Firm {
	return job.Firm{Name: raw.v.name.v, Contact: raw.v.contact.v, Address: raw.v.address.v, Crew: raw.v.crew.v, Pos: raw.pos}
}

// ratesOf takes prices and pace; a component that no table has is reported where it is named.
func (r *reader) ratesOf(raw at[rawRates]) job.Rates {
	out := job.Rates{Hour: pointer(raw.v.hour), Pace: ratio(raw.v.pace.v), Note: raw.v.note.v, Pos: raw.pos}
	for _, p := range raw.v.packs.v {
		if len(r.known.Components) > 0 && !r.known.Components[p.name.v] {
			r.fault(p.name.pos, didYouMean(p.name.v, slices.Sorted(maps.Keys(r.known.Components)), "components: "), "there is no component %q", p.name.v)
			continue
		}
		out.Packs = append(out.Packs, job.PackPrice{Component: job.ComponentID(p.name.v), Price: p.v, Pos: p.name.pos})
	}
	return out
}

// pinsOf gives the pins that are stated completely.
func pinsOf(list []at[rawPin]) []job.LibraryPin {
	var out []job.LibraryPin
	for _, p := range list {
		if p.v.from.v != "" && p.v.hash.v != "" {
			out = append(out, job.LibraryPin{From: p.v.from.v, Hash: p.v.hash.v, Pos: p.pos})
		}
	}
	return out
}

// resolveFirm turns firm.yaml into the firm's sheet.
func (r *reader) resolveFirm(raw rawFirm, top diag.Pos) *job.FirmSheet {
	out := &job.FirmSheet{Firm: firmOf(at[rawFirm]{raw, top}), Choices: choicesOf(raw.choices.v),
		Settings: settingsOf(r, "", raw.settings.v), Stock: stockOf(r, raw.stock.v)}
	out.Rates = r.ratesOf(raw.rates)
	for _, c := range raw.components.v {
		out.Components = append(out.Components, job.OwnComponent{Component: job.ComponentID(c.v.component.v), Name: c.v.name.v,
			Article: c.v.article.v, Pack: c.v.pack.v, Width: c.v.width.v, Length: c.v.length.v, Price: pointer(c.v.price), Pos: c.pos})
	}
	out.Libraries = pinsOf(raw.libraries.v)
	out.Look = lookOf(raw.look)
	out.Commands = r.commandsOf(raw.commands.v)
	return out
}

// commandsOf gives the flags that a firm sets for its commands, each one that some command has.
func (r *reader) commandsOf(list []entry[string]) []job.Command {
	var out []job.Command
	for _, e := range list {
		yesNo, ok := r.known.Commands[e.name.v]
		switch {
		case len(r.known.Commands) > 0 && !ok:
			r.fault(e.name.pos, didYouMean(e.name.v, slices.Sorted(maps.Keys(r.known.Commands)), "flags: "), "no command has a flag %q", e.name.v)
			continue
		case yesNo && !slices.Contains([]string{"yes", "no", "true", "false"}, e.v):
			r.fault(e.at.pos, "write yes or no", "the flag %s is yes or no, not %q", e.name.v, clip(e.v))
			continue
		}
		out = append(out, job.Command{Flag: e.name.v, Value: e.v, Pos: e.name.pos})
	}
	return out
}
