package library

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// quiet is a page on which nothing is dangerous: a new, empty building, a record that only tapes.
func quiet() CautionFacts {
	return CautionFacts{Retrofit: No, Occupied: No, RadonArea: No, FloorOnGround: No, Burner: No, DisturbsOldMaterial: No,
		AbradesOldPaint: No, StairOrVoid: No, HotWork: No, Nests: No, Mould: No, LowSpace: No, PressurePipes: No,
		HotRoom: No, DampSigns: No, ExposedHazard: No, Hot: No, PartyWall: No, CoversCables: No}
}

// loud gives, for each caution, the least that must make it appear. The triggers are the trade specification's (rules
// section 4, common practice, no source), as corrected later: burners and flues.
var loud = map[CautionID]func(*CautionFacts){
	"C-ASB":      func(f *CautionFacts) { f.Retrofit, f.DisturbsOldMaterial = Yes, Yes },
	"C-LEAD":     func(f *CautionFacts) { f.Retrofit, f.AbradesOldPaint = Yes, Yes },
	"C-ELEC":     func(f *CautionFacts) { f.Drills = true },
	"C-DERATE":   func(f *CautionFacts) { f.CoversCables = Yes },
	"C-HEIGHT":   func(f *CautionFacts) { f.Reach = 2.3 },
	"C-LIFT":     func(f *CautionFacts) { f.DropLength = 4.1 },
	"C-KNIFE":    func(f *CautionFacts) { f.Cuts = true },
	"C-STAPLE":   func(f *CautionFacts) { f.Staples = true },
	"C-FIBRE":    func(f *CautionFacts) { f.Fibre = true },
	"C-DUST":     func(f *CautionFacts) { f.MineralDust = true },
	"C-CHEM":     func(f *CautionFacts) { f.Chemicals = true },
	"C-FLAM":     func(f *CautionFacts) { f.Flammables = true },
	"C-FLUE":     func(f *CautionFacts) { f.Item = "flue" },
	"C-LUM":      func(f *CautionFacts) { f.Item = "luminaire" },
	"C-FIRE":     func(f *CautionFacts) { f.PartyWall = Yes },
	"C-COMB":     func(f *CautionFacts) { f.Burner = Yes },
	"C-GAS":      func(f *CautionFacts) { f.Item = "gas-pipe" },
	"C-STRUCT":   func(f *CautionFacts) { f.Item = "joist" },
	"C-MOIST":    func(f *CautionFacts) { f.DampSigns = Yes },
	"C-MOULD":    func(f *CautionFacts) { f.Mould = Yes },
	"C-WILD":     func(f *CautionFacts) { f.Nests = Yes },
	"C-OCC":      func(f *CautionFacts) { f.Occupied = Yes },
	"C-VENT":     func(f *CautionFacts) { f.Adhesives = true },
	"C-HEAT":     func(f *CautionFacts) { f.HotRoom = Yes },
	"C-WATER":    func(f *CautionFacts) { f.Staples, f.PressurePipes = true, Yes },
	"C-TEST":     func(f *CautionFacts) { f.FanTest = true },
	"C-NOISE":    func(f *CautionFacts) { f.Drills = true },
	"C-CONF":     func(f *CautionFacts) { f.LowSpace = Yes },
	"C-HOTWORK":  func(f *CautionFacts) { f.HotWork = Yes },
	"C-VOID":     func(f *CautionFacts) { f.StairOrVoid = Yes },
	"C-ESCAPE":   func(f *CautionFacts) { f.Occupied = Yes },
	"C-TESTDUST": func(f *CautionFacts) { f.FanTest, f.ExposedHazard = true, Yes },
	"C-RADON":    func(f *CautionFacts) { f.RadonArea = Yes },
	"C-LONE":     func(f *CautionFacts) { f.LowSpace = Yes },
}

func TestCautionsFireAndStaySilent(t *testing.T) {
	l := builtin(t)
	if got := l.CautionsFor(quiet()); len(got) > 0 {
		t.Errorf("a harmless page shows %v", got)
	}
	if len(l.Cautions.All()) < 34 {
		t.Errorf("%d cautions, the specification has 34", len(l.Cautions.All()))
	}
	for _, c := range l.Cautions.All() {
		trigger, ok := loud[c.ID]
		if !ok {
			t.Errorf("%s has no fixture that fires it", c.ID)
			continue
		}
		f := quiet()
		trigger(&f)
		if !slices.Contains(l.CautionsFor(f), c.ID) {
			t.Errorf("%s stays silent on its fixture", c.ID)
		}
		if c.Defers == "" || c.Text == "" {
			t.Errorf("%s defers to nobody or says nothing", c.ID)
		}
	}
}

