package record_test

import (
	"testing"

	"lapwork/generator/record"
)

// The sorting example of RFC 8785, section 3.2.3 (from memory): keys by UTF-16 code units, so that the smiley, a surrogate pair
// from U+D83D, comes before U+FB33.
func TestCanonicalSortsByUTF16(t *testing.T) {
	got, err := record.Canonical(map[string]string{"\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
		"\U0001f600": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis"})
	if err != nil {
		t.Fatal(err)
	}
	want := `{"\r":"Carriage Return","1":"One","` + "\u0080" + `":"Control","ö":"Latin Small Letter O With Diaeresis","€":"Euro Sign","` +
		"\U0001f600" + `":"Emoji: Grinning Face","` + "\ufb33" + `":"Hebrew Letter Dalet With Dagesh"}`
	if string(got) != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// The string example of RFC 8785, section 3.2.2 (from memory), and the characters that Go's encoder alone would escape.
func TestCanonicalStrings(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/", `"€$\u000f\nA'B\"\\\\\"/"`},
		{"<a>&</a>", `"<a>&</a>"`},
		{"a\u2028b\u2029c", "\"a\u2028b\u2029c\""},
		{"\b\f\n\r\t\x00\x1f\x7f", "\"\\b\\f\\n\\r\\t\\u0000\\u001f\x7f\""},
	} {
		got, err := record.Canonical(c.in)
		if err != nil || string(got) != c.want {
			t.Errorf("Canonical(%q) = %s, %v; want %s", c.in, got, err, c.want)
		}
	}
}

func TestCanonicalRefuses(t *testing.T) {
	for _, v := range []any{1.5, true, nil, 1e30} {
		if text, err := record.Canonical(v); err == nil {
			t.Errorf("Canonical(%v) = %s; want an error", v, text)
		}
	}
}

// The digits were computed apart with Python's json (sorted keys, no ASCII escapes) and hashlib.
func TestSealPinned(t *testing.T) {
	statement := []record.Line{
		{Key: "B2/QA-19/B2-W3+F1#title", Text: ` Bead <thickness>
			& "ends"`},
		{Key: "B2/QA-19/B2-W3+F1#accept", Text: "unbroken, 4 to 12 mm thick \u2028 ü", Unit: "mm"},
	}
	if got, want := record.Seal(statement), "2533d2a1d9982638295b6ff4b4d0bcb223527bfb4563c2d3489277ce1b41c8e8"; got != want {
		t.Errorf("seal %s, want %s", got, want)
	}
	// SHA-256 of "[]", computed apart with hashlib.
	if got, want := record.Seal(nil), "4f53cda18c2baa0c0354bb5f9a3ecbe5ed12ab4d8e11ba873c2f11161202b945"; got != want {
		t.Errorf("seal of nothing %s, want %s", got, want)
	}
	statement[0], statement[1] = statement[1], statement[0]
	if record.Seal(statement) == "2533d2a1d9982638295b6ff4b4d0bcb223527bfb4563c2d3489277ce1b41c8e8" {
		t.Error("the order of lines does not enter the seal")
	}
}
