package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Format turns quantities into text: the one place where a number of a pack gets its digits, its sign and its unit.
type Format struct {
	Decimal  string // decimal sign: "." or ","
	Imperial bool   // feet, inches and pounds stand beside the metric figure, which stays the one that is ordered and checked
	// Say gives a text in the language of the format; nil: English.
	Say func(pattern string, values ...any) string
}

func (f Format) say(pattern string, values ...any) string {
	if f.Say == nil {
		return fmt.Sprintf(pattern, values...)
	}
	return f.Say(pattern, values...)
}

// Says gives a text in the language of the format, for what stands beside a figure.
func (f Format) Says(pattern string, values ...any) string { return f.say(pattern, values...) }

// Word gives a word that data chooses in the language of the format.
func (f Format) Word(english string) string {
	if f.Say == nil {
		return english
	}
	return f.Say(english)
}

// English is the format with a decimal point.
var English = Format{Decimal: "."}

// FormatFor gives the format of a language tag: German, French, Spanish and Polish write a decimal comma.
func FormatFor(language string) Format {
	switch primary, _, _ := strings.Cut(language, "-"); primary {
	case "de", "fr", "es", "pl", "it", "nl", "cs", "ro", "lt":
		return Format{Decimal: ","}
	}
	return English
}

// Number gives x with this many digits after the decimal sign, thousands parted by a thin space.
func (f Format) Number(x float64, digits int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return f.say("not known")
	}
	text := strconv.FormatFloat(x, 'f', digits, 64)
	whole, part, hasPart := strings.Cut(text, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "−", whole[1:]
		if strings.Trim(whole+part, "0") == "" {
			sign = ""
		}
	}
	whole = groups(whole)
	if hasPart {
		return sign + whole + f.Decimal + part
	}
	return sign + whole
}

// groups parts digits in threes from 10 000 up, so that cut lengths of four digits stay as a tape measure shows them.
func groups(whole string) string {
	if len(whole) < 5 {
		return whole
	}
	head := len(whole) % 3
	var b strings.Builder
	b.WriteString(whole[:head])
	for i := head; i < len(whole); i += 3 {
		if b.Len() > 0 {
			b.WriteString("\u202f")
		}
		b.WriteString(whole[i : i+3])
	}
	return b.String()
}

// MM gives a length in whole millimetres: "1500 mm".
func (f Format) MM(m MM) string {
	return f.Number(float64(m), 0) + " mm" + f.beside(inches(float64(m)))
}

// Metres gives a length in metres to the centimetre: "12.40 m".
func (f Format) Metres(l Length) string {
	return f.Number(float64(l), 2) + " m" + f.beside(f.Number(float64(l)/foot, 1)+" ft")
}

// Roll gives the length of a roll in whole metres: "50 m".
func (f Format) Roll(l Length) string {
	return f.Number(float64(l), 0) + " m" + f.beside(f.Number(float64(l)/foot, 0)+" ft")
}

// Area gives an area to a hundredth of a square metre: "13.50 m²".
func (f Format) Area(a Area) string {
	return f.Number(float64(a), 2) + " m²" + f.beside(f.Number(float64(a)/(foot*foot), 1)+" sq ft")
}

// Volume gives a volume to a tenth of a cubic metre: "245.3 m³".
func (f Format) Volume(v Volume) string {
	return f.Number(float64(v), 1) + " m³" + f.beside(f.Number(float64(v)/(foot*foot*foot), 0)+" cu ft")
}

// Minutes gives a labour time: "77 min", from two hours up "3 h 05 min".
func (f Format) Minutes(m Minutes) string { return f.MinutesUpTo(m, m) }

// MinutesUpTo is the same for one of several times that stand together, in the form that the longest of them has.
func (f Format) MinutesUpTo(m, longest Minutes) string {
	whole := int(math.Round(float64(m)))
	if whole < 60 || math.Round(float64(longest)) < 120 {
		return strconv.Itoa(whole) + " min"
	}
	rest := strconv.Itoa(whole % 60)
	if len(rest) == 1 {
		rest = "0" + rest
	}
	return strconv.Itoa(whole/60) + " h " + rest + " min"
}

// Kilograms gives a mass to a tenth: "8.1 kg".
func (f Format) Kilograms(m Mass) string {
	return f.Number(float64(m), 1) + " kg" + f.beside(f.Number(float64(m)/pound, 1)+" lb")
}

// Money gives hundredths of a currency's unit: "129.00 EUR".
func (f Format) Money(hundredths int64, currency string) string {
	sign := ""
	if hundredths < 0 {
		sign, hundredths = "−", -hundredths
	}
	part := strconv.FormatInt(100+hundredths%100, 10)[1:]
	return sign + groups(strconv.FormatInt(hundredths/100, 10)) + f.Decimal + part + " " + currency
}

// Percent gives a share: "18.2 %".
func (f Format) Percent(r Ratio, digits int) string { return f.Number(float64(r)*100, digits) + " %" }

// Amount gives an amount in the unit of a component table: m, m2, each, ml, kg ... Lengths and areas keep two digits,
// pieces none, millilitres none.
func (f Format) Amount(x float64, unit string) string {
	digits, word := 2, unit
	switch unit {
	case "m":
		return f.Metres(Length(x))
	case "m2":
		return f.Area(Area(x))
	case "kg":
		return f.Number(x, 2) + " kg" + f.beside(f.Number(x/pound, 1)+" lb")
	case "each":
		return f.pieces(Borne(x, unit))
	case "ml":
		digits, x = 0, Borne(x, unit)
	case "m3":
		word = "m³"
	}
	return f.Number(x, digits) + " " + word
}

// Whole reports whether amounts in a unit of the component table are counted whole: half a screw is nothing to order.
func Whole(unit string) bool { return unit == "each" || unit == "ml" }

// Borne rounds an amount to what its unit can bear: up to whole pieces and millilitres, to hundredths of anything else.
func Borne(x float64, unit string) float64 {
	if Whole(unit) {
		return math.Ceil(x - 1e-9)
	}
	return math.Round(x*100) / 100
}

// pieces counts whole pieces.
func (f Format) pieces(x float64) string {
	switch {
	case math.IsNaN(x) || math.Abs(x) >= 1e4:
		return f.Number(x, 0) + " " + f.say("pieces")
	case x == 1 && f.Say == nil:
		return "1 piece"
	}
	return f.say("%d pieces", int(x))
}
