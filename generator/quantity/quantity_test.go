package quantity_test

import (
	"math"
	"testing"

	q "lapwork/generator/quantity"
)

func TestText(t *testing.T) {
	de := q.FormatFor("de-AT")
	for got, want := range map[string]string{
		q.English.MM(1500):               "1500 mm",
		q.English.MM(14200):              "14\u202f200 mm",
		q.English.MM(1234567):            "1\u202f234\u202f567 mm",
		q.English.Metres(12.4):           "12.40 m",
		de.Area(13.5):                    "13,50 m²",
		q.English.Minutes(77.4):          "77 min",
		q.English.Minutes(185):           "3 h 05 min",
		q.English.MinutesUpTo(53, 185):   "53 min",
		q.English.MinutesUpTo(119, 185):  "1 h 59 min",
		q.English.Percent(0.1818, 1):     "18.2 %",
		q.English.Amount(2.04, "each"):   "3 pieces",
		q.English.Amount(1, "each"):      "1 piece",
		q.English.Amount(282.1, "ml"):    "283 ml",
		q.English.Number(-0.001, 2):      "0.00",
		q.English.Number(-2.5, 1):        "−2.5",
		q.English.Number(math.NaN(), 1):  "not known",
		q.English.Number(math.Inf(1), 1): "not known",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestMillimetres(t *testing.T) {
	for l, want := range map[q.Length]q.MM{2.5: 2500, 0.0004: 0, -0.0006: -1, 1.2345: 1235} {
		if got := q.MMOf(l); got != want {
			t.Errorf("%v m is %d mm, want %d", l, got, want)
		}
	}
	if got := q.MM(60).Metres(); got != 0.06 {
		t.Errorf("60 mm is %v m", got)
	}
}

func TestStatusWordsComeBack(t *testing.T) {
	for s := q.Confirmed; s <= q.Placeholder; s++ {
		if got, ok := q.ParseStatus(s.String()); !ok || got != s {
			t.Errorf("%q reads as %v, %v", s, got, ok)
		}
	}
	if _, ok := q.ParseStatus("certain"); ok {
		t.Error("an unknown word was read as a status")
	}
	if q.Confirmed.Weaker(q.FromMemory) != q.FromMemory {
		t.Error("a mixed figure took the stronger status")
	}
}
