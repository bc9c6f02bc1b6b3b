package generator_test

import (
	"io/fs"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/job"
)

// A cabin whose layer is boards buys the boards it names and their screws, tapes their joints, and hangs or staples no sheet
// there. By hand: walls 1, 3 and 4 of the room are 13.0 − 2.4, 13.0 and 10.4 m² of OSB, 34.0 × 1.10; wall 2 is 10.4 m² of gypsum
// fibre; the decks are 20 and 15 m² of plywood. Joints of wall 3, 5.0 × 2.6 m: upright at 1.25, 2.5 and 3.75 m, 3 × 2.6, and level
// at 2.5 m, 5.0: 12.8 m. Screws every 0.2 m of each stud, at 625 mm on walls and 400 mm in decks, and of a joint every 1.25 m:
// 12 a square metre of wall, 128 + 125 + 156 + 125, 16.5 of deck, 330 + 248; 1112 × 1.05.
func TestBoardLayerJob(t *testing.T) {
	r, _ := computed(t, os.DirFS("../testdata/jobs/cabin"))
	bought, screws := map[string]float64{}, 0.0
	for _, p := range r.Places {
		boards := p.Record.Layer == job.Board && p.Record.LayerB == ""
		for _, line := range p.Lines {
			bought[line.Component] += line.Amount
			if p.Record.Edge == "field" && line.Component == "screw-board" {
				screws += line.Amount
			}
			if boards && (line.Component == "staple" || strings.HasPrefix(line.Component, "sheet-var")) {
				t.Errorf("%s buys %s for a surface of boards", line.Place, line.Component)
			}
		}
		if p.Record.Edge == "field" && (p.Chosen.Statement.ID == "field-board") != (p.Record.Layer == job.Board) {
			t.Errorf("%s: %s", p.Record.ID, p.Chosen.Statement.ID)
		}
	}
	for component, want := range map[string]float64{"board-osb": 37.4, "board-gypsum-fibre": 11.44, "board-plywood": 38.5, "board-gypsum": 0} {
		if math.Abs(bought[component]-want) > 1e-6 {
			t.Errorf("%s: %g, by hand %g", component, bought[component], want)
		}
	}
	if math.Abs(screws-1167.6) > 1e-6 {
		t.Errorf("screws of boards: %g, by hand 1167.6", screws)
	}
	if p := r.Place("A1-W3/joints"); p == nil || p.Chosen.Statement.ID != "board-joint" || math.Abs(float64(p.Record.Length)-12.8) > 1e-9 {
		t.Errorf("joints of wall 3: %+v", p)
	}
	for _, c := range r.Checks {
		if sheet := c.QA != nil && (c.QA.ID == "QA-15" || c.QA.ID == "QA-16"); sheet && slices.Contains(c.Places, "A1-W3") {
			t.Errorf("%s is asked of boards", c.Key)
		}
	}
}

// Nobody is asked about masonry in a job of timber; in the demo, whose answers are all taken away, only where masonry is. Whether
// an answer matters is asked of the library's own law; here it is asked of what stands at the place.
func TestQuestionsConcernTheirPlaces(t *testing.T) {
	r, _ := computed(t, os.DirFS("../testdata/jobs/cabin"))
	for _, x := range r.Questions {
		if strings.Contains(x.Flag.Question, "masonry") {
			t.Errorf("a job of timber is asked: %s at %v", x.Flag.Question, x.Places)
		}
	}
	answers := regexp.MustCompile(`(?s)\nanswers:\n.*?\n\n`)
	for name, folder := range map[string]fs.FS{
		"the demo":     demoWith(t, func(job []byte) []byte { return answers.ReplaceAll(job, []byte("\n\n")) }),
		"the bungalow": os.DirFS("../testdata/jobs/bungalow"), "the terrace": os.DirFS("../testdata/jobs/terrace"),
	} {
		r, _ := computed(t, folder)
		if len(r.Questions) < 5 {
			t.Errorf("%s asks only %d questions", name, len(r.Questions))
		}
		for _, x := range r.Questions {
			for _, id := range x.Places {
				env := r.Place(id).Env
				if strings.Contains(x.Flag.Question, "masonry") && env.Sub.Family != "mineral" && !env.Masonry {
					t.Errorf("%s: %q is asked at %s, on %s", name, x.Flag.Question, id, env.Sub.ID)
				}
			}
		}
	}
}
