package library

import (
	"fmt"
	"strings"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// CautionID names a caution: C-HEIGHT.
type CautionID string

// Caution is a usual caution of the trade. It never gives a permission: it says stop, who decides, and what paper is
// needed.
type Caution struct {
	ID      CautionID
	Short   string // live services
	Trigger string // when it is shown, in words
	Source  string // the same as an expression over CautionFacts
	Text    string
	Defers  string // the code, and the licensed or named person it defers to
	From    q.Source
	Pos     diag.Pos `hash:"ignore"`

	when    diag.Pos
	program *vm.Program
}

var cautionSpec = spec[*Caution]{"cautions", []string{"id", "short", "trigger", "when", "text", "defers_to", "source",
	"status"}, func(l line) *Caution {
	return &Caution{ID: CautionID(l.text("id")), Short: l.need("short"), Trigger: l.need("trigger"),
		Source: l.need("when"), Text: l.need("text"), Defers: l.need("defers_to"), From: l.source(), Pos: l.pos,
		when: l.cells["when"].pos}
}}

// Answer is what is known about a safety question.
type Answer uint8

// The answers. Unanswered counts as yes wherever a caution asks.
const (
	Unanswered Answer = iota
	No
	Yes
)

// AnswerOf turns a known fact into an answer.
func AnswerOf(yes bool) Answer {
	if yes {
		return Yes
	}
	return No
}

// Worse is the answer a caution works with: what is not known to be safe is not safe.
func (a Answer) Worse() bool { return a != No }

// CautionFacts is what the cautions of a page depend on: the job, the room's works, the record, and what the chosen
// components bring along. The zero value knows nothing and so shows nearly every caution.
type CautionFacts struct {
	Retrofit, Occupied, RadonArea, FloorOnGround Answer // of the job and room
	Burner                                       Answer // any combustion appliance inside the envelope
	FanTest                                      bool   // the page is about a fan test

	DisturbsOldMaterial, AbradesOldPaint, StairOrVoid, HotWork, Nests, Mould, LowSpace, PressurePipes, HotRoom,
	DampSigns, ExposedHazard Answer // works of the room

	Item         string // of the record
	Hot          Answer
	PartyWall    Answer // a wall or floor between homes is touched
	Overhead     bool   // ceiling or slope
	Reach        q.Length
	DropWidth    q.Length // of the widest strip handled
	DropLength   q.Length
	CoversCables Answer // an existing cable is newly covered or sealed in

	Cuts, Staples, Drills, Chemicals, Adhesives, Flammables, Fibre, MineralDust, HeavyParts, Conductive bool

	Stated []CautionID // of the statement and of its components
}

// cautionEnv is CautionFacts as expressions see it, every open answer taken for the worse.
type cautionEnv struct {
	Retrofit            bool    `expr:"retrofit"`
	Occupied            bool    `expr:"occupied"`
	RadonArea           bool    `expr:"radon_area"`
	FloorOnGround       bool    `expr:"floor_on_ground"`
	Burner              bool    `expr:"burner"`
	FanTest             bool    `expr:"fan_test"`
	DisturbsOldMaterial bool    `expr:"disturbs_old_material"`
	AbradesOldPaint     bool    `expr:"abrades_old_paint"`
	StairOrVoid         bool    `expr:"stair_or_void"`
	HotWork             bool    `expr:"hot_work"`
	Nests               bool    `expr:"nests"`
	Mould               bool    `expr:"mould"`
	LowSpace            bool    `expr:"low_space"`
	PressurePipes       bool    `expr:"pressure_pipes"`
	HotRoom             bool    `expr:"hot_room"`
	DampSigns           bool    `expr:"damp_signs"`
	ExposedHazard       bool    `expr:"exposed_hazard"`
	Item                string  `expr:"item"`
	Hot                 bool    `expr:"hot"`
	PartyWall           bool    `expr:"party_wall"`
	Overhead            bool    `expr:"overhead"`
	ReachM              float64 `expr:"reach_m"`
	DropWidthM          float64 `expr:"drop_width_m"`
	DropLengthM         float64 `expr:"drop_length_m"`
	CoversCables        bool    `expr:"covers_cables"`
	Cuts                bool    `expr:"cuts"`
	Staples             bool    `expr:"staples"`
	Drills              bool    `expr:"drills"`
	Chemicals           bool    `expr:"chemicals"`
	Adhesives           bool    `expr:"adhesives"`
	Flammables          bool    `expr:"flammables"`
	Fibre               bool    `expr:"fibre"`
	MineralDust         bool    `expr:"mineral_dust"`
	HeavyParts          bool    `expr:"heavy_parts"`
	Conductive          bool    `expr:"conductive"`
}

func (f CautionFacts) env() cautionEnv {
	return cautionEnv{f.Retrofit.Worse(), f.Occupied.Worse(), f.RadonArea.Worse(), f.FloorOnGround.Worse(),
		f.Burner.Worse(), f.FanTest, f.DisturbsOldMaterial.Worse(), f.AbradesOldPaint.Worse(), f.StairOrVoid.Worse(),
		f.HotWork.Worse(), f.Nests.Worse(), f.Mould.Worse(), f.LowSpace.Worse(), f.PressurePipes.Worse(),
		f.HotRoom.Worse(), f.DampSigns.Worse(), f.ExposedHazard.Worse(), f.Item, f.Hot.Worse(), f.PartyWall.Worse(),
		f.Overhead, float64(f.Reach), float64(f.DropWidth), float64(f.DropLength), f.CoversCables.Worse(), f.Cuts,
		f.Staples, f.Drills, f.Chemicals, f.Adhesives, f.Flammables, f.Fibre, f.MineralDust, f.HeavyParts, f.Conductive}
}

func (l *Library) compileCautions(c compiler) {
	for _, caution := range l.Cautions.All() {
		at := caution.when
		at.Col = 0 // a quoted cell of a table: its line is enough
		caution.program, _, _ = c.compile(caution.Source, at, cautionEnv{}, expr.AsBool())
	}
}

// CautionsFor gives the cautions of a page in the order of the table: those stated by the statement and its components,
// and those whose trigger the facts meet.
func (l *Library) CautionsFor(f CautionFacts) []CautionID {
	env := f.env()
	stated := map[CautionID]bool{}
	for _, id := range f.Stated {
		stated[id] = true
	}
	var out []CautionID
	for _, c := range l.Cautions.All() {
		if stated[c.ID] || c.fires(&env) {
			out = append(out, c.ID)
		}
	}
	return out
}

// CautionsOnce is CautionsFor for the many places of a job: like facts are looked up once, and share their list.
func (l *Library) CautionsOnce() func(CautionFacts) []CautionID {
	type facts struct {
		env    cautionEnv
		stated string // ids hold no space
	}
	known := map[facts][]CautionID{}
	return func(f CautionFacts) []CautionID {
		var stated strings.Builder
		for _, id := range f.Stated {
			stated.WriteString(string(id) + " ")
		}
		asked := facts{f.env(), stated.String()}
		ids, ok := known[asked]
		if !ok {
			ids = l.CautionsFor(f)
			known[asked] = ids
		}
		return ids
	}
}

// fires evaluates the trigger. Its types were checked at load, so a failure is a bug of ours.
func (c *Caution) fires(env *cautionEnv) bool {
	if c.program == nil {
		return false
	}
	out, err := runProgram(c.program, env)
	if err != nil {
		panic(fmt.Sprintf("%v: %s: %v", c.Pos, c.Source, err))
	}
	return out == true
}
