package generator_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/calc/programme"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
)

// planned is a small programme: an inspection on day 1, one without time on day 2, a step without a hold, two deliveries.
func planned(t interface{ Fatal(...any) }, name string) *assess.Results {
	const holds = "id,after,release,signs,checks,no_self_release,source,status\nH4,inspection,\"layer complete; inspected\",site-lead,,,no source,common practice\n"
	var found diag.List
	lib := library.LoadLayers([]library.Layer{{Name: "built-in", FS: fstest.MapFS{"tables/holds.csv": {Data: []byte(holds)}}}}, &found)
	if lib.Holds.Find("H4") == nil {
		t.Fatal(found.Sorted())
	}
	room := assess.Scope{Kind: "room", ID: "B2", Name: "B2 " + name}
	step := func(hold string, from, to programme.Instant) *assess.Step {
		return &assess.Step{ID: fmt.Sprintf("%s@B2/%d", hold, from), Activity: &library.Activity{Title: "Site lead's inspection", Hold: hold},
			Scope: room, Concerns: true, Slot: programme.Slot{Start: from, Finish: to}}
	}
	start, _ := assess.ParseDate("2026-03-30")
	p := &assess.Programme{Dated: true, Start: start, Steps: []*assess.Step{step("H4", 480, 510), step("H4", 1440+960, 1440+960), step("", 600, 700)}}
	p.Needs = []assess.DeliveryNeed{{Delivery: &assess.Delivery{ID: "d1", Name: name}, Step: p.Steps[1]},
		{Delivery: &assess.Delivery{ID: "d2", Name: name, Date: "2026-04-02"}, Step: p.Steps[0], Late: true},
		{Delivery: &assess.Delivery{ID: "d3", Name: name}}}
	j := &job.Job{Reference: "26-014", Name: name, Place: job.Place{Address: name}, Issue: &job.Issue{Number: 2, Date: "2026-03-09"}}
	return &assess.Results{Context: assess.Context{Job: j, Library: lib}, Programme: p}
}

// event is one parsed component: its properties by name, with their parameters, values still escaped.
type event map[string][]property

type property struct{ params, value string }

var contentLine = regexp.MustCompile(`^([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=(?:[^":;,]+|"[^"]*"))*):(.*)$`)

// parseCalendar reads a calendar by the rules of RFC 5545: 3.1 lines and folding, 3.4 the object, 3.6 and 3.6.1 what
// stands once, 3.8.2 the times. It shares nothing with the writer.
func parseCalendar(data []byte) (calendar event, events []event, err error) {
	lines := strings.SplitAfter(string(data), "\r\n")
	if last := len(lines) - 1; lines[last] != "" {
		return nil, nil, fmt.Errorf("the last line has no end")
	} else {
		lines = lines[:last]
	}
	var unfolded []string
	for _, l := range lines {
		text := strings.TrimSuffix(l, "\r\n")
		switch {
		case len(text) > 75:
			return nil, nil, fmt.Errorf("%d octets in %q", len(text), text)
		case strings.ContainsAny(text, "\r\n"):
			return nil, nil, fmt.Errorf("bare line break in %q", text)
		case !utf8.ValidString(text):
			return nil, nil, fmt.Errorf("a character is cut in %q", text)
		case text != "" && (text[0] == ' ' || text[0] == '\t'):
			if len(unfolded) == 0 {
				return nil, nil, fmt.Errorf("folded first line")
			}
			unfolded[len(unfolded)-1] += text[1:]
		default:
			unfolded = append(unfolded, text)
		}
	}
	var open []event
	var names []string
	for _, l := range unfolded {
		m := contentLine.FindStringSubmatch(l)
		switch {
		case m == nil:
			return nil, nil, fmt.Errorf("no content line: %q", l)
		case m[1] == "BEGIN":
			open, names = append(open, event{}), append(names, m[3])
		case m[1] == "END":
			n := len(names) - 1
			if n < 0 || names[n] != m[3] {
				return nil, nil, fmt.Errorf("END:%s does not close %v", m[3], names)
			}
			if n == 0 {
				calendar = open[0]
			} else {
				events = append(events, open[n])
			}
			open, names = open[:n], names[:n]
		case len(open) == 0:
			return nil, nil, fmt.Errorf("%s stands outside", m[1])
		default:
			e := open[len(open)-1]
			e[m[1]] = append(e[m[1]], property{m[2], m[3]})
		}
	}
	if len(names) > 0 || calendar == nil {
		return nil, nil, fmt.Errorf("not closed: %v", names)
	}
	return calendar, events, nil
}

// text reads a value of type TEXT (RFC 5545, 3.3.11).
func text(value string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(value); i++ {
		switch c := value[i]; {
		case c == ',' || c == ';':
			return "", fmt.Errorf("%q is not escaped in %q", c, value)
		case c < 0x20 && c != '\t' || c == 0x7f:
			return "", fmt.Errorf("control character in %q", value)
		case c != '\\':
			b.WriteByte(c)
		default:
			if i++; i == len(value) || !strings.ContainsRune(`\;,nN`, rune(value[i])) {
				return "", fmt.Errorf("lone backslash in %q", value)
			}
			if value[i] == 'n' || value[i] == 'N' {
				b.WriteByte('\n')
			} else {
				b.WriteByte(value[i])
			}
		}
	}
	return b.String(), nil
}

func when(p property) (time.Time, error) {
	if p.params == ";VALUE=DATE" {
		return time.Parse("20060102", p.value)
	}
	return time.Parse("20060102T150405", p.value)
}

