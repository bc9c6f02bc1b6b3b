package library

import (
	"strings"

	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// Trade is another trade that works at the layer: what in a job is its own, what it does there and what it must not do.
type Trade struct {
	ID, Title string
	Items     []string // items of penetrations that are its own
	Hot       bool     // takes every hot penetration, whatever its item
	Openings  []string // kinds of openings
	Members   []string // items of members
	Screws    bool     // needs the longest screw of each surface
	Does      []string // sentences without a stop
	Never     []string
	Decides   string // who decides what this page does not
	Rules     []string
	Cautions  []string
	Source    q.Source
	Pos       diag.Pos `hash:"ignore"`
}

var tradeSpec = spec[*Trade]{"trades", []string{"id", "title", "items", "hot", "openings", "members", "screws", "does", "never",
	"decides", "rules", "cautions", "source", "status"}, readTrade}

func readTrade(l line) *Trade {
	return &Trade{ID: l.text("id"), Title: l.need("title"), Items: l.list("items"), Hot: l.word("hot", []string{"", "yes"}) == "yes",
		Openings: l.list("openings"), Members: l.list("members"), Screws: l.word("screws", []string{"", "yes"}) == "yes",
		Does: l.sentences("does"), Never: l.sentences("never"), Decides: l.need("decides"), Rules: l.list("rules"),
		Cautions: l.list("cautions"), Source: l.source(), Pos: l.pos}
}

// sentences reads a cell whose entries are set apart by semicolons; it may not be empty.
func (l line) sentences(col string) []string {
	var out []string
	for _, s := range strings.Split(l.need(col), ";") {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Closing is the event that buries what must be done before it.
type Closing struct {
	ID     string // item of a member, "backing", or an activity that releases a whole room
	Event  string
	Before []string // activities that bury it; empty: as the statement and the order of activities say
	Source q.Source
	Pos    diag.Pos `hash:"ignore"`
}

var closingSpec = spec[*Closing]{"closings", []string{"id", "event", "before", "source", "status"}, func(l line) *Closing {
	return &Closing{ID: l.text("id"), Event: l.need("event"), Before: l.list("before"), Source: l.source(), Pos: l.pos}
}}

// TradeTables are the tables about other trades of all layers together.
type TradeTables struct {
	Trades   Table[*Trade]
	Closings Table[*Closing]
}

func (t *TradeTables) loadTrades(from Layer, found *diag.List) {
	tradeSpec.load(&t.Trades, from, found)
	closingSpec.load(&t.Closings, from, found)
}

// TradeOf gives the trade whose a penetration is: a hot one belongs to those who take hot items. nil: no trade names it.
func (t *TradeTables) TradeOf(item string, hot bool) *Trade {
	for _, trade := range t.Trades.All() {
		if hot && trade.Hot || !hot && oneOf(item, trade.Items) {
			return trade
		}
	}
	if hot { // nobody takes hot items: by what it is
		return t.TradeOf(item, false)
	}
	return nil
}

// checkTrades reports what two trades claim, and rules and cautions that are not in the tables.
func (l *Library) checkTrades(found *diag.List) {
	first := map[string]*Trade{}
	for _, t := range l.Trades.All() {
		claims := map[string][]string{"penetration": t.Items, "opening": t.Openings, "member": t.Members}
		if t.Hot {
			claims["every"] = []string{"hot item"}
		}
		for _, kind := range []string{"penetration", "opening", "member", "every"} {
			for _, item := range claims[kind] {
				key := kind + " " + item
				if other := first[key]; other != nil {
					found.Add(diag.Finding{Pos: t.Pos, Msg: key + " stands with two trades: " + other.ID + " and " + t.ID,
						Hint: "leave it with one of them", See: []diag.Pos{other.Pos}})
					continue
				}
				first[key] = t
			}
		}
		unknown(t.Pos, "rule", t.Rules, l.Rules.IDs(), found)
		unknown(t.Pos, "caution", t.Cautions, l.Cautions.IDs(), found)
	}
	for _, c := range l.Closings.All() {
		unknown(c.Pos, "activity", c.Before, l.Activities.IDs(), found)
	}
}

func unknown(at diag.Pos, what string, ids, known []string, found *diag.List) {
	for _, id := range ids {
		if !oneOf(id, known) {
			found.Faultf(at, suggest(id, known), "unknown %s %q", what, id)
		}
	}
}
