package generator_test

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/pack"
	q "lapwork/generator/quantity"
	"lapwork/generator/record"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// stripsOf are the strips of the demo as its pages state them, by id.
func stripsOf(pk pack.Pack) map[string]pack.CutRow {
	out := map[string]pack.CutRow{}
	for _, p := range pk.Pages {
		if p.Surface != nil {
			for _, row := range p.Surface.Measure {
				out[row.Strip] = row
			}
		}
	}
	return out
}

// kept puts records into a job's folder as gather does.
func kept(t testing.TB, job fs.FS, records []record.Record) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(job, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(job, path)
		out[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range records {
		text, err := record.Canonical(r)
		if err != nil {
			t.Fatal(err)
		}
		out[fmt.Sprintf("records/tablets/%s/%06d-%s.json", r.Dev, r.Seq, r.Hash)] = &fstest.MapFile{Data: append(text, '\n')}
	}
	return out
}

// measuredOn computes the demo with strips measured on site: by how much each is longer than drawn.
func measuredOn(t testing.TB, strips map[string]pack.CutRow, longer map[string]int) *assess.Results {
	t.Helper()
	d := tablet.New(t, "26-014", 0)
	for _, id := range slices.Sorted(func(yield func(string) bool) {
		for id := range longer {
			if !yield(id) {
				return
			}
		}
	}) {
		row := strips[id]
		was := 0
		fmt.Sscanf(row.Clear, "%d mm", &was)
		d.Keep(record.Record{V: 2, Kind: record.Cut, Check: row.Key, Seal: row.Seal, Place: id, Value: fmt.Sprint(was + longer[id]), Unit: "mm"})
	}
	src := demo(t)
	src.Job = kept(t, src.Job, d.Records)
	results, _, err := generator.Compute(context.Background(), generator.Options{Sources: src})
	if err != nil {
		t.Fatal(err)
	}
	return results
}

// wrongWith lists what is wrong with a cutting plan: every strip is cut once, as long as measured, from a roll or rip that
// holds it.
func wrongWith(results *assess.Results, longer map[string]int) []string {
	var wrong []string
	say := func(format string, values ...any) { wrong = append(wrong, fmt.Sprintf(format, values...)) }
	for _, d := range results.Deliveries {
		drawn, now := map[string]q.MM{}, map[string]q.MM{}
		numbers := map[int]bool{}
		for i, s := range d.Sheets {
			for _, p := range d.Drawn[i].Pieces {
				drawn[p.ID] = p.Cut
			}
			for _, r := range s.Rolls {
				if numbers[r.No] {
					say("%s: two rolls %d", d.ID, r.No)
				}
				numbers[r.No] = true
				rest := r.Length
				for _, c := range r.Sequence() {
					if now[c.ID] != 0 {
						say("%s is cut twice", c.ID)
					}
					now[c.ID] = c.Cut
					if c.OffcutOf == "" {
						rest -= c.Cut
					}
				}
				for _, c := range r.Cuts {
					for _, f := range c.Feeds {
						if f.Cut > c.Cut || f.Width > c.RollWidth-c.Width {
							say("%s (%d × %d) is cut from the rip of %s (%d long, %d wide)", f.ID, f.Cut, f.Width, c.ID, c.Cut, c.RollWidth-c.Width)
						}
					}
				}
				if rest < 0 || rest != r.Remainder {
					say("%s, roll %d: %d mm are left, the plan says %d", d.ID, r.No, rest, r.Remainder)
				}
			}
		}
		for id, cut := range drawn {
			if now[id] != cut+q.MM(longer[id]) {
				say("%s is cut to %d mm, drawn %d, measured %d longer", id, now[id], cut, longer[id])
			}
		}
		if len(now) != len(drawn) {
			say("%s: %d strips, drawn %d", d.ID, len(now), len(drawn))
		}
	}
	return wrong
}

// holds fails where something is wrong with a cutting plan.
func holds(t rapid.TB, results *assess.Results, longer map[string]int) {
	t.Helper()
	if wrong := wrongWith(results, longer); wrong != nil {
		t.Fatalf("with %v: %s, %v", longer, strings.Join(wrong, "; "), planStates(results))
	}
}

func planStates(results *assess.Results) map[assess.PlanState]int {
	out := map[assess.PlanState]int{}
	for _, d := range results.Deliveries {
		for _, s := range d.Sheets {
			out[s.How]++
		}
	}
	return out
}

// The roll of the demo with the most and with the least left, of those with two strips or more and nothing cut from rips.
func fullest(results *assess.Results) (full, empty assess.Roll) {
	for _, d := range results.Deliveries {
		for _, s := range d.Sheets {
			for _, r := range s.Rolls {
				if len(r.Cuts) < 2 || len(r.Sequence()) != len(r.Cuts) {
					continue
				}
				if full.No == 0 || r.Remainder < full.Remainder {
					full = r
				}
				if r.Remainder > empty.Remainder {
					empty = r
				}
			}
		}
	}
	return full, empty
}

// Strips as measured come into the cut list, the rolls and the cutting plan. A few millimetres leave the plan as it is; more
// than the roll has left moves pieces or solves it again, and the page of changes says so. No junction and no check is
// touched.
func TestStripsAsMeasured(t *testing.T) {
	results, pk := dayTwo(t)
	strips := stripsOf(pk)
	full, empty := fullest(results)
	if full.No == 0 || empty.Remainder < 10 {
		t.Fatalf("the demo has no rolls to try: %d left, %d left", full.Remainder, empty.Remainder)
	}
	for _, c := range []struct {
		name   string
		longer map[string]int
		want   []assess.PlanState
	}{
		{"fits", map[string]int{empty.Cuts[0].ID: 10}, []assess.PlanState{assess.PlanKept}},
		{"shorter", map[string]int{empty.Cuts[0].ID: -25}, []assess.PlanState{assess.PlanKept}},
		{"more than is left", map[string]int{full.Cuts[0].ID: int(full.Remainder) + 1}, []assess.PlanState{assess.PlanMended, assess.PlanSolved}},
		{"all by a tenth", tenth(full), []assess.PlanState{assess.PlanMended, assess.PlanSolved}},
	} {
		got := measuredOn(t, strips, c.longer)
		holds(t, got, c.longer)
		n := 0
		for _, want := range c.want {
			n += planStates(got)[want]
		}
		if n != 1 {
			t.Errorf("%s: the plans are %v", c.name, planStates(got))
		}
		if diff := cmp.Diff(plan(results), plan(got)); diff != "" {
			t.Errorf("%s: what was measured changed the checks: %s", c.name, diff)
		}
		told(t, c.name, got, c.longer)
	}
}

// tenth makes all strips of a roll longer by a tenth.
func tenth(r assess.Roll) map[string]int {
	out := map[string]int{}
	for _, c := range r.Cuts {
		out[c.ID] = int(c.Cut) / 10
	}
	return out
}

// plan is the check plan as text.
func plan(r *assess.Results) []string {
	var out []string
	for _, c := range r.Checks {
		out = append(out, c.Key+" "+c.Accept+" "+strings.Join(c.Places, ","))
	}
	return out
}

// told looks for the strips measured on the page of changes, with where they moved.
func told(t *testing.T, name string, r *assess.Results, longer map[string]int) {
	t.Helper()
	pk, err := pack.Assemble(r, pack.Build{})
	if err != nil {
		t.Fatal(err)
	}
	moved, listed := 0, map[string]bool{}
	for _, c := range pageOf(t, pk, pack.KindChanges).Changes.Cutting {
		for _, m := range c.Strips {
			listed[m.Strip] = m.Drawn != m.Cut
			if m.Moved {
				moved++
			}
		}
		if c.What == "" {
			t.Errorf("%s: nothing is said of %s", name, c.Name)
		}
	}
	for id := range longer {
		if !listed[id] {
			t.Errorf("%s: %s is not told", name, id)
		}
	}
	if s := planStates(r); (s[assess.PlanMended]+s[assess.PlanSolved] > 0) != (moved > 0) {
		t.Errorf("%s: %v, and %d strips moved", name, s, moved)
	}
}

// Whatever is measured, every strip is cut once, as long as measured, from a roll or rip that holds it; a strip measured
// against another drawing, and one longer than any roll, stay as drawn.
func TestStripsAsMeasuredAlwaysFit(t *testing.T) {
	results, pk := dayTwo(t)
	strips := stripsOf(pk)
	var ids []string
	for _, l := range results.Layouts {
		for _, c := range l.Cuts {
			ids = append(ids, c.ID)
		}
	}
	tries, long := 0, os.Getenv("LAPWORK_LONG") != ""
	rapid.Check(t, func(rt *rapid.T) {
		if tries++; tries > 12 && !long {
			return // each computes the whole demo
		}
		longer := map[string]int{}
		for range rapid.IntRange(1, 12).Draw(rt, "strips") {
			longer[rapid.SampledFrom(ids).Draw(rt, "strip")] = rapid.IntRange(-300, 900).Draw(rt, "longer")
		}
		holds(rt, measuredOn(t, strips, longer), longer)
	})
	wrong := strips[ids[0]]
	wrong.Seal = strings.Repeat("0", 64)
	holds(t, measuredOn(t, map[string]pack.CutRow{ids[0]: wrong}, map[string]int{ids[0]: 100}), nil)
	holds(t, measuredOn(t, strips, map[string]int{ids[0]: 100_000}), nil)
}
