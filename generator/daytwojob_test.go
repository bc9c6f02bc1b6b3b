package generator_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// The job of the second day with its invented records, to look at a handover that has something to hand over.
const dayTwoJob = "../testdata/jobs/daytwo"

// secondPipe came with the second issue of that job.
const secondPipe = "      - {id: P02, item: pipe, in: wall 2, at: [1300, 350], diameter: 22, serves: hot water}\n"

// dayTwoPack assembles that job, before the second issue or as it is.
func dayTwoPack(t *testing.T, first bool) (*assess.Results, pack.Pack) {
	t.Helper()
	src := demo(t)
	src.Firm, src.JobName = nil, "daytwo"
	files := kept(t, os.DirFS(dayTwoJob), nil)
	for name := range files {
		if strings.HasPrefix(name, "records/") {
			delete(files, name)
		}
	}
	if first {
		text := string(files["job.yaml"].Data)
		if strings.Count(text, secondPipe) != 1 {
			t.Fatal("the job has no second pipe to leave out")
		}
		files["job.yaml"] = &fstest.MapFile{Data: []byte(strings.Replace(text, secondPipe, "", 1))}
	}
	src.Job = files
	results, report, err := generator.Compute(context.Background(), generator.Options{Sources: src})
	if err != nil {
		t.Fatal(err, report.Findings)
	}
	pk, err := pack.Assemble(results, pack.Build{Version: "test", Findings: report.Findings})
	if err != nil {
		t.Fatal(err)
	}
	return results, pk
}

// site is the crew with its tablets.
type site struct {
	t     *testing.T
	words map[string][]record.Line // by seal
	each  []*tablet.Tablet
}

func (s *site) tablet(who string, n int, rev string) *tablet.Tablet {
	d := tablet.New(s.t, "26-052", n)
	d.Who, d.Rev = who, rev
	s.each = append(s.each, d)
	return d
}

// at sets a tablet's clock.
func at(d *tablet.Tablet, day, hour, minute int) {
	d.Clock = time.Date(2026, 5, day, hour, minute, 0, 0, time.FixedZone("", 2*3600))
}

// answer records what a check asks for: ticks yes, a plausible number, a picture, a signature.
func (s *site) answer(d *tablet.Tablet, c pack.Check, number string) {
	s.words[c.Seal] = c.Statement()
	for _, what := range strings.Split(c.Record, "+") {
		r := record.Record{Check: c.Key, Seal: c.Seal}
		switch what {
		case "tick":
			r.Kind, r.Value = record.Tick, "yes"
		case "number":
			r.Kind, r.Value, r.Unit = record.Reading, number, c.Unit
		case "photo":
			data := picture(s.t, c.QA)
			sum := sha256.Sum256(data)
			r.Kind, r.Value = record.Photo, hex.EncodeToString(sum[:])
			d.Photos[r.Value] = data
		case "signature":
			r.Kind, r.Name, r.Role = record.Sign, d.Who, "site lead"
			if who, ok := signers[c.Who]; ok {
				r.Name, r.Role = who, c.Who
			}
		}
		d.Keep(r)
	}
}

