package generator

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/drawing"
	"lapwork/generator/drawing/svg"
	"lapwork/generator/page"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/survey"
)

// surveyView is the report of a survey as finished text.
type surveyView struct {
	Title, Source string
	Sums          []pair
	Columns       []string
	Plans         []surveyPlan
	Rooms         []surveyRoom
	Envelope      []surveyEnvelope
	Faces         []surveyFaces
	Figures       []surveyFigure
	Findings      []surveyFinding
	Guessed       []string
	Repairs       []string
	Left          []pair
	Changes       []surveyChange
	Merged        bool
	Gaps          string
	Style         template.HTML // the style element
	Policy        string        // what the page may load: its own style and nothing else
}

type pair struct{ Name, Text string }

type surveyPlan struct {
	Name string
	SVG  template.HTML
}

type surveyRoom struct{ ID, Name, Storey, Area, Volume, Height, Slopes, Openings, Basis, Note string }

type surveyEnvelope struct{ Part, Behind, Count, Gross, Opening string }

type surveyFaces struct{ Kind, Count, Gross, Openings, Opening string }

type surveyFigure struct {
	Where, What, Stated, Computed, Off string
	Far                                bool
}

type surveyFinding struct{ Level, Where, Text, Hint string }

type surveyChange struct{ Kind, Room, Text string }

// surveyPage renders the report: one page that needs nothing beside it.
func surveyPage(o SurveyOptions, r SurveyReport) ([]byte, error) {
	look, err := sheetLook(o.Sources)
	if err != nil {
		return nil, err
	}
	return page.RenderSheet(page.Sheet{Name: "survey", View: surveyViewOf(r)}, look)
}

func surveyViewOf(r SurveyReport) surveyView {
	s := r.Survey
	name := path.Base(filepath.ToSlash(s.Source.Name)) // where the file lies on this machine is nobody else's business
	v := surveyView{Title: "Survey of " + name, Columns: s.Building.Columns, Guessed: s.Guessed, Repairs: s.Repairs, Merged: r.Merged}
	v.Source = sourceLine(s.Source)
	v.Sums = surveySums(s)
	for i, l := range s.Levels {
		fig := storeyPlan(l)
		v.Plans = append(v.Plans, surveyPlan{l.Name, template.HTML(svg.Render(fmt.Sprintf("plan-%d", i), fig))}) // escaped by svg
	}
	for _, room := range s.Rooms {
		v.Rooms = append(v.Rooms, surveyRoomOf(room))
	}
	f := q.English
	for _, e := range s.Envelope {
		v.Envelope = append(v.Envelope, surveyEnvelope{e.Part.String(), survey.Word(e.Behind), fmt.Sprint(e.Surfaces), f.Area(e.Gross), f.Area(e.Opening)})
	}
	for _, e := range s.FaceRows {
		v.Faces = append(v.Faces, surveyFaces{e.Kind, fmt.Sprint(e.Count), f.Area(e.Gross), fmt.Sprint(e.Openings), f.Area(e.Opening)})
	}
	v.Figures = surveyFigures(s)
	levels := []diag.Level{diag.Fault, diag.Open, diag.Note}
	for _, level := range levels {
		for _, x := range r.Findings {
			if x.Level == level {
				v.Findings = append(v.Findings, surveyFinding{level.String(), strings.Replace(x.Pos.String(), s.Source.Name, name, 1), x.Msg, x.Hint})
			}
		}
	}
	for _, x := range s.Skipped {
		v.Left = append(v.Left, pair{x.What, x.Reason})
	}
	for _, c := range r.Changes {
		v.Changes = append(v.Changes, surveyChange{string(c.Kind), string(c.Room), c.What})
	}
	v.Gaps = gapsLine(s)
	return v
}

func sourceLine(src survey.Source) string {
	parts := []string{src.Format}
	if src.Version != "" {
		parts[0] += " " + src.Version
	}
	if src.Encoding != "" {
		parts = append(parts, src.Encoding)
	}
	if src.Units != "" {
		parts = append(parts, src.Units)
	}
	if src.Basis != "" {
		parts = append(parts, "faces on "+src.Basis)
	}
	return strings.Join(parts, "; ")
}

// surveySums are the figures of the whole building, in the order of the terminal summary.
func surveySums(s *survey.Survey) []pair {
	f := q.English
	area, volume, heated := s.Sums()
	openings, holes := 0, 0
	for _, r := range s.Rooms {
		openings += len(r.Openings)
		holes += len(r.Holes)
	}
	cold := ""
	if n := len(s.Rooms) - heated; n > 0 {
		cold = fmt.Sprintf(", %d more not heated", n)
	}
	out := []pair{
		{"rooms", fmt.Sprintf("%d heated%s, on %s", heated, cold, storeysWord(len(s.Levels)))},
		{"floor area", f.Area(area)},
		{"volume", f.Volume(volume)},
		{"openings", fmt.Sprintf("%d in the boundary of the heated rooms", openings)},
		{"penetrations", fmt.Sprint(holes)},
	}
	var kinds []string
	for _, e := range s.Envelope {
		kinds = append(kinds, fmt.Sprintf("%s %s %s", e.Part, survey.Word(e.Behind), f.Area(e.Gross)))
	}
	out = append(out, pair{"envelope", strings.Join(kinds, "; ")})
	return append(out, pair{"in the file", countsLine(s.Building.Counts)})
}

