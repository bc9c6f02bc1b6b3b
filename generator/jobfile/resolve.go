package jobfile

import (
	"cmp"
	"slices"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// resolver turns a job as written into a job without dangling names.
type resolver struct {
	*reader
	raw      *rawJob
	job      *job.Job
	faces    map[string]rawFace
	faceAt   map[string]diag.Pos // where a named face is stated
	bare     map[string]bool     // what faces leave unsaid, once a place
	lost     bool                // the room being resolved names a storey that is not there: what it lacks follows from that
	buildUps map[string]*job.BuildUp
	storeys  map[string]at[rawStorey]
	levels   map[string]*job.Storey
	rooms    map[string]*job.Room
	taken    map[string]diag.Pos // ids of openings, penetrations, members, dormers
}

func (r *reader) resolve(raw *rawJob, top diag.Pos) *job.Job {
	s := &resolver{reader: r, raw: raw, faces: map[string]rawFace{}, faceAt: map[string]diag.Pos{}, bare: map[string]bool{}, buildUps: map[string]*job.BuildUp{},
		storeys: map[string]at[rawStorey]{}, levels: map[string]*job.Storey{}, rooms: map[string]*job.Room{}, taken: map[string]diag.Pos{}}
	s.job = &job.Job{
		Reference: raw.reference.v, Name: raw.name.v, Language: raw.language.or("en"), Scenario: raw.scenario.v, Pos: top,
	}
	s.missing(top)
	s.header()
	s.constructions()
	s.levelsOf()
	for _, room := range raw.rooms.v {
		s.room(room)
	}
	s.working(top)
	s.places()
	s.air()
	s.papers()
	return s.job
}

// missing reports what all files together have to state, and what leaves the pack open.
func (s *resolver) missing(top diag.Pos) {
	lacks := func(set bool, name, hint string) {
		if !set {
			s.fault(top, hint, "the job lacks %q", name)
		}
	}
	lacks(s.raw.reference.set(), "reference", "add the job's number: reference: 26-014")
	lacks(s.raw.name.set(), "name", "add what people call the job: name: ...")
	lacks(s.raw.target.set(), "target", "add the target and who asks for it: target: {kind: n50, value: 1.5, source: ...}")
	lacks(len(s.raw.storeys.v) > 0, "storeys", "add the storeys, from the lowest up")
	lacks(len(s.raw.rooms.v) > 0, "rooms", "add the rooms, here or in files named under \"files\"")
	if !s.raw.issue.set() {
		s.found.Openf(top, "", "add \"issue\" with number, date, by and reason when the pack is handed out", "the pack is not issued: it states no issue date")
	}
}

// header fills in what concerns the whole job.
func (s *resolver) header() {
	raw, j := s.raw, s.job
	p := raw.place.v
	j.Place = job.Place{Address: p.address.v, Country: p.country.v, Climate: p.climate.v, Altitude: p.altitude.v,
		RadonArea: p.radon.v, Pos: raw.place.pos}
	j.Place.Weather, j.Place.Severe = s.weather(p.climate), p.weatherYear.v == "severe"
	s.languages()
	j.Indoor = s.indoor()
	j.Client = person(at[rawPerson]{raw.client.v, raw.client.pos})
	if raw.client.set() && j.Client.Role == "" {
		j.Client.Role = "client"
	}
	j.Firm = firmOf(raw.firm)
	j.Rates = s.ratesOf(raw.rates)
	for _, someone := range raw.people.v {
		j.People = append(j.People, person(someone))
	}
	if i := raw.issue; i.set() {
		j.Issue = &job.Issue{Number: i.v.number.v, Date: i.v.date.v, By: i.v.by.v, Reason: i.v.reason.v, Ordered: i.v.ordered.v, Pos: i.pos}
	}
	t := raw.target.v
	j.Target = job.Target{Kind: job.TargetKind(t.kind.v), Value: t.value.v, Source: t.source.v, Limit: t.limit.v, Pos: raw.target.pos}
	b := raw.building.v
	j.State = job.State{Retrofit: b.work.v == "retrofit", Crooked: b.crooked.v, Occupied: b.occupied.v, BuiltYear: b.built.v, Pos: raw.building.pos}
	j.Components = choicesOf(raw.choices.v)
}

func person(p at[rawPerson]) job.Person {
	return job.Person{Name: p.v.name.v, Role: p.v.role.v, Contact: p.v.contact.v, Pos: p.pos}
}

func choicesOf(list []entry[string]) map[string]job.ComponentID {
	if len(list) == 0 {
		return nil
	}
	out := map[string]job.ComponentID{}
	for _, c := range list {
		out[c.name.v] = job.ComponentID(c.v)
	}
	return out
}

// constructions resolves build-ups and gathers the named faces.
func (s *resolver) constructions() {
	for _, e := range uniqueNames(s.reader, s.raw.buildUps.v) {
		b := s.buildUpOf(e)
		s.buildUps[e.name.v] = b
		s.job.BuildUps = append(s.job.BuildUps, b)
	}
	for _, e := range uniqueNames(s.reader, s.raw.faces.v) {
		s.faces[e.name.v], s.faceAt[e.name.v] = e.v, e.name.pos
	}
}

// uniqueNames drops entries whose name an earlier file has, with a finding.
func uniqueNames[T any](r *reader, list []entry[T]) []entry[T] {
	var out []entry[T]
	first := map[string]diag.Pos{}
	for _, e := range list {
		if pos, twice := first[e.name.v]; twice {
			r.again(e.name.pos, pos, e.name.v)
			continue
		}
		first[e.name.v] = e.name.pos
		out = append(out, e)
	}
	return out
}

func (s *resolver) buildUpOf(e entry[rawBuildUp]) *job.BuildUp {
	out := &job.BuildUp{ID: job.BuildUpID(e.name.v), Name: e.v.name.v, SheetClass: job.ComponentID(e.v.checkedWith.v),
		Ventilated: e.v.ventilated.v, Exposure: exposureOf(e.v.exposure.v), CountAbove: ratio(e.v.countAbove.v), Pos: e.name.pos}
	if f := e.v.framing; f.set() {
		out.Framing = &job.BuildUpFraming{Fraction: ratio(f.v.share.v), Material: f.v.material.v}
	}
	for _, l := range e.v.layers.v {
		s.checkLayer(e, l)
		out.Layers = append(out.Layers, layerOf(l))
	}
	if e.v.layers.set() && len(out.Layers) == 0 {
		s.fault(e.v.layers.pos, "list the layers from inside to outside", "build-up %s has no layers", e.name.v)
	}
	return out
}

func layerOf(l at[rawLayer]) job.Layer {
	out := job.Layer{Material: l.v.material.v, Component: job.ComponentID(l.v.component.v), Sd: q.SdValue(l.v.sd.v), Thickness: l.v.thickness.v, Bridged: l.v.bridged.v, Air: l.v.air.v,
		Emissivity: ratio(l.v.emissivity.v), Openings: l.v.openings.v, Gaps: l.v.gaps.v, Pos: l.pos}
	if a := l.v.across; a.set() {
		out.Across = &job.BuildUpFraming{Fraction: ratio(a.v.share.v), Material: a.v.material.v}
	}
	if f := l.v.fixings; f.set() {
		out.Fixings = &job.Fixings{PerM2: f.v.perM2.v, Diameter: q.Length(f.v.diameter.v / 1000), Lambda: f.v.lambda.v, Depth: f.v.depth.v.Metres()}
	}
	return out
}

func (s *resolver) checkLayer(e entry[rawBuildUp], l at[rawLayer]) {
	kinds := 0
	for _, is := range []bool{l.v.material.set(), l.v.component.set(), l.v.air.v} {
		if is {
			kinds++
		}
	}
	switch {
	case kinds != 1:
		s.fault(l.pos, "give it one of material, component or air: yes", "a layer of build-up %s %s", e.name.v, pick(kinds == 0, "does not say what it is", "says more than once what it is"))
	case !l.v.component.set() && (!l.v.thickness.set() || l.v.thickness.v < 0):
		s.fault(l.pos, "add its thickness", "a layer of build-up %s has no thickness", e.name.v)
	case l.v.sd.set() && !l.v.component.set():
		s.fault(l.v.sd.pos, "delete it, or name the layer's component; of materials the table has the figures", "sd is declared of the control layer only")
	case l.v.bridged.v && !e.v.framing.set():
		s.fault(l.v.bridged.pos, "add \"framing\" with share and material to the build-up", "a layer of build-up %s is bridged, but no framing is stated", e.name.v)
	}
	s.checkAcross(e, l)
}

// checkAcross refuses what belongs to another kind of layer, and members without a share.
func (s *resolver) checkAcross(e entry[rawBuildUp], l at[rawLayer]) {
	switch a := l.v.across; {
	case !a.set():
	case l.v.bridged.v || l.v.component.set():
		s.fault(a.pos, "state the members on a layer of their own", "members cannot run across a layer of build-up %s that the framing crosses or that is a sheet", e.name.v)
	case !(a.v.share.v > 0 && a.v.share.v < 1):
		s.fault(a.pos, "state their share of the area, as 10 %", "members across a layer of build-up %s have no share", e.name.v)
	}
	if !l.v.air.v && (l.v.emissivity.set() || l.v.openings.set()) {
		s.fault(l.pos, "delete it, or state it of the air layer", "emissivity and openings are those of an air layer, not of another layer of build-up %s", e.name.v)
	}
	if !l.v.material.set() && (l.v.fixings.set() || l.v.gaps.set()) {
		s.fault(l.pos, "delete it, or state it of the insulation", "fixings and gaps are those of an insulation, not of another layer of build-up %s", e.name.v)
	}
}

func (s *resolver) buildUp(name at[string]) *job.BuildUp {
	b := s.buildUps[name.v]
	if b == nil && name.v != "" {
		s.fault(name.pos, near(s.reader, name.v, s.buildUps, "build-ups here: "), "there is no build-up %q", name.v)
	}
	return b
}

// levelsOf resolves the storeys, lowest first.
func (s *resolver) levelsOf() {
	for _, raw := range s.raw.storeys.v {
		id := raw.v.id
		if first, twice := s.storeys[id.v]; twice && id.v != "" {
			s.again(id.pos, first.v.id.pos, id.v)
			continue
		}
		s.storeys[id.v] = raw
		storey := &job.Storey{ID: job.StoreyID(id.v), Name: raw.v.name.v, Level: raw.v.level.v, Longest: raw.v.longest.v, Load: q.Mass(raw.v.load.v), Pos: raw.pos}
		s.levels[id.v] = storey
		s.job.Storeys = append(s.job.Storeys, storey)
	}
	slices.SortStableFunc(s.job.Storeys, func(a, b *job.Storey) int { return cmp.Compare(a.Level, b.Level) })
}

// roomNamed looks a room up.
func (s *resolver) roomNamed(name at[string]) bool {
	if s.rooms[name.v] != nil || name.v == "" {
		return name.v != ""
	}
	s.fault(name.pos, near(s.reader, name.v, s.rooms, "rooms here: "), "there is no room %q", name.v)
	return false
}
