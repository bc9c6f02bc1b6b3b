package rolls

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	q "lapwork/generator/quantity"
)

// oracleScript solves a list of programs in LP format with the MILP solver and prints the optimal values.
const oracleScript = `
const solver = require("highs");
let text = "";
process.stdin.on("data", (d) => (text += d)).on("end", async () => {
  const highs = await solver();
  const out = JSON.parse(text).map((lp) => {
    const r = highs.solve(lp, { mip_rel_gap: 0 });
    return r.Status === "Optimal" ? r.ObjectiveValue : -1;
  });
  console.log(JSON.stringify(out));
});`

// An independent MILP solver agrees on deliveries that are too large to try out: all patterns of each are listed by a
// plain recursion and chosen by the solver (4 deliveries; 40 with LAPWORK_LONG=1). It needs node and the package highs in .ci/node_modules (or in the folder
// that LAPWORK_ORACLE names); neither is needed by anything else.
func TestOracleAgrees(t *testing.T) {
	node, dir := oracle(t)
	rng := rand.New(rand.NewSource(1))
	var ins []Instance
	var programs []string
	number := 4
	if os.Getenv("LAPWORK_LONG") != "" {
		number = 40
	}
	for range number {
		in := oracleInstance(rng)
		ins = append(ins, in)
		programs = append(programs, patternProgram(in))
	}
	input, err := json.Marshal(programs)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", oracleScript)
	cmd.Dir, cmd.Stdin = dir, bytes.NewReader(input)
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var want []float64
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	for k, in := range ins {
		p, err := Solve(context.Background(), in, Limits{})
		if err != nil || p.Cost != int64(math.Round(want[k])) || !p.Proven() {
			t.Errorf("%+v\ncost %d bound %d (%v), the solver says %v", in, p.Cost, p.Bound, err, want[k])
		}
	}
}

// oracleInstance draws a delivery of 20 to 90 strips of up to 8 lengths, two prices and two leftovers.
func oracleInstance(rng *rand.Rand) Instance {
	in := Instance{Rolls: []Roll{
		{Name: "short", Length: q.MM(18 + rng.Intn(5)), Cost: int64(40 + rng.Intn(20)), Supply: Unlimited},
		{Name: "long", Length: q.MM(28 + rng.Intn(5)), Cost: int64(60 + rng.Intn(25)), Supply: 3 + rng.Intn(6)},
		{Name: "leftover 1", Length: q.MM(5 + rng.Intn(12)), Supply: 1},
		{Name: "leftover 2", Length: q.MM(5 + rng.Intn(12)), Supply: 1},
	}}
	for range 4 + rng.Intn(5) {
		in.Demands = append(in.Demands, Demand{Length: q.MM(4 + rng.Intn(11)), Count: 5 + rng.Intn(8)})
	}
	return in
}

// patternProgram writes the program over all patterns: least cost, every demand covered, supplies kept.
func patternProgram(in Instance) string {
	var cost, bounds strings.Builder
	cover := make([]strings.Builder, len(in.Demands))
	stock := make([]strings.Builder, len(in.Rolls))
	n := 0
	for t, r := range in.Rolls {
		var list func(k int, rest q.MM, cut []int)
		list = func(k int, rest q.MM, cut []int) {
			if k == len(in.Demands) {
				fmt.Fprintf(&cost, " + %d x%d", r.Cost, n)
				fmt.Fprintf(&stock[t], " + x%d", n)
				fmt.Fprintf(&bounds, " x%d", n)
				for i, c := range cut {
					if c > 0 {
						fmt.Fprintf(&cover[i], " + %d x%d", c, n)
					}
				}
				n++
				return
			}
			for c := 0; q.MM(c)*in.Demands[k].Length <= rest; c++ {
				list(k+1, rest-q.MM(c)*in.Demands[k].Length, append(slices.Clip(cut), c))
			}
		}
		list(0, r.Length, nil)
	}
	lp := "Minimize\n obj:" + cost.String() + "\nSubject To\n"
	for i, d := range in.Demands {
		lp += fmt.Sprintf(" d%d:%s >= %d\n", i, cover[i].String(), d.Count)
	}
	for t, r := range in.Rolls {
		if r.Supply != Unlimited {
			lp += fmt.Sprintf(" s%d:%s <= %d\n", t, stock[t].String(), r.Supply)
		}
	}
	return lp + "General\n" + bounds.String() + "\nEnd\n"
}