// picture draws what a camera might have seen of a check: sheet on studs with a taped seam, for holes with a collar. Invented.
func picture(t *testing.T, qa string) []byte {
	t.Helper()
	const w, h = 480, 360
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	hole := qa == "QA-22" || qa == "QA-21"
	for y := range h {
		for x := range w {
			c := color.RGBA{196, 204, 206, 255}
			if x%160 < 5 { // a stud's shadow
				c = color.RGBA{178, 186, 188, 255}
			}
			if n := len(qa) + int(qa[len(qa)-1]); y > 150+n%40 && y < 190+n%40 { // tape
				c = color.RGBA{92, 122, 110, 255}
			}
			if dx, dy := x-240, y-180; hole && dx*dx+dy*dy < 90*90 {
				c = color.RGBA{70, 84, 92, 255}
				if dx*dx+dy*dy < 30*30 {
					c = color.RGBA{210, 120, 70, 255}
				}
			}
			img.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 60}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// signers sign where a role other than the site lead does.
var signers = map[string]string{"tester": "Jorin Haltern", "other trade": "Malte Wennigsen"}

// numbers are what the readings of the day said, by check.
var numbers = map[string]string{"QA-02": "16", "QA-06": "17", "QA-07": "58", "QA-08": "19", "QA-10": "3", "QA-16": "100", "QA-19": "6", "QA-29": "26", "QA-32": "1.04", "QA-33": "0.3"}

// work is all the checks of a pack in working order, up to and with an activity.
func work(r *assess.Results, pk pack.Pack, scope, until string) []pack.Check {
	by := map[string]pack.Check{}
	for _, c := range pk.Checks {
		by[c.Key] = c
	}
	var out []pack.Check
	done := false
	for _, c := range r.ChecksIn(scope) {
		if done && c.Activity.ID != until {
			break
		}
		done = done || c.Activity.ID == until
		out = append(out, by[c.Key])
	}
	return out
}

// twoDays is what three tablets recorded on two days: the first issue of the pack on the first, the second from the evening on.
func twoDays(t *testing.T) *site {
	r, first := dayTwoPack(t, true)
	_, second := dayTwoPack(t, false)
	s := &site{t: t, words: map[string][]record.Line{}}
	arne, ida, lasse := s.tablet("Arne Vossholt", 0, first.Head.Revision), s.tablet("Ida Kremling", 1, first.Head.Revision), s.tablet("Lasse Brinkum", 2, first.Head.Revision)
	s.dayOne(r, first, arne, ida, lasse)
	s.dayTwo(r, first, second, ida, lasse)
	return s
}

func (s *site) dayOne(r *assess.Results, pk pack.Pack, arne, ida, lasse *tablet.Tablet) {
	at(lasse, 11, 7, 35)
	lasse.Keep(record.Record{V: 2, Kind: record.Start, Tool: "TH1", Fields: map[string]string{"air": "15.5", "rh": "58", "surface": "13", "timber": "17", "answer": "Yes, start."}})
	lasse.Keep(record.Record{V: 2, Kind: record.Goods, Place: "sheet-variable", Value: "C-2604", Fields: map[string]string{"amount": "3 rolls"}})
	lasse.Keep(record.Record{V: 2, Kind: record.Goods, Place: "tape-single-60", Value: "T-118", Fields: map[string]string{"useby": "2027-10-31", "amount": "10 rolls"}})
	lasse.Keep(record.Record{V: 2, Kind: record.Goods, Place: "adhesive-cartridge", Value: "B-07", Fields: map[string]string{"useby": "2026-04-30", "amount": "12 tubes"}, Text: "set apart, exchanged on 12 May"})
	for _, c := range work(r, pk, assess.JobScope, "brief") {
		if strings.HasPrefix(c.QA, "BRIEF") && !strings.HasSuffix(c.Key, "Lasse-Brinkum") {
			continue
		}
		s.answer(lasse, c, numbers[c.QA])
	}
	for n, d := range []*tablet.Tablet{arne, ida} {
		room := []string{"A1", "A2"}[n]
		at(d, 11, 8, 5)
		for _, c := range work(r, pk, assess.JobScope, "brief") {
			if strings.HasSuffix(c.Key, strings.ReplaceAll(d.Who, " ", "-")) {
				s.answer(d, c, "")
			}
		}
		s.room(r, pk, room, d, lasse)
	}
	for _, c := range work(r, pk, assess.StoreyScope("0"), "windows") {
		s.answer(lasse, c, "")
	}
	at(arne, 11, 16, 40)
	arne.Keep(record.Record{V: 2, Kind: record.Work, Place: "A1", Value: "95", Unit: "min", Fields: map[string]string{"kind": "field-sheet-hang"}})
	arne.Keep(record.Record{V: 2, Kind: record.Work, Place: "A1", Value: "40", Unit: "min", Fields: map[string]string{"kind": "wall-floor-concrete", "places": "2"}})
	at(lasse, 11, 16, 50)
	lasse.Keep(record.Record{V: 2, Kind: record.Day, Value: "2026-05-11", Name: "Lasse Brinkum", Fields: map[string]string{"crew": "2 fitters, site lead", "hours": "24", "minutes": "930", "climate": "15 °C, 58 %, dry", "done": "A1 and A2 hung, laps taped, floor edges", "blocked": "A1-P04: two cables 45 mm apart"}})
}

// room is a room's day: the fitter's own checks on the fitter's tablet, those of the site lead on the lead's.
func (s *site) room(r *assess.Results, pk pack.Pack, room string, fitter, lead *tablet.Tablet) {
	for _, c := range work(r, pk, room, "inspection") {
		d := fitter
		if c.Who != "fitter" {
			d = lead
		}
		s.answer(d, c, numbers[c.QA])
		if c.QA == "QA-06" { // the meter was past its date: kept and flagged
			last := &d.Records[len(d.Records)-1]
			*last = record.Record{}
			d.Records = d.Records[:len(d.Records)-1]
			d.Keep(record.Record{V: 2, Kind: record.Reading, Check: c.Key, Seal: c.Seal, Value: numbers[c.QA], Unit: c.Unit, Tool: "MM1"})
		}
		if c.QA == "QA-08" && room == "A2" { // the first strip of tape came off
			low := d.Keep(record.Record{Kind: record.Reading, Check: c.Key, Seal: c.Seal, Value: "9", Unit: c.Unit})
			bad := d.Keep(record.Record{Kind: record.Defect, Check: c.Key, Seal: c.Seal, Value: "from a check", Place: c.Places[0], Severity: "medium", Cause: "substrate", Text: c.Title + ": " + low.Value + " N is out of range"})
			d.Keep(record.Record{Kind: record.Defect, Of: bad.ID, Check: c.Key, Value: "closed", Place: c.Places[0], Text: "slab edge primed, tried again after an hour"})
			d.Keep(record.Record{Kind: record.Reading, Check: c.Key, Seal: c.Seal, Value: "22", Unit: c.Unit})
		}
	}
}

func (s *site) dayTwo(r *assess.Results, first, second pack.Pack, ida, lasse *tablet.Tablet) {
	at(ida, 12, 9, 10)
	rows := stripsOf(first)
	strip := rows["A2-C1/1"]
	was := 0
	if _, err := fmt.Sscanf(strip.Clear, "%d mm", &was); err != nil {
		s.t.Fatalf("the strip %+v has no clear length", strip)
	}
	s.words[strip.Seal] = strip.Statement()
	ida.Keep(record.Record{V: 2, Kind: record.Cut, Check: strip.Key, Seal: strip.Seal, Place: strip.Strip, Value: fmt.Sprint(was + 18), Unit: "mm"})
	ida.Keep(record.Record{Kind: record.Defect, Place: "A2-W2", Severity: "minor", Cause: "other trade", Text: "scratch beside the pipes, to be taped"})
	at(lasse, 12, 13, 50)
	for _, c := range work(r, first, assess.ZoneScope(r.Zones()[0]), "interim-test") {
		if c.QA != "QA-41" {
			s.answer(lasse, c, numbers[c.QA])
		}
	}
	for _, p := range first.Pages {
		if p.Room == nil {
			continue
		}
		for _, spot := range p.Room.Spots {
			s.words[spot.Seal] = spot.Statement()
			lasse.Keep(record.Record{V: 2, Kind: record.Settle, Check: spot.Key, Seal: spot.Seal, Place: spot.ID, Name: "Bente Ruhwald", Role: "electrician", Text: "Lamp cable moved 120 mm to the left, each cable has its own collar."})
		}
	}
	lasse.Keep(record.Record{V: 2, Kind: record.Day, Value: "2026-05-12", Name: "Lasse Brinkum", Fields: map[string]string{"crew": "2 fitters, site lead, tester", "hours": "20", "minutes": "610", "climate": "16 °C, 55 %, dry", "done": "openings, collars, interim test", "blocked": "nothing"}})
	lasse.Rev = second.Head.Revision
	at(lasse, 13, 8, 15)
	for _, c := range second.Checks { // the collar of the second pipe was seen before the issue was written
		if c.Key != "A2/QA-22/pipe-small" {
			continue
		}
		s.words[c.Seal] = c.Statement()
		var covers []string
		for _, r := range lasse.Records {
			if r.Check == c.Key {
				covers = append(covers, r.Hash)
			}
		}
		lasse.Keep(record.Record{V: 2, Kind: record.Stand, Check: c.Key, Seal: c.Seal, Name: "Lasse Brinkum", Reason: "both pipes stood and had their collars when it was checked", Covers: covers})
	}
}

// TestDayTwoJob: the records in the folder of the job of the second day are whole, and its handover shows what such a day
// leaves. With -update they are made anew against the words of today; words that changed since only show as superseded.
func TestDayTwoJob(t *testing.T) {
	if *update {
		writeDayTwo(t, twoDays(t))
	}
	journal, found := record.Load(os.DirFS(dayTwoJob))
	if n := found.Sorted(); len(n) != 0 || len(record.Heads(journal.Records)) != 3 || len(journal.Photos) == 0 {
		t.Fatalf("%d tablets, %d photos, %v", len(record.Heads(journal.Records)), len(journal.Photos), n)
	}
	out := filepath.Join(t.TempDir(), "pack")
	src := demo(t)
	src.Firm, src.Job, src.JobName = nil, os.DirFS(dayTwoJob), "daytwo"
	if _, err := generator.Generate(context.Background(), generator.Options{Sources: src, Out: out, Handover: true, Version: "test"}); err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile(filepath.Join(out, "handover.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Arne Vossholt", "Ida Kremling", "Lasse Brinkum", "past its calibration date 2026-05-04", "scratch beside the pipes", "slab edge primed", "A2-C1/1",
		"settled on site by Bente Ruhwald", "past its date when it came", "data:image/jpeg", "checks are not answered."} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the handover does not say %q", want)
		}
	}
	holesUnderTheirRoom(t, string(page))
}

// holesUnderTheirRoom: the holes of a room stand under the room's heading, so their rows do not name it once more; each leads
// to its place on the room's pages.
func holesUnderTheirRoom(t *testing.T, page string) {
	t.Helper()
	tables := strings.Split(page, `aria-label="Holes through the layer"`)[1:]
	if len(tables) == 0 {
		t.Fatal("the handover lists no holes")
	}
	for _, table := range tables {
		table, _, _ = strings.Cut(table, "</table>")
		head, rows, _ := strings.Cut(table, "</thead>")
		if strings.Contains(head, "<th>Room</th>") {
			t.Error("a column says the same room in every row")
		}
		columns := strings.Count(head, "<th>")
		for row := range strings.SplitSeq(strings.TrimSuffix(strings.TrimSpace(strings.TrimPrefix(rows, "<tbody>")), "</tbody>"), "</tr>") {
			if row = strings.TrimSpace(row); row != "" && (strings.Count(row, "<td") != columns || !strings.Contains(row, `<td class="id"><a href="rooms/`)) {
				t.Errorf("%d columns and the row %s", columns, row)
			}
		}
	}
}

// TestTwoDays is the same made anew: every answer stands but those to the check that the second pipe changed, and no record
// stands on a check that is gone.
func TestTwoDays(t *testing.T) {
	s := twoDays(t)
	j := record.Journal{Statements: s.words}
	for _, d := range s.each {
		j.Records = record.Merge(j.Records, d.Records)
	}
	if found := record.Verify(j.Records); len(found.Sorted()) != 0 {
		t.Fatal(found.Sorted())
	}
	r, _ := dayTwoPack(t, false)
	pk, err := pack.Assemble(r, pack.Build{Journal: j})
	if err != nil {
		t.Fatal(err)
	}
	v := pageOf(t, pk, pack.KindChanges).Changes
	if len(v.Gone) != 0 {
		t.Errorf("gone: %+v", v.Gone)
	}
	changed := map[string]bool{}
	for _, room := range v.Rooms {
		for _, row := range room.Rows {
			changed[row.Title] = row.Open
			if !strings.Contains(row.What, "A2-P02") {
				t.Errorf("%s: %s", row.Title, row.What)
			}
		}
	}
	if open, ok := changed["QA-22 Collars"]; !ok || open || len(changed) < 2 {
		t.Errorf("changed, and open: %v", changed)
	}
}

// writeDayTwo keeps the records as gather does.
func writeDayTwo(t *testing.T, s *site) {
	t.Helper()
	if err := os.RemoveAll(filepath.Join(dayTwoJob, record.Folder)); err != nil {
		t.Fatal(err)
	}
	store := record.At(dayTwoJob)
	for _, d := range s.each {
		export, found := record.Parse("day two", d.Export(1))
		if found.Err() != nil {
			t.Fatal(found.Err())
		}
		export.Words = s.words
		export, found = record.Terms{Pack: d.Pack, Now: d.Clock.Add(48 * time.Hour)}.Admit("day two", export)
		if found.Err() != nil {
			t.Fatal(found.Err())
		}
		if _, err := store.Add(export); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(filepath.Join(dayTwoJob, record.Folder, "unfinished")); err != nil {
		t.Fatal(err)
	}
}
