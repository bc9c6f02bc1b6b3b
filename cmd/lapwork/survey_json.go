package main

import (
	"lapwork/generator"
	"lapwork/generator/survey"
)

// surveyJSON is the report of a survey as --json prints it. Areas are in m², volumes in m³, lengths in mm.
type surveyJSON struct {
	File       string             `json:"file"`
	Format     string             `json:"format"`
	Version    string             `json:"version,omitempty"`
	Encoding   string             `json:"encoding,omitempty"`
	Units      string             `json:"units,omitempty"`
	SHA256     string             `json:"sha256"`
	Out        string             `json:"out,omitempty"`
	Counts     []countJSON        `json:"counts"`
	FloorArea  float64            `json:"floor_area_m2"`
	Volume     float64            `json:"volume_m3"`
	Rooms      []surveyRoomJSON   `json:"rooms"`
	Envelope   []envelopeJSON     `json:"envelope"`
	Faces      []faceJSON         `json:"faces_in_file"`
	Figures    []stateJSON        `json:"stated_and_computed"`
	Columns    []string           `json:"columns,omitempty"`
	Assumed    []string           `json:"assumed"`
	PutRight   []string           `json:"put_right"`
	Left       []leftJSON         `json:"left_out"`
	ClosedEdge float64            `json:"boundary_closed_m"`
	OpenEdge   float64            `json:"boundary_open_m"`
	Changes    []surveyChangeJSON `json:"changes,omitempty"`
	Findings   []findingJSON      `json:"findings"`
}

type countJSON struct {
	Group string `json:"group"`
	Kind  string `json:"kind,omitempty"`
	N     int    `json:"n"`
}

type surveyRoomJSON struct {
	ID        string  `json:"id"`
	Source    string  `json:"source"`
	Name      string  `json:"name"`
	Storey    string  `json:"storey"`
	Heated    bool    `json:"heated"`
	FloorArea float64 `json:"floor_area_m2"`
	Volume    float64 `json:"volume_m3"`
	Height    int     `json:"flat_ceiling_mm,omitempty"`
	Slopes    int     `json:"slopes"`
	Openings  int     `json:"openings"`
	Basis     string  `json:"form_taken_from"`
	Replaced  string  `json:"ceiling_replaced_because,omitempty"`
}

type envelopeJSON struct {
	Part     string  `json:"part"`
	Behind   string  `json:"behind"`
	Surfaces int     `json:"surfaces"`
	Gross    float64 `json:"gross_m2"`
	Opening  float64 `json:"openings_m2"`
}

type faceJSON struct {
	Kind     string  `json:"kind"`
	Count    int     `json:"count"`
	Gross    float64 `json:"gross_m2"`
	Openings int     `json:"openings"`
	Opening  float64 `json:"openings_m2"`
}

type stateJSON struct {
	Space    string  `json:"space,omitempty"`
	What     string  `json:"what"`
	Unit     string  `json:"unit"`
	Stated   float64 `json:"stated"`
	Computed float64 `json:"computed"`
}

type leftJSON struct {
	What   string `json:"what"`
	Reason string `json:"reason"`
}

type surveyChangeJSON struct {
	Kind string `json:"kind"`
	Room string `json:"room"`
	What string `json:"what"`
}

func surveyOf(r generator.SurveyReport, wrote string) surveyJSON {
	s := r.Survey
	area, volume, _ := s.Sums()
	out := surveyJSON{File: s.Source.Name, Format: s.Source.Format, Version: s.Source.Version, Encoding: s.Source.Encoding, Units: s.Source.Units,
		SHA256: s.Source.SHA256, Out: wrote, FloorArea: float64(area), Volume: float64(volume), Counts: []countJSON{}, Rooms: []surveyRoomJSON{},
		Envelope: []envelopeJSON{}, Faces: []faceJSON{}, Figures: []stateJSON{}, Columns: s.Building.Columns, Assumed: survey.InEnglish(s.Guessed),
		PutRight: survey.InEnglish(s.Repairs), Left: []leftJSON{}, ClosedEdge: float64(s.Closed), Findings: findingsJSON(r.Findings)}
	for _, c := range s.Building.Counts {
		out.Counts = append(out.Counts, countJSON(c))
	}
	for _, x := range s.Rooms {
		out.Rooms = append(out.Rooms, surveyRoomJSON{string(x.ID), x.Space.ID, x.Name, storeyOf(x), x.Heated, float64(x.FloorArea), float64(x.Volume),
			int(x.Height), len(x.Slopes), len(x.Openings), x.Basis.String(), x.Prism.String()})
	}
	for _, e := range s.Envelope {
		out.Envelope = append(out.Envelope, envelopeJSON{e.Part.String(), survey.Word(e.Behind), e.Surfaces, float64(e.Gross), float64(e.Opening)})
	}
	for _, e := range s.FaceRows {
		out.Faces = append(out.Faces, faceJSON{e.Kind, e.Count, float64(e.Gross), e.Openings, float64(e.Opening)})
	}
	for _, f := range s.Figures {
		space := ""
		if f.Space != nil {
			space = f.Space.ID
		}
		out.Figures = append(out.Figures, stateJSON{space, f.What, f.Unit, f.Stated, f.Computed})
	}
	for _, l := range s.Skipped {
		out.Left = append(out.Left, leftJSON(l))
	}
	for _, g := range s.Gaps {
		out.OpenEdge += float64(g.Length)
	}
	for _, c := range r.Changes {
		out.Changes = append(out.Changes, surveyChangeJSON{string(c.Kind), string(c.Room), c.What})
	}
	return out
}

func storeyOf(r *survey.Room) string {
	if r.Level == nil {
		return ""
	}
	return r.Level.Name
}
