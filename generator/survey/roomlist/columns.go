package roomlist

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"lapwork/generator/survey"
)

// field is what a column holds.
type field uint8

const (
	none field = iota
	ident
	number
	name
	description
	storey
	elevation
	length
	width
	height
	area
	grossArea
	volume
	ratio
	perimeter
	quantity
	pitch
	knee
	slopeWall
	outerWalls
	above
	below
	heated
	wet
)

// titles are the words of column titles, without blanks, marks and units, in the order of preference: where two columns
// mean the same, the one whose title stands earlier is taken. Common practice of room schedules, no source.
var titles = map[field][]string{
	ident:       {"extidentifier", "identifier", "guid", "globalid", "id", "uid"},
	number:      {"roomnumber", "roomno", "roomnr", "number", "no", "nr", "raumnummer", "raumnr", "nummer", "numéro", "no.", "número", "numer", "numerpomieszczenia", "nrpomieszczenia"},
	name:        {"roomname", "name", "room", "raumname", "raum", "raumbezeichnung", "bezeichnung", "nom", "pièce", "local", "nomdelapièce", "nombre", "estancia", "nazwa", "nazwapomieszczenia", "pomieszczenie"},
	description: {"description", "longname", "beschreibung", "désignation", "descripción", "opis"},
	storey:      {"storey", "story", "floorname", "floor", "level", "geschoss", "stockwerk", "etage", "ebene", "étage", "niveau", "planta", "piso", "kondygnacja", "piętro"},
	elevation:   {"elevation", "floorlevel", "storeylevel", "höhenkote", "okff", "altitude", "cota", "rzędna"},
	length:      {"length", "länge", "longueur", "longitud", "largo", "długość", "l"},
	width:       {"width", "depth", "breite", "tiefe", "largeur", "profondeur", "ancho", "szerokość", "b", "w"},
	height:      {"usableheight", "clearheight", "roomheight", "ceilingheight", "height", "lichtehöhe", "raumhöhe", "deckenhöhe", "höhe", "hauteursousplafond", "hauteur", "hsp", "alturalibre", "altura", "wysokość", "h"},
	area:        {"netarea", "netfloorarea", "floorarea", "area", "nettofläche", "nrf", "ngf", "nuf", "wohnfläche", "grundfläche", "fläche", "surfacenette", "surface", "superficieútil", "superficie", "powierzchnia"},
	grossArea:   {"grossarea", "grossfloorarea", "bruttofläche", "bgf", "surfacebrute", "superficieconstruida"},
	volume:      {"volume", "volumen", "rauminhalt", "kubatura"},
	ratio:       {"ratio", "sideratio", "seitenverhältnis", "rapport", "proporción"},
	perimeter:   {"perimeter", "roomperimeter", "girth", "umfang", "raumumfang", "périmètre", "perímetro", "obwód"},
	quantity:    {"quantity", "qty", "count", "anzahl", "menge", "stück", "quantité", "nombredepièces", "cantidad", "ilość"},
	pitch:       {"pitch", "slope", "slopepitch", "roofpitch", "dachneigung", "neigung", "schräge", "pente", "pendiente", "nachylenie"},
	knee:        {"kneewall", "kneeheight", "kneewallheight", "slopeheight", "eavesheight", "kniestock", "kniestockhöhe", "drempel", "hauteurpieddroit", "wysokośćściankikolankowej"},
	slopeWall:   {"slopewall", "slopewalls", "slopeside", "slopesides", "schrägewand", "schrägenwand"},
	outerWalls:  {"outsidewalls", "externalwalls", "exteriorwalls", "outerwalls", "außenwände", "aussenwände", "mursextérieurs", "parejasexteriores", "paredesexteriores", "ścianyzewnętrzne"},
	above:       {"above", "behindceiling", "darüber", "dessus", "encima", "nad"},
	below:       {"below", "behindfloor", "darunter", "dessous", "debajo", "pod"},
	heated:      {"heated", "beheizt", "chauffé", "calefactado", "ogrzewane"},
	wet:         {"wetroom", "wet", "nassraum", "feuchtraum", "humide", "húmedo", "mokre"},
}