func storeysWord(n int) string {
	if n == 1 {
		return "1 storey"
	}
	return fmt.Sprintf("%d storeys", n)
}

func countsLine(counts []survey.Count) string {
	var out []string
	sum := map[string]int{}
	var groups []string
	for _, c := range counts {
		if _, seen := sum[c.Group]; !seen {
			groups = append(groups, c.Group)
		}
		sum[c.Group] += c.N
	}
	for _, g := range groups {
		out = append(out, fmt.Sprintf("%s %d", g, sum[g]))
	}
	return strings.Join(out, ", ")
}

func gapsLine(s *survey.Survey) string {
	var open q.Length
	for _, g := range s.Gaps {
		open += g.Length
	}
	if s.Closed+open == 0 {
		return ""
	}
	f := q.English
	if open == 0 {
		return fmt.Sprintf("The boundary of the heated rooms goes on from room to room at every edge where it leaves one (%s).", f.Metres(s.Closed))
	}
	return fmt.Sprintf("The boundary goes on into a neighbouring room along %s of edges; along %s it ends without one.", f.Metres(s.Closed), f.Metres(open))
}

func surveyRoomOf(r *survey.Room) surveyRoom {
	f := q.English
	out := surveyRoom{ID: string(r.ID), Name: r.Name, Storey: r.Level.Name, Area: f.Area(r.FloorArea), Volume: f.Volume(r.Volume), Basis: r.Basis.String(), Note: r.Prism}
	if r.Height > 0 {
		out.Height = f.MM(r.Height)
	}
	var slopes []string
	for _, s := range r.Slopes {
		slopes = append(slopes, fmt.Sprintf("wall %d, %s, %.1f°", s.Edge, f.MM(s.Height), float64(s.Pitch)))
	}
	out.Slopes = strings.Join(slopes, "; ")
	out.Openings = fmt.Sprint(len(r.Openings))
	if !r.Heated {
		out.Note = strings.TrimPrefix(out.Note+"; not heated", "; ")
	}
	return out
}

func surveyFigures(s *survey.Survey) []surveyFigure {
	var out []surveyFigure
	figures := slices.Clone(s.Figures)
	sorting.StableFunc(figures, func(a, b survey.Figure) int { // the whole building first, then the farthest off
		if (a.Space == nil) != (b.Space == nil) {
			if a.Space == nil {
				return -1
			}
			return 1
		}
		return cmp.Compare(math.Abs(b.Off()), math.Abs(a.Off()))
	})
	for _, x := range figures {
		where := "whole building"
		if x.Space != nil {
			where = x.Space.Title()
		}
		out = append(out, surveyFigure{where, x.What, q.English.Number(x.Stated, 2) + " " + x.Unit, q.English.Number(x.Computed, 2) + " " + x.Unit,
			fmt.Sprintf("%+.1f %%", 100*x.Off()), math.Abs(x.Off()) > 0.01})
	}
	return out
}

// storeyPlan draws the rooms of a storey.
func storeyPlan(l *survey.Level) drawing.StoreyPlan {
	p := drawing.StoreyPlan{Title: l.Name}
	for _, r := range l.Rooms {
		var outline []drawing.XY
		for _, c := range r.Footprint {
			outline = append(outline, drawing.XY{X: float64(c.X), Y: float64(c.Y)})
		}
		p.Rooms = append(p.Rooms, drawing.PlanRoom{ID: string(r.ID), Name: r.Name, Note: q.English.Area(r.FloorArea), Outline: outline})
		for i, k := range r.Walls {
			a, b := outline[i], outline[(i+1)%len(outline)]
			p.Edges = append(p.Edges, drawing.PlanEdge{From: a, To: b, Carries: r.Heated && k.Bounds()})
		}
		for _, o := range r.Openings {
			if from, to, ok := r.InPlan(o); ok {
				p.Openings = append(p.Openings, drawing.PlanOpening{From: drawing.XY{X: from.X * 1000, Y: from.Y * 1000}, To: drawing.XY{X: to.X * 1000, Y: to.Y * 1000}})
			}
		}
	}
	return p
}

// Sums are the figures of the whole building, name and text, for a summary.
func (r SurveyReport) Sums() [][2]string {
	var out [][2]string
	for _, p := range surveySums(r.Survey) {
		out = append(out, [2]string{p.Name, p.Text})
	}
	return out
}
