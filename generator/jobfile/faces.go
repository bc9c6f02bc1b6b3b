package jobfile

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// faceOf settles what holds for one surface. The statements go from the most specific to the most general; one that
// names a face by "like" takes the rest from that face and not from the more general statements.
func (r *resolver) faceOf(where string, pos diag.Pos, chain ...at[rawFace]) job.Face {
	out, _ := r.settle(where, pos, chain...)
	return out
}

// settle is faceOf, and gives the settled statement too.
func (r *resolver) settle(where string, pos diag.Pos, chain ...at[rawFace]) (job.Face, rawFace) {
	var sum rawFace
	stated, whole, named := false, true, ""
	for _, f := range chain {
		if !f.set() {
			continue
		}
		if !stated {
			stated, pos = true, f.pos
		}
		sum = mergeFace(sum, f.v)
		if f.v.like.set() {
			sum, named, whole = r.follow(sum, f.v.like)
			break
		}
	}
	switch {
	case whole && named != "":
		r.silent("face \""+named+"\"", r.faceAt[named], sum)
	case whole:
		r.silent(where, pos, sum)
	}
	return r.face(pos, sum), sum
}

// follow takes what is still open from named faces, and gives the last of them; false when a name leads nowhere.
func (r *resolver) follow(sum rawFace, name at[string]) (settled rawFace, last string, ok bool) {
	seen := Set{}
	for name.v != "" {
		face, ok := r.faces[name.v]
		if !ok {
			r.fault(name.pos, near(r.reader, name.v, r.faces, "faces here: "), "there is no face %q", name.v)
			return sum, last, false
		}
		if seen[name.v] {
			r.fault(name.pos, "end the chain of \"like\"", "face %q goes round in a circle", name.v)
			return sum, last, false
		}
		seen[name.v] = true
		sum, last = mergeFace(sum, face), name.v
		name = face.like
	}
	return sum, last, !name.set()
}

func mergeFace(a, b rawFace) rawFace {
	framing := over(a.framing, b.framing)
	if a.framing.set() && b.framing.set() {
		framing.v = mergeFraming(a.framing.v, b.framing.v)
	}
	return rawFace{
		behind: over(a.behind, b.behind), layer: over(a.layer, b.layer), buildUp: over(a.buildUp, b.buildUp),
		substrate: over(a.substrate, b.substrate), direction: over(a.direction, b.direction),
		floorJoint: over(a.floorJoint, b.floorJoint), framing: framing, looseFill: over(a.looseFill, b.looseFill),
		airBoundary: over(a.airBoundary, b.airBoundary), losesHeat: over(a.losesHeat, b.losesHeat),
		cavity: over(a.cavity, b.cavity), lining: over(a.lining, b.lining), movement: over(a.movement, b.movement), timber: over(a.timber, b.timber),
	}
}

// mergeFraming combines two statements; explicit lines and a spacing exclude each other, so the specific one's kind wins.
func mergeFraming(a, b rawFraming) rawFraming {
	if a.lines.set() {
		b.pitch, b.offset = at[q.MM]{}, at[q.MM]{}
	}
	if a.pitch.set() || a.offset.set() {
		b.lines = at[[]at[q.MM]]{}
	}
	return rawFraming{
		pitch: over(a.pitch, b.pitch), offset: over(a.offset, b.offset), width: over(a.width, b.width),
		lines: over(a.lines, b.lines), doubled: over(a.doubled, b.doubled), noggins: over(a.noggins, b.noggins),
		along: over(a.along, b.along),
	}
}

// face turns a settled statement into the job's face.
func (r *resolver) face(pos diag.Pos, f rawFace) job.Face {
	out := job.Face{
		Behind: job.Behind(f.behind.v), Layer: job.LayerKind(f.layer.v), Substrate: job.SubstrateID(f.substrate.v),
		Direction: f.direction.v, LooseFill: f.looseFill.v, Cavity: f.cavity.v, Lining: f.lining.v,
		AirBoundary: pointer(f.airBoundary), LosesHeat: pointer(f.losesHeat), Pos: pos, Framing: framingOf(f.framing),
	}
	if f.buildUp.set() {
		out.BuildUp = r.buildUp(f.buildUp)
	}
	if out.Layer == "" {
		out.Layer = job.NoLayer
	}
	return out
}

// silent reports what a face leaves unsaid, once where many surfaces share the face.
func (r *resolver) silent(where string, pos diag.Pos, f rawFace) {
	if r.lost {
		return
	}
	say := func(hint, format string) {
		if key := pos.String() + format; !r.bare[key] {
			r.bare[key] = true
			r.fault(pos, hint, format, where)
		}
	}
	heated := job.Behind(f.behind.v) == job.Heated
	carries := job.LayerKind(f.layer.v) == job.Sheet || job.LayerKind(f.layer.v) == job.Board
	switch {
	case !f.behind.set():
		say("add \"behind: outside\" (or ground, unheated, party, heated) here or to its usual face", "%s does not say what lies behind it")
	case !f.layer.set() && !heated:
		say("add \"layer: sheet\" (or board, plaster, none) here or to its usual face", "%s does not say what forms the layer")
	case carries && !f.substrate.set():
		say("add \"substrate\": what the layer is fixed to", "%s carries the layer but does not say on what")
	}
}

func framingOf(f at[rawFraming]) job.Framing {
	return job.Framing{
		Pitch: f.v.pitch.v, Offset: f.v.offset.v, Lines: plain(f.v.lines.v), Doubled: plain(f.v.doubled.v),
		Along: f.v.along.v, Width: f.v.width.v, Noggins: plain(f.v.noggins.v), Pos: f.pos,
	}
}

// plain gives the values without their places; nil for none.
func plain[T any](list []at[T]) []T {
	var out []T
	for _, a := range list {
		out = append(out, a.v)
	}
	return out
}

// pointer gives nil where the file is silent.
func pointer[T any](a at[T]) *T {
	if !a.set() {
		return nil
	}
	v := a.v
	return &v
}
