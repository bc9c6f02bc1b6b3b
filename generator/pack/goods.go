package pack

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/assess"
	"lapwork/generator/job"
	"lapwork/generator/library"
)

// price is what lines of one component cost together: "2 × 92.00 + 1 × 168.00 = 352.00 EUR". Where the job states prices
// but none for it, it says so; where the job states none at all, nothing is said.
func (a *assembler) price(lines []assess.Purchase) string {
	currency := a.Job.Currency()
	if currency == "" {
		return ""
	}
	var parts []string
	var sum int64
	for _, p := range lines {
		if p.Leftover || p.Packs == 0 {
			continue
		}
		amount, ok := p.Amount()
		if !ok {
			return a.say("no price")
		}
		sum += amount
		each, _, _ := strings.Cut(a.format.Money(p.Price.Amount, currency), " ")
		parts = append(parts, fmt.Sprintf("%d × %s", p.Packs, each))
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, " + ") + " = " + a.format.Money(sum, currency)
}

// deliveryCost is a delivery's material as far as prices are stated.
func (a *assembler) deliveryCost(d *assess.Delivery) []Term {
	return a.costTerms(a.CostOf(d))
}

// jobCost is the material of all deliveries and the fitting, as far as prices are stated.
func (a *assembler) jobCost() []Term {
	c := a.Results.Cost()
	terms := a.costTerms(c)
	if w := c.Labour; w != nil {
		t := a.Fitting()
		terms = append(terms, Term{a.say("Fitting"), a.say("%s at %s an hour: %s (%s to %s). Set-up, checks and tests are not in it.",
			a.format.Minutes(t.Likely), a.format.Money(a.Job.Rates.Hour.Amount, c.Currency), a.format.Money(w.Likely, c.Currency),
			a.format.Money(w.Low, c.Currency), a.format.Money(w.High, c.Currency))})
	}
	if len(terms) > 0 && a.Job.Rates.Note != "" {
		terms = append(terms, Term{a.say("Prices"), a.Job.Rates.Note})
	}
	return terms
}

func (a *assembler) costTerms(c assess.Cost) []Term {
	if c.Currency == "" {
		return nil
	}
	terms := []Term{{a.say("Material"), a.format.Money(c.Material, c.Currency)}}
	if len(c.Unpriced) > 0 {
		var names []string
		for _, id := range c.Unpriced {
			names = append(names, a.componentName(string(id)))
		}
		terms = append(terms, Term{a.say("No price"), strings.Join(names, "; ")})
	}
	return terms
}

// mass is what a delivery weighs.
func (a *assembler) mass(d *assess.Delivery) string {
	mass, unknown := a.MassOf(d)
	if len(unknown) > 0 {
		return a.say("About %s to carry, without %s, whose weight is not known.", a.format.Kilograms(mass), several(unknown))
	}
	return a.say("About %s to carry, packs included.", a.format.Kilograms(mass))
}

// loads is what goes up at once of a delivery that is parted, load by load.
func (a *assembler) loads(d *assess.Delivery) []LoadView {
	var out []LoadView
	trips := a.Trips(d)
	for i, t := range trips {
		var rooms []string
		for _, room := range t.Rooms {
			rooms = append(rooms, string(room.ID))
		}
		v := LoadView{Title: a.say("Load %d of %d, about %s, for %s", i+1, len(trips), a.format.Kilograms(t.Mass), strings.Join(rooms, ", "))}
		for _, p := range t.Packs {
			v.Packs = append(v.Packs, Term{a.packName(p), a.packCount(p)})
		}
		out = append(out, v)
	}
	return out
}

// packName is a component's name, with its width where it comes by the roll.
func (a *assembler) packName(p assess.Purchase) string {
	name := a.componentName(string(p.Component))
	if p.Width > 0 {
		name += a.say(", %s wide", a.format.MM(p.Width))
	}
	return name
}

// packCount is how many packs, or rolls with their length.
func (a *assembler) packCount(p assess.Purchase) string {
	if p.Width > 0 {
		return fmt.Sprintf("%d × %s", p.Packs, a.format.Roll(p.Length.Metres()))
	}
	switch {
	case p.Packs == 0:
		return a.format.Amount(p.Need, p.Unit)
	case p.PackSize == 1:
		return a.format.Amount(float64(p.Packs), p.Unit)
	}
	return fmt.Sprintf("%d × %s", p.Packs, a.format.Amount(p.PackSize, p.Unit))
}

func several(ids []job.ComponentID) string {
	text := make([]string, len(ids))
	for i, id := range ids {
		text[i] = string(id)
	}
	return strings.Join(text, ", ")
}

// lifting names what is heavy in a delivery, and the caution that goes with it.
func (a *assembler) lifting(d *assess.Delivery) ([]Note, []Caution) {
	var notes []Note
	note := func(id, text string) { notes = append(notes, Note{Level: "note", Item: id, Text: text}) }
	var one, two []string // packs by how they are carried
	for _, h := range a.Heavies(d) {
		pack := a.say("%s, about %s a pack", a.packName(h.Purchase), a.format.Kilograms(h.PackMass))
		if h.Two {
			two = append(two, pack)
		} else {
			one = append(one, pack)
		}
	}
	if len(two) > 0 {
		note("", a.say("At or over the guide weight for one person, so two people or a lifting aid: %s.", strings.Join(two, "; ")))
	}
	if len(one) > 0 {
		note("", a.say("Over the lighter guide weight for one person, so ask who carries it: %s.", strings.Join(one, "; ")))
	}
	if pieces := a.HeavyPieces(d); len(pieces) > 0 {
		note(pieces[0].ID, a.say("%d pieces of ceiling or slope sheet are over the guide weight for lifting at head height: two people.", len(pieces)))
	}
	c := a.Library.Cautions.Find(liftCaution)
	if len(notes) == 0 {
		return nil, nil
	}
	note("", a.guideSource())
	if c == nil {
		return notes, nil
	}
	return notes, []Caution{a.caution(c, a.say("heavy packs or pieces in this delivery"))}
}

// liftCaution is the caution of manual handling.
const liftCaution = "C-LIFT"

// guideSource says where the guide weights come from.
func (a *assembler) guideSource() string {
	rule := a.Library.Rules.Find(assess.LiftRule)
	return a.say("%s: %s; %s, %s. The site's own limit and local rules come first.", rule.ID, rule.Value, rule.Source.Text, a.status(rule.Source))
}

// ageing are the classes of components whose packs carry a date that matters (common practice, no source).
var ageing = []string{"tape", "adhesive", "liquid", "primer", "filler", "collar", "corner"}

// keep says how a component is stored and, where it does not keep for ever, until when its pack must be good.
func (a *assembler) keep(d *assess.Delivery, id string) string {
	c := a.Library.Components.Find(id)
	if c == nil || c.ShelfLife == 0 || !slices.Contains(ageing, c.Class) {
		return storage(c)
	}
	if p := a.Results.Programme; p != nil && p.Dated {
		if last, ok := p.LastUse(d, id); ok {
			day, _ := p.DateOf(last)
			return a.say("%s. Used until %s: its date on the pack must be later.", c.Storage, a.date(day, true))
		}
	}
	return a.say("%s. See the date on the pack: it keeps about %d months from making.", c.Storage, c.ShelfLife)
}

func storage(c *library.Component) string {
	if c == nil {
		return ""
	}
	return c.Storage
}
