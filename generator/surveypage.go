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
	"lapwork/generator/job"
	"lapwork/generator/lang"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	q "lapwork/generator/quantity"
	"lapwork/generator/sorting"
	"lapwork/generator/survey"
	"lapwork/generator/survey/roomlist"
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

type surveyFinding struct{ Level, Word, Where, Text, Hint string }

type surveyChange struct{ Kind, Room, Text string }

// surveyPage renders the report: one page that needs nothing beside it.
func surveyPage(o SurveyOptions, r SurveyReport) ([]byte, error) {
	look, err := sheetLook(o.Sources)
	if err != nil {
		return nil, err
	}
	return page.RenderSheet(page.Sheet{Name: "survey", View: surveySaid(o.Texts).view(r), Lang: o.Texts}, look)
}

// surveyWords writes the report of a survey in a language. What the reader of a file found stands in its own words.
type surveyWords struct {
	texts  *lang.Catalogue // nil: English
	format q.Format
}

func surveySaid(texts *lang.Catalogue) surveyWords {
	return surveyWords{texts, q.FormatFor(texts.Tag())}
}

func (w surveyWords) say(pattern string, values ...any) string {
	return w.texts.Say(pattern, values...)
}

// word is one of SurveyWords, or a word of the file, which stays as it is.
func (w surveyWords) word(text string) string {
	if w.texts.Has(text) {
		return w.texts.Text(text)
	}
	return text
}

// said is a sentence in the language. Values that are sentences or numbers of things are said in it too.
func (w surveyWords) said(x survey.Said) string {
	pattern := x.Pattern // a literal where the sentence was made
	return w.texts.Say(pattern, w.values(x.Values)...)
}

// finding is what is wrong, in the language.
func (w surveyWords) finding(f diag.Finding) string {
	if f.Pattern == "" {
		return f.Msg
	}
	return w.said(survey.Said{Pattern: f.Pattern, Values: f.Values})
}

func (w surveyWords) values(values []any) []any {
	if w.texts.English() {
		return values
	}
	out := slices.Clone(values)
	for i, v := range out {
		switch v := v.(type) {
		case survey.Said:
			out[i] = w.said(v)
		case survey.List:
			out[i] = strings.Join(w.each(v), ", ")
		case survey.Counted:
			pattern := v.Pattern()
			out[i] = w.texts.Say(pattern, v.N)
		}
	}
	return out
}

// each are sentences in the language.
func (w surveyWords) each(list []survey.Said) []string {
	var out []string
	for _, x := range list {
		out = append(out, w.said(x))
	}
	return out
}

// SurveyWords are the words that a survey chooses: parts, what lies behind, forms, what became of a room, what a file holds.
func SurveyWords() []string {
	out := []string{"space", "storey", "surface", "opening", "penetration", "row", "floor area", "volume", diag.Fault.String(), diag.Open.String(), diag.Note.String()}
	for p := survey.WallPart; p <= survey.FloorPart; p++ {
		out = append(out, p.String())
	}
	for _, b := range []job.Behind{survey.Unknown, survey.Inside, survey.Nothing, job.Heated, job.Outside, job.Ground, job.Unheated, job.Party} {
		out = append(out, survey.Word(b))
	}
	for b := survey.FromBody; b <= survey.FromOutline; b++ {
		out = append(out, b.String())
	}
	for _, k := range []survey.ChangeKind{survey.Added, survey.Removed, survey.Renamed, survey.Moved, survey.Changed, survey.Conflict} {
		out = append(out, string(k))
	}
	return append(out, roomlist.Words()...)
}

func (w surveyWords) view(r SurveyReport) surveyView {
	s := r.Survey
	name := path.Base(filepath.ToSlash(s.Source.Name)) // where the file lies on this machine is nobody else's business
	v := surveyView{Title: w.say("Survey of %s", name), Columns: s.Building.Columns, Guessed: w.each(s.Guessed), Repairs: w.each(s.Repairs), Merged: r.Merged}
	v.Source = w.source(s.Source)
	v.Sums = w.sums(s)
	for i, l := range s.Levels {
		fig := w.plan(l)
		v.Plans = append(v.Plans, surveyPlan{l.Name, template.HTML(svg.Render(fmt.Sprintf("plan-%d", i), fig))}) // escaped by svg
	}
	for _, room := range s.Rooms {
		v.Rooms = append(v.Rooms, w.room(room))
	}
	f := w.format
	for _, e := range s.Envelope {
		v.Envelope = append(v.Envelope, surveyEnvelope{w.word(e.Part.String()), w.word(survey.Word(e.Behind)), fmt.Sprint(e.Surfaces), f.Area(e.Gross), f.Area(e.Opening)})
	}
	for _, e := range s.FaceRows {
		v.Faces = append(v.Faces, surveyFaces{e.Kind, fmt.Sprint(e.Count), f.Area(e.Gross), fmt.Sprint(e.Openings), f.Area(e.Opening)})
	}
	v.Figures = w.figures(s)
	levels := []diag.Level{diag.Fault, diag.Open, diag.Note}
	for _, level := range levels {
		for _, x := range r.Findings {
			if x.Level == level {
				v.Findings = append(v.Findings, surveyFinding{level.String(), w.word(level.String()), strings.Replace(x.Pos.String(), s.Source.Name, name, 1), w.finding(x), w.texts.Text(x.Hint)})
			}
		}
	}
	for _, x := range s.Skipped {
		v.Left = append(v.Left, pair{x.What, x.Reason})
	}
	for _, c := range r.Changes {
		v.Changes = append(v.Changes, surveyChange{w.word(string(c.Kind)), string(c.Room), c.What})
	}
	v.Gaps = w.gaps(s)
	return v
}

