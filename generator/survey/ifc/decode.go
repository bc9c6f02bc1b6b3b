package ifc

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// pages are the ISO 8859 pages that \PA\ to \PI\ choose (ISO 10303-21, string control directives). The ninth, ISO 8859-9,
// is the last one the standard names.
var pages = [9]*charmap.Charmap{
	charmap.ISO8859_1, charmap.ISO8859_2, charmap.ISO8859_3, charmap.ISO8859_4, charmap.ISO8859_5,
	charmap.ISO8859_6, charmap.ISO8859_7, charmap.ISO8859_8, charmap.ISO8859_9,
}

// decode turns the text between quotes into UTF-8: doubled apostrophes, \\, \S\, \P.\, \X\, \X2\ and \X4\. Raw bytes above
// 127 are taken as UTF-8 where they are that, else as ISO 8859-1, which is what old writers meant. A broken escape stays
// as it is written, so that a person sees it.
func decode(raw []byte) string {
	if bytes.IndexByte(raw, '\\') < 0 && bytes.IndexByte(raw, '\'') < 0 && ascii(raw) {
		return string(raw)
	}
	valid := utf8.Valid(raw)
	page := pages[0]
	var b strings.Builder
	for i := 0; i < len(raw); {
		c := raw[i]
		switch {
		case c == '\'' && i+1 < len(raw) && raw[i+1] == '\'':
			b.WriteByte('\'')
			i += 2
		case c == '\\':
			n := escape(&b, raw[i:], &page)
			if n == 0 {
				b.WriteByte(c)
				n = 1
			}
			i += n
		case c < utf8.RuneSelf || valid:
			b.WriteByte(c)
			i++
		default:
			b.WriteRune(rune(c))
			i++
		}
	}
	return b.String()
}

func ascii(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// escape writes what the escape at the start of s stands for and gives its length; 0 where there is none.
func escape(b *strings.Builder, s []byte, page **charmap.Charmap) int {
	switch {
	case bytes.HasPrefix(s, []byte(`\\`)):
		b.WriteByte('\\')
		return 2
	case len(s) >= 4 && s[1] == 'S' && s[2] == '\\' && s[3] < utf8.RuneSelf:
		b.WriteRune((*page).DecodeByte(s[3] + 128))
		return 4
	case len(s) >= 4 && s[1] == 'P' && s[2] >= 'A' && s[2] <= 'I' && s[3] == '\\':
		*page = pages[s[2]-'A']
		return 4
	case bytes.HasPrefix(s, []byte(`\X\`)) && len(s) >= 5:
		n, err := strconv.ParseUint(string(s[3:5]), 16, 8)
		if err != nil {
			return 0
		}
		b.WriteRune(rune(n))
		return 5
	case bytes.HasPrefix(s, []byte(`\X2\`)):
		return wide(b, s, 4)
	case bytes.HasPrefix(s, []byte(`\X4\`)):
		return wide(b, s, 8)
	}
	return 0
}

// wide reads \X2\ or \X4\ up to \X0\: groups of hexadecimal digits, UTF-16 units or code points.
func wide(b *strings.Builder, s []byte, digits int) int {
	end := bytes.Index(s, []byte(`\X0\`))
	if end < 4 || (end-4)%digits != 0 {
		return 0
	}
	var units []uint16
	var runes []rune
	for i := 4; i < end; i += digits {
		n, err := strconv.ParseUint(string(s[i:i+digits]), 16, 32)
		if err != nil {
			return 0
		}
		units, runes = append(units, uint16(n)), append(runes, rune(n))
	}
	if digits == 4 {
		runes = utf16.Decode(units)
	}
	for _, r := range runes {
		b.WriteRune(r) // what is no code point becomes the replacement character
	}
	return end + 4
}
