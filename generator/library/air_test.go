package library_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/library"
)

// The tables of airtightness hang together: every element of the map is there and counted in the unit its amount has.
func TestAirTablesOfTheContent(t *testing.T) {
	var found diag.List
	air := library.LoadAir(library.Layers(content.FS, nil, nil, nil), &found)
	for _, f := range found.Sorted() {
		t.Error(f)
	}
	for _, kind := range []string{"other run", "other item", "open run", "open item", "opening window", "opening door"} {
		if k := air.Map.Find(kind); k == nil || k.Element == "" {
			t.Errorf("nothing stands for %q: a budget would leave it out", kind)
		}
	}
	if len(air.Limits) < 40 || len(air.Elements) < 40 || len(air.Openings.All()) < 10 {
		t.Errorf("%d limits, %d elements, %d openings", len(air.Limits), len(air.Elements), len(air.Openings.All()))
	}
}

const elementHead = "id,element,per,unit,low,expected,high,reference_pa,cd,exponent,published,note,source,status\n"

// A firm's own interim result takes the place of the planning value, and is known as its own.
func TestOwnElement(t *testing.T) {
	firm := fstest.MapFS{"tables/leakage-elements.csv": {Data: []byte(elementHead +
		"lap-taped,\"Sheet lap, taped\",m,m3/h,0.004,0.008,0.02,50,,0.65,three interim tests,,own tests of 2025,confirmed\n")}}
	var found diag.List
	air := library.LoadAir(library.Layers(content.FS, nil, firm, nil), &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	e, ok := air.Element("lap-taped")
	if got := float64(e.Expected.Flow) * 3600; !ok || got < 0.00799 || got > 0.00801 {
		t.Errorf("lap-taped is %v m³/h, want the firm's 0.008", got)
	}
	if !air.OwnElement("lap-taped") || air.OwnElement("edge-sealant") {
		t.Error("own elements are not told from built-in ones")
	}
}

// A row that names nothing, or counts in another unit, is a fault with its place.
func TestLeakageMapFaults(t *testing.T) {
	for row, want := range map[string]string{
		"cable-single,colar-taped,count,": `no leakage element "colar-taped"`,
		"cable-single,collar-taped,run,":  "counted per item, run gives m",
		"cable-single,collar-taped,many,": `unknown word "many"`,
		"cable-single,,,":                 `column "note" is empty`,
	} {
		firm := fstest.MapFS{"tables/leakage-map.csv": {Data: []byte("kind,element,amount,note\n" + row + "\n")}}
		var found diag.List
		library.LoadAir(library.Layers(content.FS, nil, firm, nil), &found)
		err := found.Err()
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "firm/tables/leakage-map.csv:2:") {
			t.Errorf("%s: got %v, want %s", row, err, want)
		}
	}
}
