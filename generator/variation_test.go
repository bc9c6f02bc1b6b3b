package generator_test

import (
	"strings"
	"testing"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/job"
	q "lapwork/generator/quantity"
)

func issueWith(number int, minutes q.Minutes, material int64) generator.IssueTally {
	room := generator.RoomTally{Room: "B2", Name: "Study <b>", Layer: 10, Sheet: 12, Tape: 20, Minutes: assess.Range{Likely: minutes}}
	return generator.IssueTally{Reference: "26-1", Name: "House", Issue: job.Issue{Number: number, Date: "2026-03-09", Ordered: "A. Client"}, Hour: 5000,
		Tally: generator.Tally{Minutes: room.Minutes, Rooms: []generator.RoomTally{room}, Rolls: number,
			Cost: assess.Cost{Currency: "EUR", Material: material, Labour: &assess.Wages{Likely: int64(minutes) * 5000 / 60}}}}
}

// Worked by hand: 90 minutes more at 50.00 an hour are 75.00, material from 100.00 to 88.50 is 11.50 less, together 63.50
// more.
func TestVariationByHand(t *testing.T) {
	v := generator.VariationOf(issueWith(1, 60, 10000), issueWith(2, 150, 8850), nil)
	if len(v.Rooms) != 1 || v.Rooms[0].Fitting != "+90 min" || v.Rooms[0].Wages != "+75.00 EUR" || v.Rooms[0].What != "changed" {
		t.Fatalf("%+v", v.Rooms)
	}
	var changes []string
	for _, m := range v.Money {
		changes = append(changes, m.Change)
	}
	if got := strings.Join(changes, " "); got != "−11.50 EUR +75.00 EUR +63.50 EUR" {
		t.Errorf("%s", got)
	}
	back := generator.VariationOf(issueWith(2, 150, 8850), issueWith(1, 60, 10000), nil)
	if got := back.Money[2].Change; got != "−63.50 EUR" || back.Rooms[0].Fitting != "−90 min" {
		t.Errorf("back: %s, %s", got, back.Rooms[0].Fitting)
	}
}

// No sum is made up: without prices, or with two currencies, there is none.
func TestVariationWithoutPrices(t *testing.T) {
	plain, other := issueWith(1, 60, 0), issueWith(2, 90, 100)
	plain.Cost, plain.Hour = assess.Cost{}, 0
	if v := generator.VariationOf(plain, plain, nil); len(v.Money) != 0 || v.Sum.Wages != "" || len(v.Rooms) != 0 {
		t.Errorf("%+v", v)
	}
	other.Cost.Currency = "CHF"
	if v := generator.VariationOf(issueWith(1, 60, 100), other, nil); len(v.Money) != 0 || len(v.Notes) != 1 {
		t.Errorf("%+v", v)
	}
}

// The page loads nothing, has room for two signatures, and a room's name cannot become markup.
func TestVariationPage(t *testing.T) {
	page, err := generator.VariationPage(generator.VariationOf(issueWith(1, 60, 100), issueWith(2, 90, 100), nil), demo(t), nil)
	text := string(page)
	if err != nil || !strings.Contains(text, "Study &lt;b&gt;") || strings.Contains(text, "http://") || strings.Contains(text, "<script") ||
		strings.Count(text, "date, signature") != 2 || !strings.Contains(text, "Ordered by: A. Client.") {
		t.Errorf("%v\n%.3000s", err, text[max(0, strings.Index(text, "<body>")):])
	}
}
