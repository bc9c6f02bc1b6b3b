package roomlist

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"lapwork/generator/job"
	"lapwork/generator/survey"
)

const data = "../../../testdata/survey/"

func read(t *testing.T, name string, content []byte) *survey.Building {
	t.Helper()
	b, err := Read(name, bytes.NewReader(content), int64(len(content)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// brief is a room as text: sides, height, storey, slopes, outside walls.
func brief(b *survey.Building) string {
	var out []string
	for _, s := range b.Spaces {
		c := s.Shape.Corners
		line := fmt.Sprintf("%s %s %.3f x %.3f x %.3f", s.Number, s.Name, c[1].X-c[0].X, c[2].Y-c[1].Y, float64(s.Shape.Height))
		if len(b.Storeys) > 1 {
			line += " on " + s.Storey.Name
		}
		for _, x := range s.Shape.Slopes {
			line += fmt.Sprintf(" slope %d %.3f %.1f", x.Wall, float64(x.Height), float64(x.Pitch))
		}
		for w := 1; w <= 4; w++ {
			if s.Shape.Walls[w] == job.Outside {
				line += fmt.Sprintf(" out%d", w)
			}
		}
		if len(s.Shape.Walls) > 0 && !strings.Contains(line, " out") {
			line += " inside"
		}
		out = append(out, strings.TrimSpace(line))
	}
	return strings.Join(out, "\n")
}

// Want: the figures of the lists, by definition 1 ft = 0.3048 m, 1 in = 0.0254 m (1959).
func TestArrangements(t *testing.T) {
	for _, c := range []struct{ name, file, text, want string }{
		{"German, storeys as rows", "rooms_de.csv", "", "1 Küche 4.200 x 3.000 x 2.500 on Erdgeschoss out1 out4\n2 Wohnen 5.600 x 4.100 x 2.500 on Erdgeschoss out2 out3\n" +
			"3 Kammer 4.200 x 3.000 x 2.400 on Dachgeschoss slope 1 1.000 42.0 out1 out2 out3 out4"},
		{"feet and inches, several of one", "rooms_feet.csv", "", "Hall 3.810 x 2.438 x 2.489 on Ground floor\nBedroom 1 4.267 x 3.505 x 2.438 on First floor\nBedroom 2 4.267 x 3.505 x 2.438 on First floor"},
		{"across", "rooms_across.csv", "", "Kitchen 4.000 x 3.000 x 2.500 out1 out4\nStudy 3.000 x 3.000 x 2.500 out1 out2\nBath 2.100 x 1.900 x 2.400 inside"},
		{"area only", "", "Name,Area\nCell,16\n", "Cell 4.000 x 4.000 x 0.000"},
		{"area and one side", "", "Name,Area m²,Width [cm]\nCell,16,320\n", "Cell 5.000 x 3.200 x 0.000"},
		{"area and ratio", "", "Name;Area;Ratio\nCell;16;0,25\n", "Cell 8.000 x 2.000 x 0.000"},
		{"area and volume", "", "Name,Area,Volume\nCell,16,40\n", "Cell 4.000 x 4.000 x 2.500"},
		{"tabs, millimetres by size", "", "Room\tLength\tWidth\tHeight\nCell\t4000\t3000\t2500\n", "Cell 4.000 x 3.000 x 2.500"},
		{"French", "", "Pièce;Longueur (m);Largeur (m);Hauteur sous plafond (m);Étage\nChambre;4,5;3;2,5;RDC\n", "Chambre 4.500 x 3.000 x 2.500"},
		{"Polish", "", "Nazwa,Powierzchnia (m2),Wysokość (m)\nPokój,9,2.6\n", "Pokój 3.000 x 3.000 x 2.600"},
		{"Spanish", "", "Estancia,Largo (m),Ancho (m),Altura (m)\nSala,5,4,2.6\n", "Sala 5.000 x 4.000 x 2.600"},
		{"thousands", "", "Name;Länge (mm);Breite (mm)\nHalle;12.500;1.234,5\n", "Halle 12.500 x 1.234 x 0.000"},
		// 16' 4 1/2" = 196.5 in, 11' 3 3/4" = 135.75 in, 200.6 sq ft = 18.636 m²; 2 × (6 + 3.5) = 19 m round 21 m²; 40.5 m round
		// 92.3 m²: 10.125 ± √(10.125² − 92.3).
		{"feet, inches and fractions", "", "Room,Length,Width,Height\nLiving,\"16'-4 1/2\"\"\",\"11' 3 3/4\"\"\",8'6\nBath,6′ 6½″,5 ft,90 in\n", "Living 4.991 x 3.448 x 2.591\nBath 1.994 x 1.524 x 2.286"},
		{"area of a list in feet", "", "Room,Width,Height,Area\nLiving,12' 3\",8',200.6\n", "Living 4.991 x 3.734 x 2.438"},
		{"thousands with marks", "", "Name;Länge (mm);Breite (mm)\nHalle;12'500;1'250\n", "Halle 12.500 x 1.250 x 0.000"},
		{"area and perimeter", "", "Raum;Umfang [m];Fläche [m²]\nKüche;19;21\nSaal;40,5;92,3\nEng;8;9\nRund;11,99;9\n", "Küche 6.000 x 3.500 x 0.000\nSaal 13.321 x 6.929 x 0.000\nEng 3.000 x 3.000 x 0.000\nRund 3.000 x 3.000 x 0.000"},
		{"units in the cells", "", "Name,Length,Width,Height\nCell,4 m,300 cm,2400 mm\n", "Cell 4.000 x 3.000 x 2.400"},
	} {
		content := []byte(c.text)
		if c.file != "" {
			var err error
			if content, err = os.ReadFile(data + c.file); err != nil {
				t.Fatal(err)
			}
		}
		if got := brief(read(t, c.name, content)); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// A room that stands twice is told, by its number or by the whole row; so is a perimeter too short for its area.
func TestTwiceAndShort(t *testing.T) {
	b := read(t, "twice.csv", []byte("No,Name,Storey,Length (m),Width (m),Area (m²),Perimeter (m),Height (m)\n1,Hall,0,4,3,12,14,2.5\n1,Hall,0,4,3,12,14,2.5\n1,Hall,1,4,3,12,14,2.5\n"+
		",Bath,1,2,2,4,8,2.5\n,Bath,1,2,2,4,8,2.5\n2,Store,1,,,9,8,2.5\n"))
	var text []string
	for _, f := range b.Found.Sorted() {
		text = append(text, f.Msg)
	}
	got := strings.Join(text, "\n")
	for _, want := range []string{"an earlier row: 2; each was taken as a room of its own (row 3 = 2, 6 = 5)", `cell G7 holds "8" where at least 12.00 m round its area`} {
		if !strings.Contains(got, want) {
			t.Errorf("%s\nlacks %s", got, want)
		}
	}
	if len(b.Spaces) != 6 || len(text) != 2 {
		t.Errorf("%d rooms, %d findings: %s", len(b.Spaces), len(text), got)
	}
}

// A bad cell is named by sheet and cell, and its position is that of the cell.
func TestBadCells(t *testing.T) {
	book := excelize.NewFile()
	for cell, value := range map[string]any{"A1": "Rooms of the mill", "A3": "No", "B3": "Name", "C3": "Length (m)", "D3": "Width (m)", "E3": "Height (m)",
		"A4": 1, "B4": "Hall", "C4": 4.2, "D4": 3.1, "E4": 2.5, "A5": 2, "B5": "Store", "C5": 3.0, "D5": 2.0, "E5": "high", "A6": 3, "B6": "Shed", "C6": -3, "D6": 2, "E6": 2.4} {
		if err := book.SetCellValue("Sheet1", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	if err := book.SetSheetName("Sheet1", "Rooms"); err != nil {
		t.Fatal(err)
	}
	if _, err := book.NewSheet("Notes"); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := book.Write(&out); err != nil {
		t.Fatal(err)
	}
	b := read(t, "mill.xlsx", out.Bytes())
	if got, want := brief(b), "1 Hall 4.200 x 3.100 x 2.500\n2 Store 3.000 x 2.000 x 0.000"; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if math.Abs(b.Spaces[0].Shape.Corners[1].X-4.2) > 1e-12 {
		t.Errorf("the length is %v: figures are read as stored", b.Spaces[0].Shape.Corners[1].X)
	}
	var found []string
	for _, f := range b.Found.Sorted() {
		found = append(found, f.Pos.String()+": "+f.Msg)
	}
	all := strings.Join(found, "\n")
	for _, want := range []string{`mill.xlsx!Rooms:5:5: cell Rooms!E5 holds "high"`, `mill.xlsx!Rooms:6:3: cell Rooms!C6 holds "-3"`} {
		if !strings.Contains(all, want) {
			t.Errorf("no finding %q in\n%s", want, all)
		}
	}
	if text := strings.Join(b.Columns, "\n"); !strings.Contains(text, `column Rooms!C, "Length (m)": length, in m`) {
		t.Errorf("the columns are explained as\n%s", text)
	}
}

// A word of a title means one thing only.
func TestTitlesAreUnique(t *testing.T) {
	seen := map[string]field{}
	for f, words := range titles {
		if fieldWords[f] == "" {
			t.Errorf("field %d has no word for it", f)
		}
		for _, w := range words {
			if other, twice := seen[w]; twice {
				t.Errorf("%q is both %s and %s", w, fieldWords[other], fieldWords[f])
			}
			seen[w] = f
		}
	}
}

// Want: heights of rooms lie from 2 to 6 m; 2400 cannot be metres (both lists of the samples), 240 is centimetres.
func TestGuess(t *testing.T) {
	for _, c := range []struct {
		values []float64
		unit   string
		sure   bool
	}{{[]float64{2400, 2700, 0}, "mm", true}, {[]float64{240, 270}, "cm", true}, {[]float64{2.4, 2.7}, "m", true}, {[]float64{4, 5, 6}, "m", true}, {[]float64{8, 9}, "m", false}, {nil, "m", true}} {
		if unit, sure := guess(c.values); unit != c.unit || sure != c.sure {
			t.Errorf("%v: %s, sure %v", c.values, unit, sure)
		}
	}
}

// What is no list is refused.
func TestRefused(t *testing.T) {
	for _, text := range []string{"", "hello\nworld\n", "a,b,c\n1,2,3\n", "Name,Colour\nHall,red\n"} {
		if _, err := Read("x.csv", strings.NewReader(text), int64(len(text))); err == nil || !strings.Contains(err.Error(), "no header of a room list") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A workbook that is locked with a password or of the old binary kind begins as a compound document, and is named as such.
func TestLockedOrOldBook(t *testing.T) {
	data := "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1" + strings.Repeat("\x00", 600)
	if _, err := Read("rooms.xls", strings.NewReader(data), int64(len(data))); err == nil || !strings.Contains(err.Error(), "rooms.xls: this workbook is locked") {
		t.Error(err)
	}
}

// A workbook of more rows than a room list has is refused; one with formats down to the last row of a sheet is not.
func TestLongBooks(t *testing.T) {
	book := excelize.NewFile()
	for cell, value := range map[string]any{"A1": "Name", "B1": "Area", "A2": "Cell", "B2": 16} {
		if err := book.SetCellValue("Sheet1", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	save := func() []byte {
		var out bytes.Buffer
		if err := book.Write(&out); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err == nil {
		err = book.SetCellStyle("Sheet1", "A30000", "A30000", bold)
	}
	if err != nil {
		t.Fatal(err)
	}
	if got := brief(read(t, "x.xlsx", save())); got != "Cell 4.000 x 4.000 x 0.000" {
		t.Error(got)
	}
	if err := book.SetCellValue("Sheet1", "A20001", "x"); err != nil {
		t.Fatal(err)
	}
	data := save()
	if _, err := Read("x.xlsx", bytes.NewReader(data), int64(len(data))); err == nil || !strings.Contains(err.Error(), "more than 20000 rows: cell A20001") {
		t.Error(err)
	}
}

// FuzzRead: no panic; rooms have finite sides that a room can have; every room of a row has its own id.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"rooms_de.csv", "rooms_feet.csv", "rooms_across.csv"} {
		content, err := os.ReadFile(data + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(content)
	}
	f.Add([]byte("Name,Area,Quantity\nA,1e9,500\n\"B\nC\",9,-1\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		b, err := Read("f", bytes.NewReader(content), int64(len(content)))
		if err != nil {
			return
		}
		ids := map[string]bool{}
		for _, s := range b.Spaces {
			if ids[s.ID] {
				t.Fatalf("two rooms have the id %q", s.ID)
			}
			ids[s.ID] = true
			c := s.Shape.Corners
			for _, d := range []float64{c[1].X - c[0].X, c[2].Y - c[1].Y} {
				if !(d >= 0.099 && d <= 1001) {
					t.Fatalf("%q has a side of %v m", s.ID, d)
				}
			}
		}
	})
}
