package gbxml_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"unicode/utf16"

	"lapwork/generator/job"
	"lapwork/generator/survey"
	"lapwork/generator/survey/gbxml"
)

const data = "../../../testdata/survey/"

func read(t *testing.T, name string, content []byte) *survey.Building {
	t.Helper()
	b, err := gbxml.Read(name, bytes.NewReader(content), int64(len(content)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func file(t *testing.T, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(data + name)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

func says(b *survey.Building, text string) bool {
	for _, f := range b.Found.Sorted() {
		if strings.Contains(f.Msg, text) && f.Pos.File != "" {
			return true
		}
	}
	return false
}

// Want: by definition 1 in = 0.0254 m, 1 ft = 0.3048 m (1959). 129.1669 ft² = 12 m², 3 ft = 0.9144 m.
func TestUnits(t *testing.T) {
	b := read(t, "units.gbxml", file(t, "units.gbxml"))
	sp := b.Spaces[0]
	if math.Abs(float64(sp.Stated.FloorArea)-12) > 1e-4 || math.Abs(float64(sp.Stated.Volume)-30) > 1e-9 || math.Abs(float64(b.Storeys[0].Level)-0.9144) > 1e-12 {
		t.Errorf("area %v, volume %v, level %v", sp.Stated.FloorArea, sp.Stated.Volume, b.Storeys[0].Level)
	}
	for _, f := range b.Faces { // walls of 4 x 2.5 and 3 x 2.5 m, floor and roof of 12 m²
		a := f.Poly.AreaVector().Length()
		if math.Abs(a-10) > 0.001 && math.Abs(a-7.5) > 0.001 && math.Abs(a-12) > 0.001 {
			t.Errorf("%s is %.4f m²", f.ID, a)
		}
	}
}

// The same building in every encoding, under a prefix, without a namespace, in a container.
func TestSameBuildingInEveryDress(t *testing.T) {
	plain := file(t, "two_rooms.gbxml")
	want := digest(read(t, "x", plain))
	text := string(plain)
	wide := func(order func([]byte, uint16) []byte, mark []byte) []byte {
		out := mark
		for _, u := range utf16.Encode([]rune(strings.Replace(text, "UTF-8", "UTF-16", 1))) {
			out = order(out, u)
		}
		return out
	}
	little := func(b []byte, u uint16) []byte { return append(b, byte(u), byte(u>>8)) }
	big := func(b []byte, u uint16) []byte { return append(b, byte(u>>8), byte(u)) }
	prefixed := strings.NewReplacer("</", "</g:", "<gbXML xmlns=", "<g:gbXML xmlns:g=").Replace(text)
	for _, tag := range []string{"Campus", "Name", "Building", "BuildingStorey", "Level", "Space", "Area", "Volume", "Surface", "AdjacentSpaceId", "PlanarGeometry", "PolyLoop", "CartesianPoint", "Coordinate", "Opening"} {
		prefixed = strings.ReplaceAll(strings.ReplaceAll(prefixed, "<"+tag+">", "<g:"+tag+">"), "<"+tag+" ", "<g:"+tag+" ")
	}
	var packed bytes.Buffer
	z := zip.NewWriter(&packed)
	w, err := z.Create("model/house.xml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(plain); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"UTF-16 little, marked", wide(little, []byte{0xFF, 0xFE}), ""},
		{"UTF-16 big, marked", wide(big, []byte{0xFE, 0xFF}), ""},
		{"UTF-16 little, no mark", wide(little, nil), ""},
		{"UTF-8, marked", append([]byte{0xEF, 0xBB, 0xBF}, plain...), ""},
		{"says UTF-16, is UTF-8", []byte(strings.Replace(text, "UTF-8", "UTF-16", 1)), "says its encoding is UTF-16, but its bytes are UTF-8"},
		{"an accent in Windows-1252", []byte(strings.Replace(text, "Kitchen", "K\xfcche", 1)), "1 bytes are not valid UTF-8"},
		{"prefixed", []byte(prefixed), ""},
		{"no namespace", []byte(strings.Replace(text, ` xmlns="http://www.gbxml.org/schema"`, "", 1)), "the namespace is"},
		{"in one line", []byte(strings.ReplaceAll(text, "\n", " ")), ""},
		{"in a container", packed.Bytes(), ""},
	} {
		b := read(t, c.name, c.data)
		if got := strings.Replace(digest(b), "Küche", "Kitchen", 1); got != want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, want)
		}
		if c.says != "" && !says(b, c.says) {
			t.Errorf("%s: nothing says %q", c.name, c.says)
		}
	}
}

// digest is what a building holds, as text.
func digest(b *survey.Building) string {
	var out strings.Builder
	for _, s := range b.Spaces {
		fmt.Fprintf(&out, "%s %s %v %v; ", s.ID, s.Name, s.Stated, s.Storey.Name)
	}
	for _, f := range b.Faces {
		fmt.Fprintf(&out, "%s %s %v %d %d %.3f; ", f.ID, f.Kind, f.Behind, len(f.Spaces), len(f.Openings), f.Poly.AreaVector())
	}
	return out.String()
}

// surfaces wraps surfaces of one space into a file in metres.
func surfaces(inner string) []byte {
	return []byte(`<?xml version="1.0"?>
<gbXML xmlns="http://www.gbxml.org/schema" lengthUnit="Meters" areaUnit="SquareMeters" volumeUnit="CubicMeters" version="6.01"><Campus id="c"><Building id="b">
<Space id="s"><Name>Room</Name></Space></Building>
` + inner + `</Campus></gbXML>`)
}

func loop(coords ...float64) string {
	var b strings.Builder
	for i := 0; i+2 < len(coords); i += 3 {
		fmt.Fprintf(&b, "<CartesianPoint><Coordinate>%g</Coordinate><Coordinate>%g</Coordinate><Coordinate>%g</Coordinate></CartesianPoint>", coords[i], coords[i+1], coords[i+2])
	}
	return "<PolyLoop>" + b.String() + "</PolyLoop>"
}

// A wall that faces north (azimuth 0), 4 m wide, 2.5 m high; seen from outside its lower left corner is the east end. Want: an
// opening 1 m from that corner and 0.9 m up lies from x = 3 to x = 2, whichever way it is given.
func TestOpeningsOfAFace(t *testing.T) {
	const where = `<AdjacentSpaceId spaceIdRef="s"/><RectangularGeometry><Azimuth>0</Azimuth><CartesianPoint><Coordinate>4</Coordinate><Coordinate>3</Coordinate><Coordinate>0</Coordinate></CartesianPoint><Tilt>90</Tilt><Height>2.5</Height><Width>4</Width></RectangularGeometry>`
	wall := `<PlanarGeometry>` + loop(4, 3, 0, 0, 3, 0, 0, 3, 2.5, 4, 3, 2.5) + `</PlanarGeometry>`
	open := func(geometry string) string {
		return `<Opening id="o" openingType="FixedWindow">` + geometry + `</Opening>`
	}
	flat := `<RectangularGeometry><CartesianPoint><Coordinate>1</Coordinate><Coordinate>0.9</Coordinate><Coordinate>0</Coordinate></CartesianPoint><Width>1</Width><Height>1.2</Height></RectangularGeometry>`
	local := `<PlanarGeometry coordinatesAbsolute="false">` + loop(1, 0.9, 0, 2, 0.9, 0, 2, 2.1, 0, 1, 2.1, 0) + `</PlanarGeometry>`
	global := `<PlanarGeometry>` + loop(3, 3, 0.9, 2, 3, 0.9, 2, 3, 2.1, 3, 3, 2.1) + `</PlanarGeometry>`
	for name, inner := range map[string]string{
		"global polygon": wall + open(global), "local polygon": where[:len(`<AdjacentSpaceId spaceIdRef="s"/>`)] + wall + open(local), "rectangle in the wall": wall + open(flat),
		"wall as a rectangle": open(flat), "both": wall + open(flat+global),
	} {
		head := where
		if strings.HasPrefix(inner, "<AdjacentSpaceId") {
			head = ""
		}
		b := read(t, name, surfaces(`<Surface id="w" surfaceType="ExteriorWall">`+head+inner+`</Surface>`))
		if len(b.Faces) != 1 || len(b.Faces[0].Openings) != 1 {
			t.Errorf("%s: %d faces", name, len(b.Faces))
			continue
		}
		if a := b.Faces[0].Poly.AreaVector(); math.Abs(a.Y-10) > 1e-9 {
			t.Errorf("%s: the wall's area along +Y is %.3f m²", name, a.Y)
		}
		low, high := 99.0, -99.0
		for _, p := range b.Faces[0].Openings[0].Loop {
			low, high = min(low, p.X), max(high, p.X)
			if math.Abs(p.Y-3) > 1e-9 || p.Z < 0.9-1e-9 || p.Z > 2.1+1e-9 {
				t.Errorf("%s: a corner at %v", name, p)
			}
		}
		if math.Abs(low-2) > 1e-9 || math.Abs(high-3) > 1e-9 {
			t.Errorf("%s: from x = %.3f to %.3f", name, low, high)
		}
	}
}

// What each surfaceType says, by the schema's annotations (version 6.01), and what an unknown one becomes.
func TestKinds(t *testing.T) {
	for kind, want := range map[string]job.Behind{"ExteriorWall": job.Outside, "Roof": job.Outside, "ExposedFloor": job.Outside, "UndergroundWall": job.Ground,
		"SlabOnGrade": job.Ground, "InteriorWall": survey.Inside, "Air": survey.Nothing, "Shade": survey.Shading, "Hedge": survey.Unknown} {
		b := read(t, kind, surfaces(`<Surface id="w" surfaceType="`+kind+`"><AdjacentSpaceId spaceIdRef="s"/><PlanarGeometry>`+loop(0, 0, 0, 1, 0, 0, 1, 0, 1)+`</PlanarGeometry></Surface>`))
		if b.Faces[0].Behind != want {
			t.Errorf("%s: %q", kind, b.Faces[0].Behind)
		}
		if says(b, "none of the schema") != (kind == "Hedge") {
			t.Errorf("%s: findings %v", kind, b.Found.Sorted())
		}
	}
}

// Layers are listed from outside to inside; a survey's run from inside.
func TestConstruction(t *testing.T) {
	b := read(t, "layers.gbxml", file(t, "layers.gbxml"))
	var got []string
	for _, l := range b.Constructions[0].Layers {
		got = append(got, fmt.Sprintf("%s %.1f", l.Name, float64(l.Thickness)*1000))
	}
	if want := "Gypsum plasterboard 12.5, Mineral wool batt 200.0, Wood fibre board 40.0"; strings.Join(got, ", ") != want {
		t.Errorf("%v, want %s", got, want)
	}
	if b.Faces[5].Construction != b.Constructions[0] || b.Constructions[0].Layers[0].Lambda != 0.25 {
		t.Error("the wall lost its construction, or its layer its conductivity")
	}
}

// What cannot be read is refused with its place.
func TestRefused(t *testing.T) {
	for name, want := range map[string]string{"bad-entities.xml": ":2:88: the text declares entities", "bad-broken.gbxml": "not well-formed at byte 900"} {
		content := file(t, name)
		if _, err := gbxml.Read(name, bytes.NewReader(content), int64(len(content))); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for text, want := range map[string]string{"<html/>": "the root element is html", "": "no element gbXML", strings.Repeat("<gbXML>", 100): "nested more than"} {
		if _, err := gbxml.ReadText("x", strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: %v", text, err)
		}
	}
}

// FuzzRead: no panic; positions lie in the file; what is read is finite.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"two_rooms.gbxml", "attic.gbxml", "layers.gbxml", "bad-entities.xml", "units.gbxml"} {
		content, err := os.ReadFile(data + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(content)
	}
	f.Add([]byte("\xff\xfe<\x00g\x00"))
	f.Fuzz(func(t *testing.T, content []byte) {
		b, err := gbxml.Read("f", bytes.NewReader(content), int64(len(content)))
		if err != nil {
			return
		}
		for _, x := range b.Found.Sorted() {
			if x.Pos.Line > bytes.Count(content, []byte("\n"))+1 && !bytes.HasPrefix(content, []byte("PK")) && content[0] < 0xF0 {
				t.Fatalf("%v is outside the file", x.Pos)
			}
		}
		for _, x := range b.Faces {
			for _, p := range x.Poly.Loop {
				if !p.Finite() {
					t.Fatalf("%s has a corner at %v", x.ID, p)
				}
			}
		}
		if len(b.Faces)+len(b.Spaces) < 200 {
			survey.Take(b, survey.Limits{})
		}
	})
}
