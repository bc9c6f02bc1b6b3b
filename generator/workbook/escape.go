package workbook

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
)

// escaped writes text so that XML can hold it: a character that XML 1.0 has not becomes _xHHHH_, and an underscore that
// would read as the beginning of one becomes _x005F_ (ST_Xstring).
func escaped(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	var b strings.Builder
	for i, r := range s {
		if !inXML(r) {
			fmt.Fprintf(&b, "_x%04X_", r)
			continue
		}
		if _, looks := escapeAt(s[i:]); looks {
			b.WriteString("_x005F")
		}
		b.WriteRune(r)
	}
	return b.String()
}

func inXML(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r != 0xFFFE && r != 0xFFFF
}

const escapeLength = len("_x0000_")

// escapeAt reads the escape that s begins with, if it does.
func escapeAt(s string) (rune, bool) {
	if len(s) < escapeLength || s[0] != '_' || s[1] != 'x' || s[6] != '_' {
		return 0, false
	}
	n, err := strconv.ParseUint(s[2:6], 16, 16)
	return rune(n), err == nil
}

// unescaped reads text as it was before it was escaped. A character beyond the first 65,536 may stand as a pair.
func unescaped(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, ok := escapeAt(s[i:])
		if !ok {
			b.WriteByte(s[i])
			i++
			continue
		}
		i += escapeLength
		if utf16.IsSurrogate(r) {
			if low, ok := escapeAt(s[i:]); ok && utf16.DecodeRune(r, low) != '\uFFFD' {
				r, i = utf16.DecodeRune(r, low), i+escapeLength
			}
		}
		b.WriteRune(r) // half a pair becomes U+FFFD
	}
	return b.String()
}

// units counts the UTF-16 units of a text, which is how the format counts.
func units(s string) int {
	n := 0
	for _, r := range s {
		n += max(1, utf16.RuneLen(r))
	}
	return n
}

// checkName says what is wrong with the name of a sheet.
func checkName(name string, taken map[string]bool) error {
	bad := strings.IndexFunc(name, func(r rune) bool { return strings.ContainsRune(`[]:*?/\`, r) || r < 0x20 || !inXML(r) })
	switch {
	case name == "":
		return fmt.Errorf("a sheet has no name")
	case units(name) > mostName:
		return fmt.Errorf("sheet name %q is longer than %d characters", name, mostName)
	case bad >= 0:
		return fmt.Errorf("sheet name %q has a character that none may have: %q", name, []rune(name[bad:])[0])
	case strings.HasPrefix(name, "'") || strings.HasSuffix(name, "'"):
		return fmt.Errorf("sheet name %q begins or ends with an apostrophe", name)
	case taken[strings.ToLower(name)]:
		return fmt.Errorf("two sheets have the name %q", name)
	}
	taken[strings.ToLower(name)] = true
	return nil
}