// An unanswered safety question assumes the worse.
func TestUnansweredAssumesTheWorse(t *testing.T) {
	l := builtin(t)
	got := l.CautionsFor(CautionFacts{})
	for _, id := range []CautionID{"C-ASB", "C-LEAD", "C-COMB", "C-MOIST", "C-VOID", "C-OCC", "C-RADON"} {
		if !slices.Contains(got, id) {
			t.Errorf("%s is silent though nobody has answered", id)
		}
	}
	for _, answer := range []struct {
		known bool
		want  Answer
	}{{true, Yes}, {false, No}} {
		if AnswerOf(answer.known) != answer.want {
			t.Errorf("AnswerOf(%v) = %v", answer.known, AnswerOf(answer.known))
		}
	}
}

func TestRoomAndRecordFacts(t *testing.T) {
	l := builtin(t)
	j := &job.Job{State: job.State{Retrofit: true}, Burners: []job.Burner{{ID: "stove"}}}
	room := &job.Room{ID: "B2", Works: job.Works{Mould: true}}
	described := l.CautionsFor(RoomFacts(j, room))
	if slices.Contains(described, "C-ASB") || !slices.Contains(described, "C-MOULD") || !slices.Contains(described, "C-COMB") {
		t.Errorf("a described room of a retrofit with a stove shows %v", described)
	}
	room.Works = job.Works{}
	if got := l.CautionsFor(RoomFacts(j, room)); !slices.Contains(got, "C-ASB") || !slices.Contains(got, "C-MOIST") {
		t.Errorf("an undescribed room of a retrofit shows %v", got)
	}
	r, _ := recordOf(t, "edge=abutment-edge;surface_a=wall;surface_b=party-wall;substrate_b=brick-bare;length_m=2")
	sel, _ := pick(t, l, "edge=abutment-edge;surface_a=wall;surface_b=party-wall;substrate_b=brick-bare;length_m=2")
	got := l.CautionsFor(l.RecordFacts(quiet(), r, sel, 1))
	for _, id := range []CautionID{"C-FIRE", "C-CHEM", "C-DUST", "C-KNIFE"} {
		if !slices.Contains(got, id) {
			t.Errorf("a bead on a bare party wall shows %v, without %s", got, id)
		}
	}
	if slices.Contains(got, "C-STAPLE") {
		t.Errorf("no staple is shot at a bead, yet %v", got)
	}
}

// CautionsOnce gives what CautionsFor gives, whatever it was asked before.
func TestCautionsOnceGivesWhatCautionsForGives(t *testing.T) {
	l := builtin(t)
	ids := l.Cautions.IDs()
	rapid.Check(t, func(t *rapid.T) {
		once := l.CautionsOnce()
		for range 12 {
			f := quiet()
			f.Item = rapid.SampledFrom([]string{"", "flue", "gas-pipe"}).Draw(t, "item")
			f.Cuts, f.Adhesives = rapid.Bool().Draw(t, "cuts"), rapid.Bool().Draw(t, "adhesives")
			f.Reach = q.Length(rapid.IntRange(0, 4).Draw(t, "reach"))
			f.DampSigns = Answer(rapid.IntRange(0, 2).Draw(t, "damp"))
			for _, id := range rapid.SliceOfN(rapid.SampledFrom(ids), 0, 2).Draw(t, "stated") {
				f.Stated = append(f.Stated, CautionID(id))
			}
			if got, want := once(f), l.CautionsFor(f); !slices.Equal(got, want) {
				t.Fatalf("%+v: %v, want %v", f, got, want)
			}
		}
	})
}

// Each caution names a person who decides, beside the rules to look in: whoever reads it on site must know whom to ask.
func TestEveryCautionNamesWhoDecides(t *testing.T) {
	people := []string{"site lead", "surveyor", "remover", "electrician", "fitter", "engineer", "designer", "specialist", "contractor", "ecologist", "plumber", "tester", "client", "insurer"}
	for _, c := range builtin(t).Cautions.All() {
		if !slices.ContainsFunc(people, func(who string) bool { return strings.Contains(c.Defers, who) }) {
			t.Errorf("%s: %s: nobody is named who decides: %q", c.Pos, c.ID, c.Defers)
		}
	}
}
