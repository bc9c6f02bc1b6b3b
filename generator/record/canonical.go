package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// Canonical is the text that is hashed: the JSON Canonicalization Scheme of RFC 8785 limited to objects, arrays, strings
// and integers. Keys are sorted by UTF-16 code units, nothing is escaped but quote, backslash and controls, so that the
// bytes equal those of JSON.stringify over sorted keys. A number with a fraction, a boolean or a null is an error.
func Canonical(v any) ([]byte, error) {
	plain, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	dec := json.NewDecoder(bytes.NewReader(plain))
	dec.UseNumber()
	var tree any
	if err := dec.Decode(&tree); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := write(&b, tree); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func write(b *bytes.Buffer, v any) error {
	switch v := v.(type) {
	case string:
		writeString(b, v)
	case json.Number:
		n, err := strconv.ParseInt(v.String(), 10, 64)
		if err != nil {
			return fmt.Errorf("canonical text takes whole numbers only, not %s", v)
		}
		b.WriteString(strconv.FormatInt(n, 10))
	case []any:
		return writeArray(b, v)
	case map[string]any:
		return writeObject(b, v)
	default:
		return fmt.Errorf("canonical text takes no %T", v)
	}
	return nil
}

func writeArray(b *bytes.Buffer, list []any) error {
	b.WriteByte('[')
	for i, v := range list {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := write(b, v); err != nil {
			return err
		}
	}
	b.WriteByte(']')
	return nil
}

func writeObject(b *bytes.Buffer, m map[string]any) error {
	keys := slices.SortedFunc(maps.Keys(m), byUTF16)
	b.WriteByte('{')
	for i, k := range keys {
		if i > 0 {
			b.WriteByte(',')
		}
		writeString(b, k)
		b.WriteByte(':')
		if err := write(b, m[k]); err != nil {
			return err
		}
	}
	b.WriteByte('}')
	return nil
}

func byUTF16(a, b string) int {
	return cmp.Or(slices.Compare(utf16.Encode([]rune(a)), utf16.Encode([]rune(b))), cmp.Compare(a, b))
}

const hexDigits = "0123456789abcdef"

func writeString(b *bytes.Buffer, s string) {
	b.WriteByte('"')
	if isPlain(s) { // nearly every text is
		b.WriteString(s)
		b.WriteByte('"')
		return
	}
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\b':
			b.WriteString(`\b`)
		case r == '\f':
			b.WriteString(`\f`)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20:
			b.WriteString(`\u00`)
			b.WriteByte(hexDigits[r>>4])
			b.WriteByte(hexDigits[r&15])
		case r == utf8.RuneError:
			b.WriteRune('\uFFFD')
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
}

// isPlain reports whether a text stands in canonical text as it is.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < 0x20 || s[i] == '"' || s[i] == '\\' {
			return false
		}
	}
	return utf8.ValidString(s)
}