func (w surveyWords) source(src survey.Source) string {
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
		parts = append(parts, w.say("faces on %s", src.Basis))
	}
	return strings.Join(parts, "; ")
}

// sums are the figures of the whole building, in the order of the terminal summary.
func (w surveyWords) sums(s *survey.Survey) []pair {
	f := w.format
	area, volume, heated := s.Sums()
	openings, holes := 0, 0
	for _, r := range s.Rooms {
		openings += len(r.Openings)
		holes += len(r.Holes)
	}
	rooms := w.say("%d heated", heated)
	if n := len(s.Rooms) - heated; n > 0 {
		rooms = w.say("%d heated, %d more not heated", heated, n)
	}
	out := []pair{
		{w.say("rooms"), rooms},
		{w.say("storeys"), fmt.Sprint(len(s.Levels))},
		{w.say("floor area"), f.Area(area)},
		{w.say("volume"), f.Volume(volume)},
		{w.say("openings"), w.say("%d in the boundary of the heated rooms", openings)},
		{w.say("penetrations"), fmt.Sprint(holes)},
	}
	var kinds []string
	for _, e := range s.Envelope {
		kinds = append(kinds, fmt.Sprintf("%s %s %s", w.word(e.Part.String()), w.word(survey.Word(e.Behind)), f.Area(e.Gross)))
	}
	out = append(out, pair{w.say("envelope"), strings.Join(kinds, "; ")})
	return append(out, pair{w.say("in the file"), w.counts(s.Building.Counts)})
}

func (w surveyWords) counts(counts []survey.Count) string {
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
		out = append(out, fmt.Sprintf("%s: %d", w.word(g), sum[g])) // no number of a row
	}
	return strings.Join(out, ", ")
}

func (w surveyWords) gaps(s *survey.Survey) string {
	var open q.Length
	for _, g := range s.Gaps {
		open += g.Length
	}
	if s.Closed+open == 0 {
		return ""
	}
	f := w.format
	if open == 0 {
		return w.say("The boundary of the heated rooms goes on from room to room at every edge where it leaves one (%s).", f.Metres(s.Closed))
	}
	return w.say("The boundary goes on into a neighbouring room along %s of edges; along %s it ends without one.", f.Metres(s.Closed), f.Metres(open))
}

func (w surveyWords) room(r *survey.Room) surveyRoom {
	f := w.format
	out := surveyRoom{ID: string(r.ID), Name: r.Name, Storey: r.Level.Name, Area: f.Area(r.FloorArea), Volume: f.Volume(r.Volume), Basis: w.word(r.Basis.String()), Note: w.said(r.Prism)}
	if r.Height > 0 {
		out.Height = f.MM(r.Height)
	}
	var slopes []string
	for _, s := range r.Slopes {
		slopes = append(slopes, w.say("wall %d, %s, %s°", s.Edge, f.MM(s.Height), f.Number(float64(s.Pitch), 1)))
	}
	out.Slopes = strings.Join(slopes, "; ")
	out.Openings = fmt.Sprint(len(r.Openings))
	if !r.Heated {
		out.Note = strings.TrimPrefix(out.Note+"; "+w.say("not heated"), "; ")
	}
	return out
}

func (w surveyWords) figures(s *survey.Survey) []surveyFigure {
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
		where := w.say("whole building")
		if x.Space != nil {
			where = x.Space.Title()
		}
		out = append(out, surveyFigure{where, w.word(x.What), w.format.Number(x.Stated, 2) + " " + x.Unit, w.format.Number(x.Computed, 2) + " " + x.Unit,
			plus(x.Off(), w.format.Number(100*x.Off(), 1)+" %"), math.Abs(x.Off()) > 0.01})
	}
	return out
}

// plan draws the rooms of a storey.
func (w surveyWords) plan(l *survey.Level) drawing.StoreyPlan {
	p := drawing.StoreyPlan{Title: l.Name, Words: pack.DrawingWords(w.texts)}
	for _, r := range l.Rooms {
		var outline []drawing.XY
		for _, c := range r.Footprint {
			outline = append(outline, drawing.XY{X: float64(c.X), Y: float64(c.Y)})
		}
		p.Rooms = append(p.Rooms, drawing.PlanRoom{ID: string(r.ID), Name: r.Name, Note: w.format.Area(r.FloorArea), Outline: outline})
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

// Sums are the figures of the whole building, name and text, for a summary in English.
func (r SurveyReport) Sums() [][2]string {
	var out [][2]string
	for _, p := range surveySaid(nil).sums(r.Survey) {
		out = append(out, [2]string{p.Name, p.Text})
	}
	return out
}
