package generator_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/jobfile"
	"lapwork/generator/library"
	"lapwork/generator/pack"
)

// asIs is the demo without edits, assembled once for the tests that read it.
var asIs struct {
	once    sync.Once
	results *assess.Results
	pack    pack.Pack
}

// dayTwo assembles the demo after replacing texts in its files: file, old, new.
func dayTwo(t *testing.T, edits ...[3]string) (*assess.Results, pack.Pack) {
	t.Helper()
	if len(edits) > 0 {
		return assembled(t, edits)
	}
	asIs.once.Do(func() { asIs.results, asIs.pack = assembled(t, nil) })
	if asIs.results == nil {
		t.Fatal("the demo could not be assembled")
	}
	return asIs.results, asIs.pack
}

func assembled(t *testing.T, edits [][3]string) (*assess.Results, pack.Pack) {
	t.Helper()
	src := demo(t)
	job := fstest.MapFS{}
	err := fs.WalkDir(src.Job, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(src.Job, path)
		for _, e := range edits {
			if e[0] == path {
				if bytes.Count(data, []byte(e[1])) == 0 {
					t.Fatalf("%s has no %q", path, e[1])
				}
				data = bytes.ReplaceAll(data, []byte(e[1]), []byte(e[2]))
			}
		}
		job[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	src.Job = job
	results, report, err := generator.Compute(context.Background(), generator.Options{Sources: src})
	if err != nil {
		t.Fatal(err)
	}
	pk, err := pack.Assemble(results, pack.Build{Version: "test", Findings: report.Findings})
	if err != nil {
		t.Fatal(err)
	}
	return results, pk
}

func pageOf(t *testing.T, pk pack.Pack, kind pack.Kind) pack.Page {
	t.Helper()
	i := slices.IndexFunc(pk.Pages, func(p pack.Page) bool { return p.Kind == kind })
	if i < 0 {
		t.Fatalf("no page %s", kind)
	}
	return pk.Pages[i]
}

// standing counts where each penetration stands: "electrician", "electrician cavity", "rest".
func standing(v *pack.Trades) map[string][]string {
	at := map[string][]string{}
	put := func(where string, rows []pack.TradeRow) {
		for _, r := range rows {
			at[r.ID] = append(at[r.ID], where)
		}
	}
	for _, s := range v.Sections {
		put(s.ID, s.Holes)
		put(s.ID+" cavity", s.Cavity)
	}
	put("rest", v.Rest)
	return at
}

// Every penetration of the job stands with one trade or with none, at the place the job states; hot ones with licensed
// persons; what stays in the cavity under its depth.
func TestEveryHoleHasOneTrade(t *testing.T) {
	results, pk := dayTwo(t,
		[3]string{"rooms/ground.yaml", "item: cable, in: wall 3, at: [300, 2200], diameter: 8, serves: awning", "item: lightning-conductor, in: wall 3, at: [300, 2200], diameter: 8, serves: roof"},
		[3]string{"rooms/ground.yaml", "diameter: 18, serves: garden tap", "diameter: 18, hot: yes, serves: steam bath"})
	v := pageOf(t, pk, pack.KindTrades).Trades
	at := standing(v)
	n := 0
	for _, room := range results.Job.Rooms {
		for _, p := range room.Penetrations {
			n++
			where := at[string(p.ID)]
			if len(where) != 1 {
				t.Errorf("%s (%s) stands with %v", p.ID, p.Item, where)
				continue
			}
			want := map[string]string{"flue": "licensed", "gas-pipe": "licensed", "duct": "ventilation", "soil-pipe": "plumber", "lightning-conductor": "rest", "cable": "electrician"}[p.Item]
			if p.Hot {
				want = "licensed"
			}
			if want != "" && where[0] != want {
				t.Errorf("%s (%s) stands with %s, not with %s", p.ID, p.Item, where[0], want)
			}
		}
	}
	if n < 30 || len(at) != n {
		t.Errorf("%d penetrations, %d rows", n, len(at))
	}
	// A6-P03: a box in wall 2, whose face new-wall states a cavity of 50 mm. A5-P04: a lamp in a ceiling without cavity.
	for id, want := range map[string]string{"A6-P03": "50 mm deep at most", "A5-P04": "no cavity yet"} {
		if got := rowOf(v, id).Clear; got != want || at[id][0] != "electrician cavity" {
			t.Errorf("%s: %q with %v", id, got, at[id])
		}
	}
	// C2-P01 as stated: in the ceiling at [2700, 5200], 110 mm.
	if r := rowOf(v, "C2-P01"); r.Left != "2700 mm" || r.Up != "5200 mm" || r.Size != "Ø 110 mm" || r.Surface != "C2-C1" {
		t.Errorf("C2-P01: %+v", r)
	}
}

func rowOf(v *pack.Trades, id string) pack.TradeRow {
	for _, s := range v.Sections {
		for _, rows := range [][]pack.TradeRow{s.Holes, s.Cavity, s.Openings, s.Members} {
			for _, r := range rows {
				if r.ID == id {
					return r
				}
			}
		}
	}
	return pack.TradeRow{}
}

var surfaceID = regexp.MustCompile(`[A-Z]\d+-[-A-Z0-9]+`)

// The boarders' longest screw is the handover's, surface by surface. One by hand: face new-wall states a lining of 15 and
// a cavity of 50 mm, less a margin of 5 mm = 60 mm.
func TestScrewsAgree(t *testing.T) {
	_, pk := dayTwo(t)
	handover := map[string]string{}
	for _, r := range pageOf(t, pk, pack.KindHandover).Handover.Rooms {
		for _, f := range r.Facts {
			if rest, ok := strings.CutPrefix(f.Label, "Longest screw in "); ok {
				for _, id := range surfaceID.FindAllString(rest, -1) {
					handover[id] = f.Value
				}
			}
		}
	}
	rows := 0
	for _, s := range pageOf(t, pk, pack.KindTrades).Trades.Sections {
		for _, r := range s.Screws {
			rows++
			if want, ok := handover[r.Surface]; ok && want != r.Longest || !ok && r.Longest != "ask" {
				t.Errorf("%s: boarders read %q, the handover says %q", r.Surface, r.Longest, want)
			}
			delete(handover, r.Surface)
		}
	}
	if rows < 20 || len(handover) > 0 {
		t.Errorf("%d rows; only in the handover: %v", rows, handover)
	}
	for _, s := range pageOf(t, pk, pack.KindTrades).Trades.Sections {
		for _, r := range s.Screws {
			if r.Surface == "A6-W2" && r.Longest != "60 mm" {
				t.Errorf("A6-W2: %s", r.Longest)
			}
		}
	}
}

// Nothing on the sheets for others is without a room of the job.
func TestDayTwoNamesRooms(t *testing.T) {
	results, pk := dayTwo(t)
	known := map[string]bool{}
	for _, r := range results.Job.Rooms {
		known[string(r.ID)] = true
	}
	check := func(id, room string) {
		if !known[room] || !strings.HasPrefix(id, room) {
			t.Errorf("%q stands under room %q", id, room)
		}
	}
	v := pageOf(t, pk, pack.KindTrades).Trades
	for _, s := range v.Sections {
		for _, r := range slices.Concat(s.Holes, s.Cavity, s.Openings, s.Members) {
			check(r.ID, r.Room)
			check(r.Surface, r.Room)
		}
		for _, r := range s.Screws {
			check(r.Surface, r.Room)
		}
	}
	for _, g := range pageOf(t, pk, pack.KindLate).Late.Groups {
		for _, r := range g.Rows {
			check(r.ID, r.Room)
		}
	}
}

// What is installed in the early activities, and every backing strip, is on the list once; nothing that the programme
// plans after it is too late.
func TestNothingBuriedIsForgotten(t *testing.T) {
	// With framing 1450 mm apart and a roll of 1500 mm, less the lap, no seam of an upright layout reaches the next line.
	results, pk := dayTwo(t, [3]string{"faces.yaml", "framing: {spacing: 600}", "direction: upright\n    framing: {spacing: 1450}"}, [3]string{"faces.yaml", "new-partition: {behind: heated, layer: none, substrate: plasterboard, direction: upright\n    framing: {spacing: 1450}}", "new-partition: {behind: heated, layer: none, substrate: plasterboard}"})
	want := map[string]int{}
	backing := 0
	for _, p := range results.Places {
		if a := p.Chosen.Activity; a == "early-strips" || a == "blocking" || p.Record.Stands == "after" {
			want[p.Record.ID]++
		}
	}
	for _, l := range results.Layouts {
		want[string(l.Surface.ID)] += len(l.Backing)
		backing += len(l.Backing)
	}
	if backing == 0 || len(want) < 10 {
		t.Fatalf("%d backing strips, %d ids: nothing is tried", backing, len(want))
	}
	got := map[string]int{}
	steps := map[string]*assess.Step{}
	for _, s := range results.Programme.Steps {
		for _, room := range s.Scope.Rooms {
			steps[s.Activity.Title+"@"+string(room.ID)] = s
		}
	}
	for _, g := range pageOf(t, pk, pack.KindLate).Late.Groups {
		if g.Before == "" || g.Event == "" {
			t.Errorf("group without its end: %+v", g)
		}
		for _, r := range g.Rows {
			if r.ID != r.Room { // whole rooms stand beside
				got[r.ID]++
			}
			do, before := steps[g.Do+"@"+r.Room], steps[g.Before+"@"+r.Room]
			if do == nil || before == nil || r.Planned == "" || r.Latest == "" {
				t.Fatalf("%s: no step for %q or %q", r.ID, g.Do, g.Before)
			}
			if do.Slot.Finish > before.Slot.Start {
				t.Errorf("%s is done after %s has begun", r.ID, g.Before)
			}
		}
	}
	for id, n := range want {
		if got[id] != n {
			t.Errorf("%s: %d rows, want %d", id, got[id], n)
		}
	}
	for id := range got {
		if want[id] == 0 {
			t.Errorf("%s is listed and not asked for", id)
		}
	}
}

// A bench sheet's running remainder falls by each cut, and ends at what is left on the roll.
func TestRunningRemainder(t *testing.T) {
	results, pk := dayTwo(t)
	d := 0
	for _, delivery := range results.Deliveries {
		rolls := pageOf(t, pk, pack.KindCutting).Cutting.Deliveries[d].Rolls
		d++
		n := 0
		for _, s := range delivery.Sheets {
			for _, roll := range s.Rolls {
				rest, view := roll.Length, rolls[n]
				n++
				for i, c := range roll.Sequence() {
					if c.OffcutOf == "" {
						rest -= c.Cut
					}
					if got := strings.NewReplacer("\u2009", "", "\u202f", "", "\u00a0", " ").Replace(view.Cuts[i].Left); got != fmt.Sprintf("%d mm", rest) {
						t.Errorf("roll %d after %s: %q, want %d mm", roll.No, c.ID, got, rest)
					}
				}
				if len(view.Cuts) > 0 && view.Cuts[len(view.Cuts)-1].Left != view.Remainder {
					t.Errorf("roll %d ends with %q, left %q", roll.No, view.Cuts[len(view.Cuts)-1].Left, view.Remainder)
				}
			}
		}
	}
}

// Each item that a job may state has a trade, but for those that are settled for each job (common practice, no source).
func TestEveryItemHasATrade(t *testing.T) {
	data := jobfile.Schema()
	var schema struct {
		Defs map[string]struct {
			Properties struct{ Item struct{ Enum []string } }
		} `json:"$defs"`
	}
	if err := json.Unmarshal(data, &schema); err != nil {
		t.Fatal(err)
	}
	items := schema.Defs["penetration"].Properties.Item.Enum
	if len(items) < 10 {
		t.Fatalf("the schema names %d items", len(items))
	}
	var found diag.List
	lib := library.Load(content.FS, nil, nil, &found)
	apart := []string{"bracket", "sprinkler-pipe", "lightning-conductor"}
	for _, item := range items {
		if has := lib.TradeOf(item, false) != nil; has == slices.Contains(apart, item) {
			t.Errorf("%s: a trade takes it: %v", item, has)
		}
		if trade := lib.TradeOf(item, true); trade == nil || !trade.Hot {
			t.Errorf("%s, hot, stands with %v", item, trade)
		}
	}
}