// fieldWords say what a column was understood as.
var fieldWords = map[field]string{ident: "identifier", number: "number", name: "name", description: "name", storey: "storey", elevation: "height of the storey's floor",
	length: "length", width: "width", height: "height", area: "floor area", grossArea: "gross area", volume: "volume", ratio: "ratio of the sides", perimeter: "perimeter",
	quantity: "how many such rooms", pitch: "pitch of the slope", knee: "height of the slope at its wall", slopeWall: "wall the slope rises from",
	outerWalls: "outside walls", above: "what lies above", below: "what lies below", heated: "heated or not", wet: "wet room"}

// wordOf is the word of a field, for languages to say.
func wordOf(f field) survey.Said { return survey.Said{Pattern: fieldWords[f]} }

// Words are those that say what a column was understood as.
func Words() []string { return slices.Sorted(maps.Values(fieldWords)) }

// column is a column of the list.
type column struct {
	at    int
	title string
	field field
	unit  string // as in the title: "mm", "m²"; empty: none
}

// titleOf gives a title's words without marks, and the unit in brackets or after a comma.
func titleOf(cell string) (words, unit string) {
	cell = strings.ToLower(strings.Join(strings.Fields(cell), " "))
	for _, marks := range [][2]string{{"(", ")"}, {"[", "]"}, {"{", "}"}} {
		if before, rest, ok := strings.Cut(cell, marks[0]); ok {
			inside, after, _ := strings.Cut(rest, marks[1])
			cell, unit = before+" "+after, strings.TrimSpace(inside)
			break
		}
	}
	if unit == "" {
		for _, mark := range []string{" in ", ", ", "/"} {
			if before, after, ok := strings.Cut(cell, mark); ok && unitScale(after, 0) > 0 {
				cell, unit = before, strings.TrimSpace(after)
				break
			}
		}
	}
	if unit == "" { // "Height mm"
		if i := strings.LastIndexByte(cell, ' '); i > 0 && unitScale(cell[i+1:], 0) > 0 {
			cell, unit = cell[:i], cell[i+1:]
		}
	}
	words = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, cell)
	return words, unit
}

// recognise reads a row as a header. Each field goes to one column.
func recognise(row []string) []column {
	var out []column
	rank := map[field]int{}
	for i, cell := range row {
		words, unit := titleOf(cell)
		c := column{at: i, title: strings.Join(strings.Fields(cell), " "), unit: unit}
		if words == "" {
			continue
		}
		for f, known := range titles {
			if k := slices.Index(known, words); k >= 0 {
				c.field = f
				if first, taken := rank[f]; taken && first <= k {
					c.field = none
				} else {
					for j := range out {
						if out[j].field == f {
							out[j].field = none
						}
					}
					rank[f] = k
				}
			}
		}
		out = append(out, c)
	}
	return settle(out)
}

// settle takes a column "name" as the number where another one describes the room, as in schedules of space numbers.
func settle(cols []column) []column {
	has := map[field]int{}
	for i, c := range cols {
		if c.field != none {
			has[c.field] = i
		}
	}
	d, described := has[description]
	n, named := has[name]
	_, numbered := has[number]
	switch {
	case described && named && !numbered:
		cols[n].field, cols[d].field = number, name
	case described && !named:
		cols[d].field = name
	case described:
		cols[d].field = none
	}
	return cols
}

// score says how much a row looks like a header: recognised columns, and whether it can carry rooms at all.
func score(cols []column) int {
	n, who, size := 0, false, false
	for _, c := range cols {
		switch c.field {
		case none:
			continue
		case name, number, description:
			who = true
		case length, width, area, grossArea, volume:
			size = true
		}
		n++
	}
	if !who || !size {
		return 0
	}
	return n
}

// explain says how columns were understood.
func explain(cols []column, sheet string, turned bool) []string {
	var out []string
	for _, c := range cols {
		what := "not used"
		if c.field != none {
			what = fieldWords[c.field]
			if c.unit != "" {
				what += ", in " + c.unit
			}
		}
		at := "column " + sheetPrefix(sheet) + letter(c.at)
		if turned {
			at = fmt.Sprintf("row %s%d", sheetPrefix(sheet), c.at+1)
		}
		out = append(out, fmt.Sprintf("%s, %q: %s", at, c.title, what))
	}
	return out
}

func sheetPrefix(sheet string) string {
	if sheet == "" {
		return ""
	}
	return sheet + "!"
}

// letter is a column's name in a sheet: A, B … AA.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + string(rune('A'+i%26))
}
