package airtight

import (
	"regexp"
	"slices"
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Setup is how a test was made, which its report has to say: ISO 9972:2015 clause 7 (from memory).
type Setup struct {
	Date        string // 2026-04-20, perhaps with the time; empty: not recorded
	Tester      string
	Issuer      string // who may issue the report, and by what
	Preparation int    // method 1, 2 or 3 of ISO 9972:2015 5.2; 0: not recorded
	Purpose     string // what document names a method 3
	Openings    []OpeningState
	Instruments []Instrument
}

// State is how an opening stood during a test.
type State string

// The states.
const (
	Open   State = "open"
	Closed State = "closed"
	Sealed State = "sealed"
)

// OpeningState is one opening with its state and the photo that shows it.
type OpeningState struct {
	ID    string
	State State
	Photo string
	Pos   diag.Pos
}

// Instrument is a fan, gauge or thermometer with the dates of its calibration.
type Instrument struct {
	Name            string
	Calibrated, Due string // dates; Due empty: not stated
	Pos             diag.Pos
}

// Missing names what the report has to say and the readings do not, in the language of a format.
func (s Setup) Missing(f q.Format) []string {
	var out []string
	for _, x := range []struct {
		stated bool
		words  string
	}{
		{s.Date != "", f.Says("the date")}, {s.Tester != "", f.Says("the tester")}, {s.Issuer != "", f.Says("who may issue the report")},
		{s.Preparation != 0, f.Says("the preparation method")}, {len(s.Openings) > 0, f.Says("the state of every opening")},
		{len(s.Instruments) > 0, f.Says("the instruments with their calibration dates")},
	} {
		if !x.stated {
			out = append(out, x.words)
		}
	}
	return out
}

// Expired gives the instruments whose calibration had run out on the day of the test. Without a date it gives none.
func (s Setup) Expired() []Instrument {
	var out []Instrument
	for _, i := range s.Instruments {
		if i.Due != "" && s.Date != "" && i.Due < s.Date[:len("2026-04-20")] {
			out = append(out, i)
		}
	}
	return out
}

var (
	datePattern = regexp.MustCompile(`^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$`)
	timePattern = regexp.MustCompile(`^([01]\d|2[0-3]):[0-5]\d$`)
)

// describe reads a line about how the test was made; false for any other line.
func (s *sheet) describe(row []cell) bool {
	get := func(i int) string {
		if i < len(row) {
			return row[i].text
		}
		return ""
	}
	name := strings.ToLower(row[0].text)
	if !slices.Contains(setupNames, name) {
		return false
	}
	if get(1) == "" {
		s.found.Faultf(row[0].pos, "write: "+name+", and after the comma what it is", "the line %q says nothing", row[0].text)
		return true
	}
	once := func(into *string, value string) {
		if *into != "" {
			s.found.Faultf(row[0].pos, "remove one of the lines", "%s stands twice", name)
		}
		*into = value
	}
	switch name {
	case "date":
		day, hour, timed := strings.Cut(get(1), " ")
		if !datePattern.MatchString(day) || timed && !timePattern.MatchString(hour) {
			s.found.Faultf(row[1].pos, "write 2026-04-20 or 2026-04-20 09:30", "%q is no date", get(1))
			return true
		}
		once(&s.setup.Date, get(1))
	case "tester":
		once(&s.setup.Tester, get(1))
	case "issued by":
		once(&s.setup.Issuer, strings.TrimSuffix(get(1)+", "+get(2), ", "))
	case "preparation":
		s.preparation(row, get(2))
	case "opening":
		s.opening(row, get(2), get(3))
	case "instrument":
		s.instrument(row, get(2), get(3))
	}
	return true
}

var setupNames = []string{"date", "tester", "issued by", "preparation", "opening", "instrument"}

func (s *sheet) preparation(row []cell, purpose string) {
	method := strings.Index("123", row[1].text) + 1
	switch {
	case len(row[1].text) != 1 || method == 0:
		s.found.Faultf(row[1].pos, "write 1, 2 or 3", "%q is no preparation method", row[1].text)
	case s.setup.Preparation != 0:
		s.found.Faultf(row[0].pos, "remove one of the lines", "preparation stands twice")
	case method == 3 && purpose == "":
		s.found.Faultf(row[1].pos, "add in the next cell which document asks for it", "method 3 does not say its purpose")
	default:
		s.setup.Preparation, s.setup.Purpose = method, purpose
	}
}

func (s *sheet) opening(row []cell, state, photo string) {
	o := OpeningState{row[1].text, State(strings.ToLower(state)), photo, row[1].pos}
	if !slices.Contains([]State{Open, Closed, Sealed}, o.State) {
		s.found.Faultf(row[len(row)-1].pos, "write: opening, "+o.ID+", closed", "the state of opening %s is none of open, closed, sealed", o.ID)
		return
	}
	for _, other := range s.setup.Openings {
		if other.ID == o.ID {
			s.found.Add(diag.Finding{Pos: o.Pos, Msg: "opening " + o.ID + " stands twice", Hint: "remove one of the lines", See: []diag.Pos{other.Pos}})
			return
		}
	}
	s.setup.Openings = append(s.setup.Openings, o)
}

func (s *sheet) instrument(row []cell, calibrated, due string) {
	if !datePattern.MatchString(calibrated) || due != "" && !datePattern.MatchString(due) {
		s.found.Faultf(row[len(row)-1].pos, "write: instrument, "+row[1].text+", 2025-11-04, 2026-11-04", "instrument %s lacks the date of its calibration, or when the next is due", row[1].text)
		return
	}
	s.setup.Instruments = append(s.setup.Instruments, Instrument{row[1].text, calibrated, due, row[1].pos})
}
