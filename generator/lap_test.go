package generator_test

import (
	"bytes"
	"context"
	"io/fs"
	"testing"
	"testing/fstest"

	"lapwork/generator"
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
