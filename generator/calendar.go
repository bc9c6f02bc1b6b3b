package generator

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode/utf8"

	"lapwork/generator/assess"
	"lapwork/generator/calc/programme"
	"lapwork/generator/lang"
)

// Calendar writes the hold points and deliveries of a job's programme as iCalendar (RFC 5545), for any calendar program.
// ok is false where the job has no calendar: Results.CalendarGap says why. Times are the site's own clock ("floating",
// RFC 5545, 3.3.5 form 1). An event keeps its UID from issue to issue, so that a new issue moves it instead of adding
// another; its SEQUENCE is the number of the issue. DTSTAMP is the day of issue: no clock is read. The words are those of the
// language that the results are said in.
func Calendar(r *assess.Results) (data []byte, ok bool) {
	if r.CalendarGap() != "" {
		return nil, false
	}
	c := calendar{results: r, p: r.Programme, texts: r.Lang.Quiet()}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//Lapwork//Programme//EN")
	c.line("NAME", escapeText(c.say("%s, programme", r.Job.Name))) // RFC 7986, 5.1
	for _, s := range c.p.ByFinish() {
		if s.Activity.Hold != "" && s.Concerns {
			c.hold(s)
		}
	}
	for _, n := range c.p.Needs {
		c.delivery(n)
	}
	c.line("END", "VCALENDAR")
	return []byte(c.text.String()), true
}

type calendar struct {
	results *assess.Results
	p       *assess.Programme
	texts   *lang.Catalogue
	text    strings.Builder
}

func (c *calendar) say(pattern string, values ...any) string { return c.texts.Say(pattern, values...) }

// hold writes the step that ends with a hold point. A step without time has no end: DTEND must be later than DTSTART.
func (c *calendar) hold(s *assess.Step) {
	c.begin("hold/" + s.ID)
	c.line("DTSTART", c.moment(s.Slot.Start))
	if s.Slot.Finish > s.Slot.Start {
		c.line("DTEND", c.moment(s.Slot.Finish))
	}
	release := ""
	who := ""
	if h := c.results.Library.Holds.Find(s.Activity.Hold); h != nil {
		var signs []string
		for _, role := range h.Signs {
			signs = append(signs, c.texts.Text(strings.ReplaceAll(role, "-", " ")))
		}
		release, who = h.Release, strings.Join(signs, ", ")
	}
	c.end(fmt.Sprintf("%s %s: %s", s.Activity.Hold, s.Activity.Title, s.Scope.Name),
		strings.Join([]string{c.say("Released when: %s.", release), c.say("Signs: %s.", who), c.say("Planned time. The pack decides what comes before.")}, "\n"))
}

// delivery writes a delivery on its stated day, or on the day it is first needed.
func (c *calendar) delivery(n assess.DeliveryNeed) {
	day, stated := assess.ParseDate(n.Delivery.Date)
	if n.Step == nil && !stated {
		return
	}
	note := c.say("The job states this day.")
	if n.Step != nil {
		needed, _ := c.p.DateOf(n.Step.Slot.Start)
		if !stated {
			day, note = needed, c.say("The job states no day: this is the day on which it is first needed.")
		}
		note += "\n" + c.say("Needed on %s for %s, %s.", needed.String(), n.Step.Activity.Title, n.Step.Scope.Name)
	}
	c.begin("delivery/" + n.Delivery.ID)
	c.line("DTSTART;VALUE=DATE", basic(day))
	c.line("TRANSP", "TRANSPARENT")
	c.end(c.say("Delivery %s: %s", n.Delivery.ID, n.Delivery.Name), note)
}

func (c *calendar) begin(key string) {
	c.line("BEGIN", "VEVENT")
	sum := sha256.Sum256([]byte(c.results.Job.Reference + "\x00" + key))
	c.line("UID", hex.EncodeToString(sum[:16])+"@lapwork.invalid") // no host of that name: RFC 2606, 2
	issued, _ := assess.ParseDate(c.results.Job.Issue.Date)
	c.line("DTSTAMP", basic(issued)+"T000000Z")
	c.line("SEQUENCE", fmt.Sprint(max(0, c.results.Job.Issue.Number)))
}

func (c *calendar) end(summary, description string) {
	c.line("SUMMARY", escapeText(summary))
	c.line("DESCRIPTION", escapeText(description))
	if c.results.Job.Place.Address != "" {
		c.line("LOCATION", escapeText(c.results.Job.Place.Address))
	}
	c.line("END", "VEVENT")
}

// line writes a content line, folded so that no line is longer than 75 octets without its break and no character is cut
// (RFC 5545, 3.1).
func (c *calendar) line(name, value string) {
	rest := name + ":" + value
	for limit := 75; ; limit = 74 {
		if len(rest) <= limit {
			c.text.WriteString(rest + "\r\n")
			return
		}
		cut := limit
		for !utf8.RuneStart(rest[cut]) {
			cut--
		}
		c.text.WriteString(rest[:cut] + "\r\n ")
		rest = rest[cut:]
	}
}

// moment writes a time of the site's clock.
func (c *calendar) moment(t programme.Instant) string {
	d, minute := c.p.DateOf(t)
	return fmt.Sprintf("%sT%02d%02d00", basic(d), minute/60, minute%60)
}

// basic writes a date without hyphens.
func basic(d assess.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

// escapeText writes a value of type TEXT (RFC 5545, 3.3.11); control characters other than line breaks have no place in
// one and are left out, as are the marks of missing translations; broken bytes become a mark.
func escapeText(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.ToValidUTF8(lang.Plain(s), "\uFFFD"))
	s = strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\n' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, s)
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
}