// check holds an event against what RFC 5545, 3.6.1 and 3.8 ask of it.
func checkEvent(e event) error {
	for _, name := range []string{"UID", "DTSTAMP", "DTSTART", "SUMMARY", "SEQUENCE"} {
		if len(e[name]) != 1 {
			return fmt.Errorf("%s stands %d times", name, len(e[name]))
		}
	}
	if _, err := time.Parse("20060102T150405Z", e["DTSTAMP"][0].value); err != nil {
		return err
	}
	if n, err := strconv.Atoi(e["SEQUENCE"][0].value); err != nil || n < 0 {
		return fmt.Errorf("SEQUENCE %v", e["SEQUENCE"])
	}
	start, err := when(e["DTSTART"][0])
	if err != nil {
		return err
	}
	for _, p := range e["DTEND"] {
		if end, err := when(p); err != nil || !end.After(start) || p.params != e["DTSTART"][0].params {
			return fmt.Errorf("DTEND %v after DTSTART %v: %v", p, e["DTSTART"], err)
		}
	}
	for _, name := range []string{"SUMMARY", "DESCRIPTION", "LOCATION"} {
		for _, p := range e[name] {
			if _, err := text(p.value); err != nil {
				return err
			}
		}
	}
	return nil
}

// The text with line breaks is the example of RFC 5545, 3.3.11 (from memory).
func TestCalendarOfAProgramme(t *testing.T) {
	name := "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
	data, ok := generator.Calendar(planned(t, name))
	if !ok {
		t.Fatal("no calendar")
	}
	cal, events, err := parseCalendar(data)
	if err != nil {
		t.Fatal(err)
	}
	if len(cal["VERSION"]) != 1 || cal["VERSION"][0].value != "2.0" || len(cal["PRODID"]) != 1 {
		t.Errorf("head: %v", cal)
	}
	var got []string
	for _, e := range events {
		if err := checkEvent(e); err != nil {
			t.Error(err)
		}
		end := ""
		if len(e["DTEND"]) > 0 {
			end = e["DTEND"][0].value
		}
		got = append(got, e["DTSTART"][0].params+e["DTSTART"][0].value+" "+end)
		if e["LOCATION"][0].value != `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.` {
			t.Errorf("location %q", e["LOCATION"])
		}
	}
	// The delivery without a stated day is due when it is first needed; one that nothing needs and no day states has none.
	want := []string{"20260330T080000 20260330T083000", "20260331T160000 ", ";VALUE=DATE20260331 ", ";VALUE=DATE20260402 "}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("times %q, want %q", got, want)
	}
}

// Whatever a job writes into its names: the calendar parses, says the names, and is the same each time.
func TestCalendarLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.String(), rapid.StringMatching(`[äöü,;:\\"\r\n\t 漢🙂a-z]{0,200}`)).Draw(t, "name")
		r := planned(t, name)
		data, ok := generator.Calendar(r)
		again, _ := generator.Calendar(r)
		if !ok || !bytes.Equal(data, again) {
			t.Fatalf("calendar %v, same again %v", ok, bytes.Equal(data, again))
		}
		cal, events, err := parseCalendar(data)
		if err != nil {
			t.Fatal(err)
		}
		if len(events) != 4 {
			t.Fatalf("%d events", len(events))
		}
		uids := map[string]bool{}
		for _, e := range events {
			if err := checkEvent(e); err != nil {
				t.Fatal(err)
			}
			uids[e["UID"][0].value] = true
		}
		if len(uids) != len(events) {
			t.Fatalf("%d UIDs for %d events", len(uids), len(events))
		}
		said, err := text(cal["NAME"][0].value)
		if want := plain(name) + ", programme"; err != nil || said != want {
			t.Fatalf("name %q, want %q: %v", said, want, err)
		}
	})
}

// plain is what a TEXT can carry of a name: one kind of line break, no control characters, whole characters.
func plain(name string) string {
	var b strings.Builder
	runes := []rune(name)
	for i, r := range runes {
		switch {
		case r == '\r' && i+1 < len(runes) && runes[i+1] == '\n':
		case r == '\r' || r == '\n':
			b.WriteByte('\n')
		case r < 0x20 && r != '\t' || r == 0x7f:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// A new issue moves the events of the last one: the same UIDs with a higher SEQUENCE. Without a start or an issue there
// is no calendar, and the reason stands where the page takes it from.
func TestCalendarNeedsDates(t *testing.T) {
	first, _ := generator.Calendar(planned(t, "Mill"))
	r := planned(t, "Mill")
	r.Job.Issue = &job.Issue{Number: 3, Date: "2026-03-20"}
	second, _ := generator.Calendar(r)
	if got := strings.NewReplacer("SEQUENCE:3", "SEQUENCE:2", "DTSTAMP:20260320", "DTSTAMP:20260309").Replace(string(second)); got != string(first) {
		t.Error("another issue changes more than SEQUENCE and DTSTAMP")
	}
	for name, change := range map[string]func(*assess.Results){
		"start":    func(r *assess.Results) { r.Programme.Dated = false },
		"issue":    func(r *assess.Results) { r.Job.Issue = nil },
		"date":     func(r *assess.Results) { r.Job.Issue.Date = "soon" },
		"computed": func(r *assess.Results) { r.Programme = nil },
	} {
		r := planned(t, "Mill")
		change(r)
		if data, ok := generator.Calendar(r); ok || data != nil || !strings.Contains(r.CalendarGap(), name) {
			t.Errorf("without %s: calendar %v, because %q", name, ok, r.CalendarGap())
		}
	}
}
