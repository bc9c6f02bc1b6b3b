package library

import (
	"encoding/binary"
	"slices"
	"sync"

	"lapwork/generator/job"
	"lapwork/generator/junction"
)

// Env is what an expression sees of one record: its attributes, its measures, the settings that hold there, the substrate
// it is sealed to, and the answers of the site lead. Lengths end in their unit. It has no methods: the expression language
// would offer them as functions.
type Env struct {
	Edge        string  `expr:"edge"`
	SurfaceA    string  `expr:"surface_a"`
	SurfaceB    string  `expr:"surface_b"`
	Layer       string  `expr:"layer"`
	LayerA      string  `expr:"layer_a"`
	LayerB      string  `expr:"layer_b"`
	Sub         Surface `expr:"sub"`
	Mem         Surface `expr:"mem"`
	Item        string  `expr:"item"`
	Part        string  `expr:"part"`
	Orientation string  `expr:"orientation"` // upright, level
	Supported   bool    `expr:"supported"`
	LoadOnLayer bool    `expr:"load_on_layer"`
	Hot         bool    `expr:"hot"`
	Masonry     bool    `expr:"masonry"` // the build-up of the surface has masonry or concrete
	AngleDeg    float64 `expr:"angle_deg"`
	MovementMM  float64 `expr:"movement_mm"`
	SpacingMM   float64 `expr:"spacing_mm"`

	LengthM        float64 `expr:"length_m"`
	HeightM        float64 `expr:"height_m"`
	WidthM         float64 `expr:"width_m"`
	DepthM         float64 `expr:"depth_m"`
	PerimeterM     float64 `expr:"perimeter_m"`
	AreaM2         float64 `expr:"area_m2"`
	DiameterMM     float64 `expr:"diameter_mm"`
	Count          float64 `expr:"count"`
	Corners        float64 `expr:"corners_n"`
	Ends           float64 `expr:"ends_n"`
	Cables         float64 `expr:"cables_n"`
	Bays           float64 `expr:"bays_n"`
	Studs          float64 `expr:"studs_n"`
	StripLayoutRun bool    `expr:"strip_layout_run"`
	TargetN50      float64 `expr:"target_n50"` // 1/h

	LapMM          float64 `expr:"lap_mm"`
	EndAllowMM     float64 `expr:"end_allow_mm"`
	TurnMM         float64 `expr:"turn_mm"`
	FoldMM         float64 `expr:"fold_mm"`
	TapeEndMM      float64 `expr:"tape_end_mm"`
	LegMM          float64 `expr:"leg_mm"`
	StaplePitchMM  float64 `expr:"staple_pitch_mm"`
	StapleFieldMM  float64 `expr:"staple_field_mm"`
	StudPitchMM    float64 `expr:"stud_pitch_mm"`
	BeadMM         float64 `expr:"bead_mm"`
	BeadFactor     float64 `expr:"bead_factor"` // of the substrate
	PrimerMlM2     float64 `expr:"primer_ml_m2"`
	PrimerBandMM   float64 `expr:"primer_band_mm"`
	LevelBandMM    float64 `expr:"level_band_mm"`
	LevelKgM2      float64 `expr:"level_kg_m2"`
	LiquidKgM2     float64 `expr:"liquid_kg_m2"`
	ClampFixMM     float64 `expr:"clamp_fix_mm"`
	BattenPitchMM  float64 `expr:"batten_pitch_mm"`
	WasteSheetPct  float64 `expr:"waste_sheet_pct"`
	WasteTapePct   float64 `expr:"waste_tape_pct"`
	WasteBeadPct   float64 `expr:"waste_bead_pct"`
	WastePrimerPct float64 `expr:"waste_primer_pct"`
	WasteBattenPct float64 `expr:"waste_batten_pct"`
	WasteFixPct    float64 `expr:"waste_fix_pct"`
	RollMM         float64 `expr:"roll_mm"`
	PieceMin       float64 `expr:"piece_min"`
	LapMostPct     float64 `expr:"lap_most_pct"`
	OverEdge       float64 `expr:"over_edge"`

	FlagYes  map[string]bool   `expr:"flag_yes"`  // answers to yes/no questions, defaults filled in
	FlagWord map[string]string `expr:"flag_word"` // answers to the others

	unanswered map[job.FlagID]bool
	answers    *answerSheet    // the answers as they were filled in; nil: made otherwise
	unsaid     map[string]bool // of a sample: the measures that nobody stated; nil: a place of a job
}

// Surface is a row of the substrate table as expressions see it.
type Surface struct {
	ID         string  `expr:"id"`
	Family     string  `expr:"family"`
	Primer     string  `expr:"primer"` // yes, no, test, never
	BeadFactor float64 `expr:"bead_factor"`
}

// Facts is what a job says beside its records.
type Facts struct {
	Settings  []job.Setting
	Flags     []job.FlagAnswer
	TargetN50 float64 // 1/h; 0: the default 1.5
	sheets    *answerSheets
}

// answerSheets keeps the filled-in questions of a job: most records have the same, and share them.
type answerSheets struct{ filled sync.Map } // *answerSheet by the answers that apply

// answerSheet is every question with its answer at one record. It is shared, so nobody changes it: see copyFlags.
type answerSheet struct {
	yes        map[string]bool
	word       map[string]string
	unanswered map[job.FlagID]bool
}

// defaultN50 stands in where the job states no target as n50 (common practice, no source).
const defaultN50 = 1.5

