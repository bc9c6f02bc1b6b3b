package rolls

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	q "lapwork/generator/quantity"
)

// flowScript solves programs one by one and prints value, best bound and seconds of each.
const flowScript = `
const solver = require("highs");
let text = "";
process.stdin.on("data", (d) => (text += d)).on("end", async () => {
  const out = [];
  for (const lp of JSON.parse(text)) {
    const highs = await solver();
    const start = process.hrtime.bigint();
    let r = {};
    try { r = highs.solve(lp, { mip_rel_gap: 0, time_limit: 10 }); } catch (e) { r = { Status: String(e) }; }
    out.push({ Status: r.Status, Value: r.Status === "Optimal" ? r.ObjectiveValue : -1, Seconds: Number(process.hrtime.bigint() - start) / 1e9 });
  }
  console.log(JSON.stringify(out));
});`

// Stored small deliveries against an independent MILP solver on another model of them, arc flow (Valério de Carvalho 1999):
// both must find the same least cost. The table that it logs stands in DEVELOPERS.md; run it with -v. Four instances; all that
// are small enough with LAPWORK_LONG=1.
func TestAgainstArcFlow(t *testing.T) {
	node, dir := oracle(t)
	type row struct {
		fixture
		program string
	}
	var rows []row
	for _, family := range []string{"cutting-real", "cutting-hard", "cutting-families"} {
		for _, f := range stored(t, family) {
			if program, small := flowProgram(f.in); small {
				rows = append(rows, row{f, program})
			}
		}
	}
	if os.Getenv("LAPWORK_LONG") == "" {
		rows = rows[:min(4, len(rows))]
	}
	var programs []string
	for _, r := range rows {
		programs = append(programs, r.program)
	}
	input, err := json.Marshal(programs)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", flowScript)
	cmd.Dir, cmd.Stdin = dir, bytes.NewReader(input)
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var theirs []struct {
		Status         string
		Value, Seconds float64
	}
	if err := json.Unmarshal(text, &theirs); err != nil {
		t.Fatal(err)
	}
	t.Log("| instance | strips | ours: rolls, cost, bound, time | theirs: cost, time | first-fit decreasing: rolls, cost |")
	for i, r := range rows {
		start := time.Now()
		p, err := Solve(context.Background(), r.in, Limits{})
		took := time.Since(start)
		if err != nil {
			t.Fatal(err)
		}
		plain, err := FirstFit(r.in)
		if err != nil {
			t.Fatal(err)
		}
		if got := theirs[i]; got.Status == "Optimal" && (p.Cost != int64(math.Round(got.Value)) || !p.Proven()) {
			t.Errorf("%s: cost %d, bound %d, the solver %v", r.id, p.Cost, p.Bound, got.Value)
		}
		solved := fmt.Sprintf("%.0f, %.2f s", theirs[i].Value, theirs[i].Seconds)
		if theirs[i].Status != "Optimal" {
			solved = fmt.Sprintf("%s after %.0f s", theirs[i].Status, theirs[i].Seconds)
		}
		strips := 0
		for _, d := range r.in.Demands {
			strips += d.Count
		}
		t.Logf("| %s | %d | %d, %d, %d, %.1f ms | %s | %d, %d |", r.id, strips, len(p.Cuts), p.Cost, p.Bound, float64(took.Microseconds())/1000,
			solved, len(plain.Cuts), plain.Cost)
	}
}

// oracle finds node and the folder that the solver's package is installed in.
func oracle(t *testing.T) (node, dir string) {
	t.Helper()
	if dir = os.Getenv("LAPWORK_ORACLE"); dir == "" {
		dir = filepath.Join("..", "..", "..", ".ci")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: no independent solver")
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules", "highs")); err != nil {
		t.Skip("the package highs is not installed: no independent solver")
	}
	return node, dir
}

// mostArcs is the size up to which a program counts as small.
const mostArcs = 1500

// flowProgram writes the arc-flow program of a delivery without joints: an item is an arc from one fill of a roll to the
// next, longest first; a roll ends at its fill. small is false for more than mostArcs arcs.
func flowProgram(in Instance) (program string, small bool) {
	unit := q.MM(0)
	longest := q.MM(0)
	for _, d := range in.Demands {
		unit = divisor(unit, d.Length)
	}
	for _, r := range in.Rolls {
		longest = max(longest, r.Length/unit)
	}
	demands := slices.Clone(in.Demands)
	slices.SortFunc(demands, func(a, b Demand) int { return int(b.Length - a.Length) })
	reached := map[q.MM]bool{0: true}
	into, out := map[q.MM][]string{}, map[q.MM][]string{}
	var cost, bounds, rules strings.Builder
	arcs := 0
	for i, d := range demands {
		size, cover := d.Length/unit, ""
		level := map[q.MM]int{} // fewest of this item on a way to a fill
		for u := range reached {
			level[u] = 0
		}
		for u := q.MM(0); u+size <= longest; u++ {
			if n, ok := level[u]; ok && n < d.Count {
				if arcs++; arcs > mostArcs {
					return "", false
				}
				name := fmt.Sprintf("x%d_%d", i, u)
				out[u], into[u+size] = append(out[u], name), append(into[u+size], name)
				cover += " + " + name
				fmt.Fprintf(&bounds, " %s", name)
				if m, ok := level[u+size]; !ok || m > n+1 {
					level[u+size] = n + 1
				}
				reached[u+size] = true
			}
		}
		fmt.Fprintf(&rules, " d%d:%s >= %d\n", i, cover, d.Count)
	}
	start := ""
	for t, r := range in.Rolls {
		supply := ""
		for u := range longest + 1 {
			if reached[u] && u > 0 && u <= r.Length/unit {
				name := fmt.Sprintf("y%d_%d", t, u)
				out[u] = append(out[u], name)
				start, supply = start+" - "+name, supply+" + "+name
				fmt.Fprintf(&cost, " + %d %s", r.Cost, name)
				fmt.Fprintf(&bounds, " %s", name)
			}
		}
		if r.Supply != Unlimited && supply != "" {
			fmt.Fprintf(&rules, " s%d:%s <= %d\n", t, supply, r.Supply)
		}
	}
	fmt.Fprintf(&rules, " f0: %s%s = 0\n", strings.Join(out[0], " + "), start)
	for u := range longest + 1 {
		if reached[u] && u > 0 {
			fmt.Fprintf(&rules, " f%d: %s - %s = 0\n", u, strings.Join(into[u], " + "), strings.Join(out[u], " - "))
		}
	}
	return "Minimize\n obj:" + cost.String() + "\nSubject To\n" + rules.String() + "General\n" + bounds.String() + "\nEnd\n", true
}

func divisor(a, b q.MM) q.MM {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
