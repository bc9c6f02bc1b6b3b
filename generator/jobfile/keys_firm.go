package jobfile

import (
	"regexp"
	"strconv"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

// rawFirm is firm.yaml; a job's own firm entry has only its head.
type rawFirm struct {
	name, contact, address at[string]
	crew                   at[int]
	lengths                at[string]
	rates                  at[rawRates]
	components             at[[]at[rawOwn]]
	choices                at[[]entry[string]]
	settings               at[[]entry[string]]
	stock                  at[[]at[rawStock]]
	look                   at[rawLook]
	commands               at[[]entry[string]]
	libraries              at[[]at[rawPin]]
}

func firmHead() []*key[*rawFirm] {
	return []*key[*rawFirm]{
		field("name", "name", text(120), func(f *rawFirm) *at[string] { return &f.name }),
		field("contact", "telephone or post", text(200), func(f *rawFirm) *at[string] { return &f.contact }),
		field("address", "address", text(200), func(f *rawFirm) *at[string] { return &f.address }),
		field("crew", "fitters on site; 2 if left out", count(1, 50), func(f *rawFirm) *at[int] { return &f.crew }),
	}
}

var (
	firmHeadValue = object("a firm of a job", firmHead()...)
	firmValue     = object("a firm", append(firmHead(),
		field("lengths", "unit of every length written without one", word("mm", "cm", "m", "in", "ft"), func(f *rawFirm) *at[string] { return &f.lengths }),
		field("rates", "prices and pace of all jobs", ratesValue, func(f *rawFirm) *at[rawRates] { return &f.rates }),
		field("components", "the merchant's articles", list(ownValue), func(f *rawFirm) *at[[]at[rawOwn]] { return &f.components }),
		field("choices", "the class the firm usually takes for a component that stands for several", named(component, componentID), func(f *rawFirm) *at[[]entry[string]] { return &f.choices }),
		field("settings", "setting: number in its own unit, for every job", named(plainName, text(40)), func(f *rawFirm) *at[[]entry[string]] { return &f.settings }),
		field("stock", "roll lengths that can be bought", list(stockValue), func(f *rawFirm) *at[[]at[rawStock]] { return &f.stock }),
		field("commands", "flag: value, what the program's flags are when neither the command line nor LAPWORK_* sets them", named(plainName, text(200)), func(f *rawFirm) *at[[]entry[string]] { return &f.commands }),
		field("libraries", "detail libraries of others, between the built-in one and the firm's own", list(pinValue), func(f *rawFirm) *at[[]at[rawPin]] { return &f.libraries }),
		field("look", "appearance of the pack", lookValue, func(f *rawFirm) *at[rawLook] { return &f.look }),
	)...)
)

type rawPin struct{ from, hash at[string] }

var pinValue = object("a pinned library",
	field("from", "folder or .zip inside the firm's folder", id(bundleName), func(p *rawPin) *at[string] { return &p.from }).required(),
	field("hash", "what lapwork library pin prints for the content you have looked at", id(bundleHash), func(p *rawPin) *at[string] { return &p.hash }).required(),
)

type rawRates struct {
	hour  at[job.Price]
	pace  at[float64]
	packs at[[]entry[job.Price]]
	note  at[string]
}

var ratesValue = object("rates",
	field("hour", "one fitter's hour", price, func(r *rawRates) *at[job.Price] { return &r.hour }),
	field("pace", "the firm's minutes over the typical minutes", number(0.2, 5), func(r *rawRates) *at[float64] { return &r.pace }),
	field("packs", "component: price of one pack; rolls have theirs under stock", named(component, price), func(r *rawRates) *at[[]entry[job.Price]] { return &r.packs }),
	field("note", "whose prices they are, and since when", text(200), func(r *rawRates) *at[string] { return &r.note }),
)

type rawOwn struct {
	component, name, article at[string]
	pack                     at[float64]
	width, length            at[q.MM]
	price                    at[job.Price]
}

var ownValue = object("an article",
	field("component", "row of the component table it stands for", componentID, func(o *rawOwn) *at[string] { return &o.component }).required(),
	field("name", "what the merchant calls it", text(120), func(o *rawOwn) *at[string] { return &o.name }).required(),
	field("article", "the merchant's number", text(60), func(o *rawOwn) *at[string] { return &o.article }),
	field("pack", "content of a pack in the component's unit", number(0.001, 100_000), func(o *rawOwn) *at[float64] { return &o.pack }),
	field("width", "of a roll", length(10, 10_000), func(o *rawOwn) *at[q.MM] { return &o.width }),
	field("length", "of a roll", length(100, 500_000), func(o *rawOwn) *at[q.MM] { return &o.length }),
	field("price", "of a pack", price, func(o *rawOwn) *at[job.Price] { return &o.price }),
)

type rawStock struct {
	component, leftover, article at[string]
	width, length                at[q.MM]
	count                        at[int]
	price                        at[job.Price]
}

var stockValue = object("a stock roll",
	field("component", "id of a component", componentID, func(s *rawStock) *at[string] { return &s.component }).required(),
	field("width", "of the roll", length(10, 10_000), func(s *rawStock) *at[q.MM] { return &s.width }).required(),
	field("length", "of the roll", length(100, 500_000), func(s *rawStock) *at[q.MM] { return &s.length }).required(),
	field("leftover", "name of a leftover to use up first", text(80), func(s *rawStock) *at[string] { return &s.leftover }),
	field("count", "how many; any number of bought rolls if left out", count(1, 10_000), func(s *rawStock) *at[int] { return &s.count }),
	field("article", "the firm's own article number", text(60), func(s *rawStock) *at[string] { return &s.article }),
	field("price", "of one roll", price, func(s *rawStock) *at[job.Price] { return &s.price }),
)

type rawLook struct {
	theme, accent, logo, footer at[string]
	lines                       at[[]at[string]]
	colours                     at[rawColours]
}

var lookValue = object("a look",
	field("theme", "folder of theme files in the firm's folder; theme if left out", id(plainName), func(l *rawLook) *at[string] { return &l.theme }),
	field("accent", "colour of what can be touched", colour, func(l *rawLook) *at[string] { return &l.accent }),
	field("logo", "SVG or PNG file in the firm's folder", id(nameRule{"a picture", regexp.MustCompile(`^[A-Za-z0-9_][A-Za-z0-9_.-]*\.(svg|png)$`), "an .svg or .png file beside firm.yaml"}), func(l *rawLook) *at[string] { return &l.logo }),
	field("footer", "line at the foot of every page", text(200), func(l *rawLook) *at[string] { return &l.footer }),
	field("lines", "more lines of the contact block", list(text(120)), func(l *rawLook) *at[[]at[string]] { return &l.lines }),
	field("colours", "colours by scheme; contrast is measured", object("colours",
		field("usual", "of the usual scheme", palette, func(c *rawColours) *at[[]entry[string]] { return &c.usual }),
		field("dark", "of the dark scheme", palette, func(c *rawColours) *at[[]entry[string]] { return &c.dark }),
		field("sun", "of the scheme for sunlight", palette, func(c *rawColours) *at[[]entry[string]] { return &c.sun }),
	), func(l *rawLook) *at[rawColours] { return &l.colours }),
)

var colour = id(nameRule{"a colour", regexp.MustCompile(`^#[0-9a-f]{6}$`), "write it as \"#1f4e79\""})

// rawColours are the colours of each scheme by their names.
type rawColours struct{ usual, dark, sun at[[]entry[string]] }

var palette = named(nameRule{"a colour of the pages", regexp.MustCompile(`^(ground|ink|quiet|rule|edge|touch|on-touch|done|stop|caution|old)$`),
	"one of: ground, ink, quiet, rule, edge, touch, on-touch, done, stop, caution, old"}, colour)

// lookOf takes a look over as it is stated; its files and contrasts are read where pages are made.
func lookOf(raw at[rawLook]) job.Look {
	l := raw.v
	out := job.Look{Theme: l.theme.v, Accent: l.accent.v, Logo: l.logo.v, Footer: l.footer.v, Pos: raw.pos,
		ThemePos: l.theme.pos, AccentPos: l.accent.pos, LogoPos: l.logo.pos}
	for _, line := range l.lines.v {
		out.Lines = append(out.Lines, line.v)
	}
	c := l.colours.v
	for _, s := range []struct {
		name string
		list []entry[string]
	}{{"usual", c.usual.v}, {"dark", c.dark.v}, {"sun", c.sun.v}} {
		for _, e := range s.list {
			out.Colours = append(out.Colours, job.Colour{Scheme: s.name, Name: e.name.v, Value: e.v, Pos: e.at.pos})
		}
	}
	return out
}

var money = regexp.MustCompile(`^(\d{1,9})(?:\.(\d{2}))? ([A-Z]{3})$`)

// price is an amount with its currency (ISO 4217); amounts have two decimals or none.
var price = scalar("a price as 129.00 EUR", schema{Type: "string", Pattern: money.String()},
	func(_ *reader, text string) (job.Price, string, string) {
		m := money.FindStringSubmatch(text)
		if m == nil {
			return job.Price{}, "\"" + clip(text) + "\" is not a price", "write an amount and three letters: 129.00 EUR"
		}
		cents := m[2]
		if cents == "" {
			cents = "00"
		}
		amount, err := strconv.ParseInt(m[1]+cents, 10, 64)
		if err != nil {
			return job.Price{}, "\"" + clip(text) + "\" is not a price", "write a smaller amount"
		}
		return job.Price{Amount: amount, Currency: m[3]}, "", ""
	})

// planValue reads a footprint: a list of corners, or a rectangle.
var planValue = value[rawPlan]{read: readPlan, schema: func(defs map[string]*schema) *schema {
	corners := list(corner).schema(defs)
	corners.MinItems = 3
	return &schema{AnyOf: []*schema{corners, rectangle.schema(defs)}}
}}

var corner = pair(length(-1_000_000, 1_000_000), "[x, y]")

var rectangle = object("a rectangle",
	field("from", "its corner with the least x and y", corner, func(p *rawPlan) *at[[2]q.MM] { return &p.from }).required(),
	field("size", "[width along x, depth along y]", pair(length(100, 200_000), "[width, depth]"), func(p *rawPlan) *at[[2]q.MM] { return &p.size }).required(),
)

func readPlan(r *reader, n *yaml.Node) (rawPlan, bool) {
	if n.Kind == yaml.MappingNode {
		plan, ok := rectangle.read(r, n)
		if !ok || !plan.from.set() || !plan.size.set() {
			return plan, false
		}
		x, y, w, d := plan.from.v[0], plan.from.v[1], plan.size.v[0], plan.size.v[1]
		for _, c := range [][2]q.MM{{x, y}, {x + w, y}, {x + w, y + d}, {x, y + d}} {
			plan.corners = append(plan.corners, at[[2]q.MM]{c, r.pos(n)})
		}
		return plan, true
	}
	if n.Kind != yaml.SequenceNode {
		r.wrongKind(n, "the corners in order: [[0, 0], [4 m, 0], [4 m, 3 m], [0, 3 m]], or {from: [0, 0], size: [4 m, 3 m]}")
		return rawPlan{}, false
	}
	corners, ok := list(corner).read(r, n)
	if !ok || len(corners) != len(n.Content) {
		return rawPlan{}, false
	}
	plan := rawPlan{corners: corners}
	return plan, checkPlan(r, n, plan)
}

// checkPlan reports outlines that enclose nothing, whatever their shape.
func checkPlan(r *reader, n *yaml.Node, plan rawPlan) bool {
	if len(plan.corners) < 3 || len(plan.corners) > 500 {
		r.fault(r.pos(n), "write every corner once, in order, walking round the room", "a plan has 3 to 500 corners, this one %d", len(plan.corners))
		return false
	}
	var twice int64
	for i, c := range plan.corners {
		next := plan.corners[(i+1)%len(plan.corners)]
		if c.v == next.v {
			r.faultSee(next.pos, seeOne(c.pos), "write every corner once; the last is joined to the first", "two corners that follow each other are the same")
			return false
		}
		twice += int64(c.v[0])*int64(next.v[1]) - int64(next.v[0])*int64(c.v[1])
	}
	if twice == 0 {
		r.fault(r.pos(n), "check the corners", "the plan encloses no area")
		return false
	}
	return true
}
