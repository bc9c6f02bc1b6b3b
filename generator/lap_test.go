package generator_test

import (
	"bytes"
	"context"
	"io/fs"
	"testing"
	"testing/fstest"

	"lapwork/generator"
	"lapwork/generator/calc/strips"
	q "lapwork/generator/quantity"
)

// The demo's attic ceiling, by hand: 3990 mm deep with 100 mm down the walls on both sides, -100 to 4090, in two level strips
// of a 3000 mm roll. The seam is cheapest where it meets the hatch, at 1445. Any lap allowed: the first strip starts on
// the edge, -100 + 3000 - 1445 = 1455 of lap. At most 25 % of 3000 = 750: it reaches 1445 + 750 = 2195 and is ripped along
// its lower side to 2195 + 100 = 2295.
func TestWidestLapOfTheDemo(t *testing.T) {
	for _, c := range []struct {
		percent         string
		lap, at, ripped q.MM
	}{{"", 750, -100, 2295}, {"100", 1455, -100, 3000}} {
		src := demo(t)
		if c.percent != "" {
			src.Job = setting(t, src.Job, "lap_most_pct: "+c.percent)
		}
		r, _, err := generator.Compute(context.Background(), generator.Options{Sources: src})
		if err != nil {
			t.Fatal(err)
		}
		l := r.LayoutOf("C1-C1")
		if l == nil || len(l.Strips) != 2 || l.Strips[1].At-l.Base(false) != 1445 || l.Strips[1].Lap != c.lap || l.Cuts[0].At-l.Base(false) != c.at || l.Cuts[0].Width != c.ripped {
			t.Errorf("widest lap %q: %+v", c.percent, l)
		}
	}
}

// setting gives a job's folder with one more setting for the whole job.
func setting(t *testing.T, job fs.FS, value string) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(job, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(job, p)
		if p == "job.yaml" {
			data = bytes.Replace(data, []byte("\nsettings:\n"), []byte("\nsettings:\n  - {values: {"+value+"}}\n"), 1)
		}
		out[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Drops of a 1.0 m roll on studs at 600 mm advance by 600: laps of 400, 40 % of the roll. Worked by hand for a wall of 3.00 x
// 2.40 m between inside walls, edges at 0: drops at 0, 600, 1200, 1800, 2400 (reaches 3400). Where the direction is open the wall
// is laid level, since its laps are narrow; where the job fixes drops nothing else covers it, and the laps of 400 stay.
func TestWiderLapWhereNothingElseCovers(t *testing.T) {
	stock, room := "  - {component: sheet-variable, width: 1 m, length: 50 m}\n", "plan: {from: [0, 0], size: [3000, 3000]}, walls: {1: outer}"
	open, _ := computed(t, house(stock, "", room))
	if l := open.Layouts[0]; l.Direction != strips.Level || l.WideLap() {
		t.Errorf("open: %s, wide %v", l.Direction, l.WideLap())
	}
	fixed := house(stock, "", room)
	fixed["job.yaml"].Data = bytes.Replace(fixed["job.yaml"].Data, []byte("outer: {"), []byte("outer: {direction: upright, "), 1)
	r, _ := computed(t, fixed)
	l := r.Layouts[0]
	if l.Direction != strips.Upright || len(l.Strips) != 5 || !l.WideLap() {
		t.Fatalf("fixed: %s, %d strips, wide %v", l.Direction, len(l.Strips), l.WideLap())
	}
	for i, s := range l.Strips {
		if s.At != q.MM(600*i) || i > 0 && s.Lap != 400 {
			t.Errorf("strip %d at %d, lap %d", i+1, s.At, s.Lap)
		}
	}
}
