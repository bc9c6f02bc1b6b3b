package material_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"lapwork/generator/calc/material"
	"lapwork/generator/diag"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

func table(t *testing.T) map[string]material.Material {
	t.Helper()
	text, err := os.ReadFile("../../../content/tables/materials.csv")
	if err != nil {
		t.Fatal(err)
	}
	var found diag.List
	out := map[string]material.Material{}
	for _, m := range material.Parse("materials.csv", text, &found) {
		out[m.ID] = m
	}
	if len(found.Sorted()) > 0 {
		t.Fatalf("findings in the table: %v", found.Sorted())
	}
	return out
}

// The table of the trade holds the reference's figures, and never calls one better supported than it is: what the
// reference has from memory is not secondary here.
func TestMaterials(t *testing.T) {
	all := table(t)
	values.Walk(t, "16_materials.csv", func(t *testing.T, r values.Record) {
		m, ok := all[r["material_id"]]
		if !ok {
			t.Fatal("not in the table")
		}
		low, high, two := strings.Cut(r["density_kg_m3"], "-")
		if !two {
			high = low
		}
		same(t, "density", m.Density.Low, low)
		same(t, "density", m.Density.High, high)
		same(t, "lambda", m.Lambda.X, r["lambda_W_mK"])
		same(t, "c", m.HeatCapacity.X, r["c_J_kgK"])
		same(t, "mu dry", m.MuDry.X, r["mu_dry"])
		if m.MuWet.Known {
			same(t, "mu wet", m.MuWet.X, r["mu_wet"])
		}
		if strings.Contains(r["status"], "mu from-memory") && m.MuDry.Status < q.FromMemory {
			t.Errorf("mu is %v here, from memory there", m.MuDry.Status)
		}
		if strings.HasPrefix(r["status"], "from-memory") && m.Lambda.Status < q.FromMemory {
			t.Errorf("lambda is %v here, from memory there", m.Lambda.Status)
		}
	})
}

func TestThinLayers(t *testing.T) {
	all := table(t)
	values.Walk(t, "16c_thin_layers_sd.csv", func(t *testing.T, r values.Record) {
		if r["layer_id"] == "SD-14" || r["layer_id"] == "SD-15" {
			t.Skip("a rule, not a layer: calc/condensation has it")
		}
		m, ok := all[r["layer_id"]]
		if !ok || !m.Thin() {
			t.Fatalf("not a thin layer of the table: %+v", m)
		}
		same(t, "sd", m.Sd.X, r["sd_m"])
		sd, _, ok := m.VapourThickness(0.2, material.WetCup)
		if !ok || float64(sd) != m.Sd.X {
			t.Errorf("sd %v depends on the thickness", sd)
		}
	})
}

func same(t *testing.T, what string, got float64, want string) {
	t.Helper()
	if want == "infinite" {
		if !math.IsInf(got, 1) {
			t.Errorf("%s: %v, want infinite", what, got)
		}
		return
	}
	values.Within(t, what, got, values.Record{"x": want}.Number(t, "x"), 0)
}

// sd = mu·d: 200 mm of timber (mu 50/20) is 10 m from the dry cup and 4 m from the wet cup.
func TestVapourThickness(t *testing.T) {
	all := table(t)
	dry, status, ok := all["MAT-04"].VapourThickness(0.2, material.DryCup)
	wet, _, _ := all["MAT-04"].VapourThickness(0.2, material.WetCup)
	if !ok || dry != 10 || wet != 4 || status != q.FromMemory {
		t.Errorf("dry %v, wet %v, %v", dry, wet, status)
	}
	if one, _, ok := all["MAT-17"].VapourThickness(0.1, material.WetCup); !ok || math.Abs(float64(one)-0.33) > 1e-12 {
		t.Errorf("one cup only: %v, %v", one, ok)
	}
	if tight, _, ok := all["MAT-48"].VapourThickness(0.001, material.DryCup); !ok || tight != material.Tight {
		t.Errorf("steel: %v, %v", tight, ok)
	}
	if _, _, ok := (material.Material{}).VapourThickness(1, material.DryCup); ok {
		t.Error("a material without mu has an sd")
	}
}

const good = "id,name,density,lambda,heat_capacity,mu_dry,mu_wet,sd,note,source,status,status_of\n"

func TestFindings(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty":       {"", "the table is empty"},
		"header":      {"id,name\n", `column "density" is missing`},
		"cells":       {good + "A,b\n", "this row has 2 cells"},
		"number":      {good + "A,b,1,x,1000,1,1,,,s,computed,\n", `t.csv:2:7: column "lambda": not a number`},
		"range":       {good + "A,b,200-10,0.1,1000,1,1,,,s,computed,\n", `column "density"`},
		"nan":         {good + "A,b,1,NaN,1000,1,1,,,s,computed,\n", `column "lambda"`},
		"status":      {good + "A,b,1,0.1,1000,1,1,,,s,sure,\n", "unknown status"},
		"not better":  {good + "A,b,1,0.1,1000,1,1,,,s,secondary,mu: from memory\n", "not better"},
		"which value": {good + "A,b,1,0.1,1000,1,1,,,s,from memory,name: secondary\n", "not understood"},
		"twice":       {good + "A,b,1,0.1,1000,1,1,,,s,computed,\nA,b,1,0.1,1000,1,1,,,s,computed,\n", "stands twice"},
		"both":        {good + "A,b,1,0.1,1000,1,1,2,,s,computed,\n", "either sd or mu"},
		"neither":     {good + "A,b,1,0.1,1000,,,,,s,computed,\n", "either sd or mu"},
		"no source":   {good + "A,b,1,0.1,1000,1,1,,,,computed,\n", `column "source"`},
		"column":      {strings.Replace(good, "\n", ",brand\n", 1), `unknown column "brand"`},
		"doubled":     {strings.Replace(good, "\n", ",id\n", 1), `column "id" stands twice`},
	} {
		var found diag.List
		out := material.Parse("t.csv", []byte(c.text), &found)
		err := found.Err()
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
		if len(out) > 1 {
			t.Errorf("%s: %d rows kept", name, len(out))
		}
	}
}

// No input makes the reader panic, and every finding lies inside the file.
func FuzzParse(f *testing.F) {
	f.Add([]byte(good + "A,b,10-20,0.1,1000,infinite,1,,\"n,\",s,from memory,mu: computed\n"))
	f.Add([]byte("\ufeff# c\n" + good + "\"A,b\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var found diag.List
		rows := material.Parse("t.csv", text, &found)
		lines := 1 + strings.Count(string(text), "\n")
		for _, x := range found.Sorted() {
			if x.Pos.Line > lines {
				t.Fatalf("%v is past line %d", x, lines)
			}
		}
		for _, m := range rows {
			if sd, _, ok := m.VapourThickness(0.1, material.DryCup); !ok || !(sd >= 0 && sd <= material.Tight) {
				t.Fatalf("%+v: sd %v, %v", m, sd, ok)
			}
		}
	})
}
