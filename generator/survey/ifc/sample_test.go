package ifc

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/survey"
)

// facts are the figures beside a sample file, taken from it by a reader of another hand.
type facts struct {
	Checks map[string]struct {
		Value             any     `json:"value"`
		Tolerance         float64 `json:"tolerance"`
		RelativeTolerance float64 `json:"relative_tolerance"`
	} `json:"-"`
	Raw    map[string]json.RawMessage `json:"checks"`
	Spaces []struct {
		ID      string     `json:"global_id"`
		Name    string     `json:"name"`
		Long    string     `json:"long_name"`
		Storey  string     `json:"storey"`
		Area    float64    `json:"plan_area_m2"`
		Volume  float64    `json:"volume_m3"`
		Z       [2]float64 `json:"z_m"`
		NetArea float64    `json:"stated NetFloorArea"`
		NetVol  float64    `json:"stated NetVolume"`
	} `json:"spaces"`
}

func (f facts) number(t *testing.T, name string) (float64, bool) {
	var c struct{ Value any }
	raw, ok := f.Raw[name]
	if !ok {
		return 0, false
	}
	if err := json.Unmarshal(raw, &c); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	v, ok := c.Value.(float64)
	return v, ok
}

// samples gives the folder of sample models, which are not ours to copy.
func samples(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("LAPWORK_REFERENCE")
	if dir == "" {
		t.Skip("LAPWORK_REFERENCE is not set: the sample models are not at hand")
	}
	dir = filepath.Join(dir, "..", "samples", "ifc")
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("no sample models: %v", err)
	}
	return dir
}

func readFile(t testing.TB, path string) *builderResult {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	b, err := Read(filepath.Base(path), f, info.Size())
	if err != nil {
		t.Fatal(err)
	}
	return &builderResult{b}
}

type builderResult struct{ *survey.Building }

func (b *builderResult) count(group string, kinds ...string) float64 {
	n := 0
	for _, c := range b.Counts {
		for _, k := range kinds {
			if c.Group == group && c.Kind == k {
				n += c.N
			}
		}
	}
	return float64(n)
}

// Every sample against the facts beside it: counts exactly, areas and volumes within 0.3 % (the facts' own tolerance; both
// readers measure the same plane faces, so only rounding may differ).
func TestSamples(t *testing.T) {
	dir := samples(t)
	paths, err := filepath.Glob(filepath.Join(dir, "*.facts.json"))
	if err != nil || len(paths) == 0 {
		t.Fatal("no facts", err)
	}
	for _, path := range paths {
		file := path[:len(path)-len(".facts.json")]
		t.Run(filepath.Base(file), func(t *testing.T) {
			raw, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			var f facts
			if err := json.Unmarshal(raw, &f); err != nil {
				t.Fatal(err)
			}
			for _, ext := range []string{".ifc", ".ifczip"} {
				if _, err := os.Stat(file + ext); err == nil {
					file += ext
					break
				}
			}
			b := readFile(t, file)
			checkSample(t, f, b)
			if os.Getenv("VERBOSE") != "" {
				for i, x := range b.Found.Sorted() {
					if i < 40 {
						fmt.Println(x)
					}
				}
				fmt.Println(b.Source, b.Counts, b.Left)
			}
		})
	}
}

func checkSample(t *testing.T, f facts, b *builderResult) {
	want := func(name string, got, tol float64) {
		t.Helper()
		w, ok := f.number(t, name)
		if ok && math.Abs(got-w) > tol*math.Abs(w)+1e-9 {
			t.Errorf("%s: %v, want %v", name, got, w)
		}
	}
	var area, vol, statedArea, statedVol float64
	byID := map[string]*survey.Space{}
	for _, s := range b.Spaces {
		area += planArea(s.Body)
		if len(s.Body) > 0 {
			vol += volume(s.Body)
		}
		statedArea, statedVol = statedArea+float64(s.Stated.FloorArea), statedVol+float64(s.Stated.Volume)
		byID[s.ID] = s
	}
	want("spaces", float64(len(b.Spaces)), 0)
	want("storeys", float64(len(b.Storeys)), 0)
	want("walls", b.count("surface", "IfcWall", "IfcWallStandardCase"), 0)
	want("slabs", b.count("surface", "IfcSlab"), 0)
	want("roofs", b.count("surface", "IfcRoof"), 0)
	want("windows", b.count("opening", "IfcWindow"), 0)
	want("doors", b.count("opening", "IfcDoor"), 0)
	want("opening_elements", b.count("opening", "IfcOpeningElement"), 0)
	want("floor_area_computed_m2", area, 0.003)
	want("volume_computed_m3", vol, 0.003)
	want("floor_area_stated_m2", statedArea, 0.001)
	want("volume_stated_m3", statedVol, 0.001)
	for _, w := range f.Spaces {
		s := byID[w.ID]
		if s == nil {
			t.Errorf("space %s is missing", w.ID)
			continue
		}
		name := s.Name
		if w.Long == "" {
			w.Long = w.Name
		}
		if s.Number != w.Name || name != w.Long || s.Storey == nil || s.Storey.Name != w.Storey {
			t.Errorf("space %q %q in %v, want %q %q in %q", s.Number, name, s.Storey, w.Name, w.Long, w.Storey)
		}
		if a, v := planArea(s.Body), volume(s.Body); math.Abs(a-w.Area) > 0.002+0.003*w.Area || math.Abs(v-w.Volume) > 0.002+0.003*w.Volume {
			t.Errorf("space %s: %.3f m², %.3f m³, want %.3f, %.3f", w.Name, a, v, w.Area, w.Volume)
		}
		low, top := box(s.Body)
		if math.Abs(low.Z-w.Z[0]) > 0.02 || math.Abs(top.Z-w.Z[1]) > 0.02 {
			t.Errorf("space %s from %.3f to %.3f, want %v", w.Name, low.Z, top.Z, w.Z)
		}
		if w.NetArea > 0 && math.Abs(float64(s.Stated.FloorArea)-w.NetArea) > 0.001 || w.NetVol > 0 && math.Abs(float64(s.Stated.Volume)-w.NetVol) > 0.001 {
			t.Errorf("space %s states %v, %v, want %v, %v", w.Name, s.Stated.FloorArea, s.Stated.Volume, w.NetArea, w.NetVol)
		}
	}
	// Walls seen from inside against the outside, and windows in them.
	var walls, holes float64
	for _, x := range b.Faces {
		if x.Behind != "outside" || x.Role != survey.WallFace {
			continue
		}
		walls += x.Poly.AreaVector().Length()
		for _, o := range x.Openings {
			if o.As == "window" {
				holes += (survey.Poly{Loop: o.Loop}).AreaVector().Length()
			}
		}
	}
	want("exterior_wall_outer_loop_area_m2", walls, 0.005)
	want("exterior_window_boundary_area_m2", holes, 0.005)
	if t.Name() == "TestSamples/syntax_error" {
		first := b.Found.Sorted()[0]
		if first.Pos.Line != 15-1+0 && first.Pos.Line != 15 || first.Pos.Col == 0 || first.Level != diag.Open {
			t.Errorf("first finding %v", first)
		}
	}
}
