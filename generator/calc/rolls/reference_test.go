package rolls

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	q "lapwork/generator/quantity"
)

// fixture is one stored instance with what is known about it. Sources and proofs: testdata/cutting/README.md.
type fixture struct {
	id      string
	in      Instance
	optimum int64
	ffd     int64 // cost of first fit decreasing; 0 if not stored
	whole   int64 // optimum without joints; 0 if the instance has none
}

func readJSON(t testing.TB, path string, v any) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, v); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

// stored reads one of the copied files of plain instances.
func stored(t testing.TB, name string) []fixture {
	t.Helper()
	var ins []struct {
		ID    string
		Rolls []struct {
			Length q.MM
			Cost   int64
			Supply *int
			Kind   string
		}
		Pieces []struct {
			Length q.MM
			Count  int
		}
	}
	var wants []struct {
		ID           string
		Optimum, FFD int64
	}
	dir := filepath.Join("..", "..", "..", "testdata", "cutting")
	readJSON(t, filepath.Join(dir, name+".json"), &ins)
	readJSON(t, filepath.Join(dir, name+".expected.json"), &wants)
	var out []fixture
	for k, in := range ins {
		f := fixture{id: in.ID, optimum: wants[k].Optimum, ffd: wants[k].FFD}
		if wants[k].ID != in.ID {
			t.Fatalf("%s: expected values of %s stand beside %s", name, wants[k].ID, in.ID)
		}
		for _, r := range in.Rolls {
			supply := Unlimited
			if r.Supply != nil {
				supply = *r.Supply
			}
			f.in.Rolls = append(f.in.Rolls, Roll{Name: r.Kind, Length: r.Length, Cost: r.Cost, Supply: supply})
		}
		for _, p := range in.Pieces {
			f.in.Demands = append(f.in.Demands, Demand{Length: p.Length, Count: p.Count})
		}
		out = append(out, f)
	}
	return out
}

// storedJoints reads the copied instances with end joints.
func storedJoints(t testing.TB) []fixture {
	t.Helper()
	var ins []struct {
		ID   string
		Roll struct {
			Length q.MM
			Cost   int64
		}
		JointCost int64 `json:"joint_cost"`
		Strips    []struct {
			Length q.MM
			Count  int
			Splits [][2]q.MM
		}
	}
	var wants []struct {
		ID    string
		Whole int64 `json:"optimum_whole_strips"`
		Joint int64 `json:"optimum_with_joints"`
	}
	dir := filepath.Join("..", "..", "..", "testdata", "cutting")
	readJSON(t, filepath.Join(dir, "cutting-joint.json"), &ins)
	readJSON(t, filepath.Join(dir, "cutting-joint.expected.json"), &wants)
	var out []fixture
	for k, in := range ins {
		f := fixture{id: in.ID, optimum: wants[k].Joint, whole: wants[k].Whole}
		f.in.JointCost = in.JointCost
		f.in.Rolls = []Roll{{Name: "new", Length: in.Roll.Length, Cost: in.Roll.Cost, Supply: Unlimited}}
		for _, s := range in.Strips {
			d := Demand{Length: s.Length, Count: s.Count}
			for _, sp := range s.Splits {
				d.Splits = append(d.Splits, Split{sp[0], sp[1]})
			}
			f.in.Demands = append(f.in.Demands, d)
		}
		out = append(out, f)
	}
	return out
}

// published reads the published bin-packing instances from the reference folder; nil if that is not at hand.
func published(t testing.TB) []fixture {
	t.Helper()
	dir := os.Getenv("LAPWORK_REFERENCE")
	if dir == "" {
		return nil
	}
	var ins []struct {
		ID       string
		Capacity q.MM
		Pieces   [][2]int
	}
	var wants []struct {
		ID           string
		Optimum, FFD int64
	}
	readJSON(t, filepath.Join(dir, "layout", "orlib-binpack.json"), &ins)
	readJSON(t, filepath.Join(dir, "layout", "orlib-binpack.expected.json"), &wants)
	var out []fixture
	for k, in := range ins {
		f := fixture{id: in.ID, optimum: wants[k].Optimum, ffd: wants[k].FFD}
		f.in.Rolls = []Roll{{Length: in.Capacity, Cost: 1, Supply: Unlimited}}
		for _, p := range in.Pieces {
			f.in.Demands = append(f.in.Demands, Demand{Length: q.MM(p[0]), Count: p[1]})
		}
		out = append(out, f)
	}
	return out
}

type bounds struct{ length, l2 int64 }

// storedBounds reads the stored values of bounds 1 and 2; 0 where there is none.
func storedBounds(t testing.TB, name string) []bounds {
	t.Helper()
	var wants []struct {
		Bounds struct {
			Length int64 `json:"length_cover"`
			L2     *int64
		}
	}
	readJSON(t, filepath.Join("..", "..", "..", "testdata", "cutting", name+".expected.json"), &wants)
	out := make([]bounds, len(wants))
	for k, w := range wants {
		out[k].length = w.Bounds.Length
		if w.Bounds.L2 != nil {
			out[k].l2 = *w.Bounds.L2
		}
	}
	return out
}

// storedCertificate reads the stored dual certificate of instance k; zero if there is none.
func storedCertificate(t testing.TB, name string, k int, in Instance) Certificate {
	t.Helper()
	var wants []struct {
		Dual struct {
			Scale int64
			Dual  []int64
		} `json:"dual_certificate"`
	}
	readJSON(t, filepath.Join("..", "..", "..", "testdata", "cutting", name+".expected.json"), &wants)
	c := Certificate{Scale: wants[k].Dual.Scale}
	for i, v := range wants[k].Dual.Dual {
		c.Weights = append(c.Weights, Weight{Length: in.Demands[i].Length, Value: v})
	}
	return c
}