// FactsOf takes the facts of a job. A target stated otherwise than as n50 must be converted by who knows volume and area.
func FactsOf(j *job.Job) Facts {
	f := Facts{Settings: j.Settings, Flags: j.Flags, sheets: new(answerSheets)}
	if j.Target.Kind == job.N50 {
		f.TargetN50 = j.Target.Value
	}
	return f
}

// Env makes the environment of one record.
func (l *Library) Env(r *junction.Record, f Facts) *Env {
	env := &Env{
		Edge: string(r.Edge), SurfaceA: r.SurfaceA, SurfaceB: r.SurfaceB,
		Layer: layerWord(r.Layer), LayerA: layerWord(r.LayerA), LayerB: layerWord(r.LayerB),
		Sub: l.surfaceOf(r.Substrate), Mem: l.surfaceOf(r.MemberSubstrate),
		Item: r.Item, Part: r.Part, Orientation: "level",
		Supported: r.Supported, LoadOnLayer: r.LoadOnLayer, Hot: r.Hot,
		AngleDeg: float64(r.Angle), MovementMM: float64(r.Movement), SpacingMM: float64(r.Spacing),
		LengthM: float64(r.Length), HeightM: float64(r.Height), WidthM: float64(r.Width), DepthM: float64(r.Depth),
		PerimeterM: float64(r.Perimeter), AreaM2: float64(r.Area), DiameterMM: float64(r.Diameter),
		Count: float64(r.Count), Corners: float64(r.Corners), Ends: float64(r.Ends), Cables: float64(r.Cables),
		Bays: float64(r.Bays), Studs: float64(r.Studs), StripLayoutRun: r.StripLayoutRun,
		TargetN50: f.TargetN50,
	}
	env.Masonry = l.hasMasonry(r)
	if r.Upright {
		env.Orientation = "upright"
	}
	if env.TargetN50 == 0 {
		env.TargetN50 = defaultN50
	}
	env.BeadFactor = env.Sub.BeadFactor
	scopes := scopesOf(r)
	l.settle(env, f.Settings, scopes)
	if pitch := r.FramingPitch(); pitch > 0 { // the setting is for surfaces that state no framing
		env.StudPitchMM = float64(pitch)
	}
	sheet := l.answered(f, scopes)
	env.FlagYes, env.FlagWord, env.unanswered, env.answers = sheet.yes, sheet.word, sheet.unanswered, sheet
	return env
}

// hasMasonry reports whether masonry or concrete is among the layers of the surface that a record stands on.
func (l *Library) hasMasonry(r *junction.Record) bool {
	return r.A != nil && r.A.Face != nil && r.A.Face.BuildUp != nil &&
		slices.ContainsFunc(r.A.Face.BuildUp.Layers, func(x job.Layer) bool { return l.Moisture.Kind(x.Material).Kind == Masonry })
}

// layerWord is the layer as expressions name it; no layer is empty.
func layerWord(k job.LayerKind) string {
	if k == job.NoLayer {
		return ""
	}
	return string(k)
}

func (l *Library) surfaceOf(id job.SubstrateID) Surface {
	s := l.Substrates.Find(string(id))
	if s == nil {
		return Surface{ID: string(id), BeadFactor: 1}
	}
	return Surface{ID: string(s.ID), Family: s.Family, Primer: s.Primer, BeadFactor: float64(s.BeadFactor)}
}

// scopesOf lists what a setting or an answer may be about, from the widest to the narrowest: job, room, surfaces, object
// and the record itself.
func scopesOf(r *junction.Record) []string {
	out := []string{""}
	if r.Room != nil {
		out = append(out, string(r.Room.ID))
	}
	out = append(out, r.Where...)
	if r.Object != "" {
		out = append(out, r.Object)
	}
	return append(out, r.ID)
}

// answered gives the questions as they are answered within these scopes.
func (l *Library) answered(f Facts, scopes []string) *answerSheet {
	if f.sheets == nil {
		return l.answer(f.Flags, scopes)
	}
	var key []byte
	for i, a := range f.Flags {
		if scope := slices.Index(scopes, a.Scope); scope >= 0 {
			key = binary.AppendUvarint(binary.AppendUvarint(key, uint64(i)), uint64(scope))
		}
	}
	if sheet, ok := f.sheets.filled.Load(string(key)); ok {
		return sheet.(*answerSheet)
	}
	sheet, _ := f.sheets.filled.LoadOrStore(string(key), l.answer(f.Flags, scopes))
	return sheet.(*answerSheet)
}

// answer fills in the flags: the narrowest answer wins; a question without one takes its default and stays open.
func (l *Library) answer(given []job.FlagAnswer, scopes []string) *answerSheet {
	n := len(l.Flags.All())
	env := Env{FlagYes: make(map[string]bool, n), FlagWord: map[string]string{}, unanswered: make(map[job.FlagID]bool, n)}
	at := make(map[job.FlagID]int, n)
	for _, f := range l.Flags.All() {
		setFlag(&env, f, f.Default)
		env.unanswered[f.ID] = !f.Choice
		at[f.ID] = -1
	}
	for _, a := range given {
		f := l.Flags.Find(string(a.Flag))
		scope := slices.Index(scopes, a.Scope)
		if f == nil || scope < 0 || scope < at[f.ID] {
			continue
		}
		at[f.ID] = scope
		delete(env.unanswered, f.ID)
		setFlag(&env, f, a.Value)
	}
	return &answerSheet{env.FlagYes, env.FlagWord, env.unanswered}
}

func setFlag(env *Env, f *Flag, value string) {
	if len(f.Values) > 0 {
		env.FlagWord[string(f.ID)] = value
		return
	}
	env.FlagYes[string(f.ID)] = value == "yes"
}
