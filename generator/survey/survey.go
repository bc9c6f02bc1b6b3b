package survey

import (
	"fmt"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Survey is what was made of a building.
type Survey struct {
	Building *Building
	Source   Source
	Name     string
	Language string   // of a new job; empty: English
	Levels   []*Level // from the lowest up
	Rooms    []*Room  // by storey, in the file's order
	Skipped  []Left
	Guessed  []Said            // what was not in the file and was assumed, in sentences
	Assumed  []Said            // the same of what is among the findings already
	Words    func(Said) string // a sentence in the language of the job; nil: English
	Repairs  []Said
	Figures  []Figure
	FaceRows []FaceRow
	Envelope []EnvelopeRow
	Gaps     []Gap
	Closed   q.Length // length of edges where the layer goes on into another room
	Found    diag.List
}

// Limits are what a survey works with where a file leaves it open.
type Limits struct {
	UsualHeight q.MM // of rooms that state none; 0: 2500
}

// surveyor carries one building through the steps.
type surveyor struct {
	*Survey
	limits         Limits
	all            repairs
	bySpace        map[*Space][]*Face
	form           map[*Space]body
	original       map[*Space][]*Face // before pairing divided them
	mixed, clipped []string
}

// Take makes a survey of a building. A fault in its findings means that there is no usable room.
func Take(b *Building, limits Limits) *Survey {
	if limits.UsualHeight == 0 {
		limits.UsualHeight = 2500
	}
	s := &surveyor{Survey: &Survey{Building: b, Source: b.Source, Name: b.Name, Found: b.Found}, limits: limits,
		bySpace: map[*Space][]*Face{}, form: map[*Space]body{}}
	s.Skipped = append(s.Skipped, b.Left...)
	s.Guessed = append(s.Guessed, b.Guessed...)
	s.Assumed = append(s.Assumed, b.Assumed...)
	s.faceRows()
	s.sortFaces()
	s.warm()
	s.original = bySpace(b.Faces)
	s.pair()
	s.bySpace = bySpace(b.Faces)
	s.fitAll()
	s.storeys()
	s.silent()
	s.openings()
	s.layerEdges()
	s.figures()
	if len(s.mixed) > 0 {
		s.Found.Openf(s.top(), "", "divide these walls by height if the layer ends there, or correct their faces", "behind %s more than one thing lies over the height; what covers most was taken (%s)",
			Things(len(s.mixed), "wall", "walls"), some(s.mixed))
	}
	s.Repairs = s.all.words()
	if len(s.Rooms) == 0 {
		s.Found.Faultf(diag.Pos{File: b.Source.Name}, "check that rooms were exported with the model", "no room could be made of the file")
	}
	return s.Survey
}

// bounds says whether a face lies on the border of a space. One that names the same space twice stands inside it.
func bounds(f *Face, sp *Space) bool {
	n := 0
	for _, x := range f.Spaces {
		if x == sp {
			n++
		}
	}
	return n == 1
}

// sortFaces drops faces that bound nothing or stand twice, and says how many.
func (s *surveyor) sortFaces() {
	b := s.Building
	var kept []*Face
	var shading, twice, stray []string
	holder := map[string][]*Face{}
	for _, f := range b.Faces {
		f.Poly.Loop = cleanLoop(f.Poly.Loop)
		switch {
		case f.Behind == Shading:
			shading = append(shading, f.ID)
			continue
		case len(f.Poly.Loop) < 3 || isSliver(f.Poly.Loop):
			s.all.slivers++
			continue
		case len(f.Spaces) == 0:
			stray = append(stray, f.ID)
			continue
		case len(f.Spaces) >= 2 && f.Spaces[0] == f.Spaces[1]:
			twice = append(twice, f.ID)
		}
		key := fmt.Sprintf("%.2v", middle(f.Poly.Loop))
		if double(f, holder[key]) {
			s.all.doubles++
			continue
		}
		holder[key] = append(holder[key], f)
		kept = append(kept, f)
	}
	b.Faces = kept
	s.leave(len(shading), "faces that shade and bound no room", "no part of the envelope", shading)
	s.leave(len(stray), "faces that name no room of the file", "what they bound is not said", stray)
	s.leave(len(twice), "faces with the same room on both sides", "they stand inside one room and are no envelope", twice)
	if len(stray) > 0 {
		s.Found.Openf(diag.Pos{File: s.Source.Name}, "", "check what they bound", "%d faces name no room of the file: %s", len(stray), some(stray))
	}
}

// double says whether a face stands among others already: same corners, same spaces.
func double(f *Face, among []*Face) bool {
	for _, o := range among {
		if len(o.Spaces) == len(f.Spaces) && o.Spaces[0] == f.Spaces[0] && o.Behind == f.Behind && sameCorners(o.Poly.Loop, f.Poly.Loop) {
			return true
		}
	}
	return false
}

func (s *surveyor) leave(n int, what, why string, ids []string) {
	if n > 0 {
		s.Skipped = append(s.Skipped, Left{What: fmt.Sprintf("%d %s (%s)", n, what, some(ids)), Reason: why})
	}
}

// cold are words in the names of rooms that are usually not heated, in the languages of the packs.
var cold = []string{"roof space", "attic void", "loft", "garage", "crawl", "carport", "cold store", "dachraum", "kaltdach", "spitzboden",
	"kriechkeller", "combles perdus", "garaż", "garaje"}

// warm settles which spaces are heated where the file does not say.
func (s *surveyor) warm() {
	said := 0
	for _, sp := range s.Building.Spaces {
		if sp.Heated != NotSaid {
			said++
			continue
		}
		sp.Heated = IsHeated
		name := strings.ToLower(sp.Name)
		for _, word := range cold {
			if strings.Contains(name, word) {
				sp.Heated = NotHeated
				s.Found.Openf(sp.Pos, sp.ID, "set \"unheated\" of its room", "space %s was taken as not heated because of its name, %q", sp.ID, sp.Name)
				break
			}
		}
	}
	if rest := len(s.Building.Spaces) - said; rest > 0 {
		s.Guessed = append(s.Guessed, Say("%d of %d rooms do not say whether they are heated; they count as heated unless their name says otherwise", rest, len(s.Building.Spaces)))
	}
}

// some names a few ids.
func some(ids []string) string {
	const few = 4
	if len(ids) <= few {
		return strings.Join(ids, ", ")
	}
	return strings.Join(ids[:few], ", ") + " …"
}
