package generator_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/pack"
)

// demoResults computes the demo job.
func demoResults(t *testing.T) *assess.Results {
	t.Helper()
	r, _, err := generator.Compute(context.Background(), generator.Options{Sources: demo(t)})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What the lists say is what the materials page says: packs and money of every line, weight and money of every delivery,
// and the sums of the job. The page's text is read, not the figures behind it.
func TestOrderEqualsTheMaterialsPage(t *testing.T) {
	r := demoResults(t)
	pk, err := pack.Assemble(r, pack.Build{})
	if err != nil {
		t.Fatal(err)
	}
	var page *pack.Materials
	for _, p := range pk.Pages {
		if p.Materials != nil {
			page = p.Materials
		}
	}
	for _, d := range page.Deliveries { // the guide weights, and each way to carry, are said once a delivery
		seen := map[string]bool{}
		for _, n := range d.Notes {
			words, _, _ := strings.Cut(n.Text, ":")
			if seen[words] {
				t.Errorf("%s says twice: %s", d.ID, words)
			}
			seen[words] = true
		}
	}
	order := generator.OrderOf(r)
	text := func(rows []pack.MaterialRow) string {
		var b strings.Builder
		for _, row := range rows {
			fmt.Fprintln(&b, row.ID, row.Packs, row.Price)
		}
		return b.String()
	}
	total := map[string]float64{}
	for i, d := range page.Deliveries {
		rows := text(d.Rows)
		amount := 0.0
		for _, l := range order.Lines {
			if l.Delivery != d.ID || l.Packs == 0 {
				continue
			}
			want := fmt.Sprintf("%s %d", l.Component, l.Packs)
			if strings.HasPrefix(l.Component, "sheet-variable") {
				want = fmt.Sprintf("%d × %.0f m", l.Packs, l.PackSize/1.5)
			}
			if l.Note != "no price" {
				want = fmt.Sprintf("%d × %s", l.Packs, l.Price)
				var x float64
				if _, err := fmt.Sscan(string(l.Amount), &x); err != nil {
					t.Fatal(err)
				}
				amount += x
			}
			if !strings.Contains(rows, want) {
				t.Errorf("%s: the page lacks %q of %s", d.ID, want, l.Component)
			}
			total[l.Component] += float64(l.Packs)
		}
		line := order.Deliveries[i]
		if got := fmt.Sprintf("%.2f", amount); got != string(line.Material) || d.Cost[0].Text != got+" EUR" {
			t.Errorf("%s: lines add up to %s, the list says %s, the page %s", d.ID, got, line.Material, d.Cost[0].Text)
		}
		if want := fmt.Sprintf("About %.1f kg", line.Kilograms); !strings.HasPrefix(d.Mass, want) {
			t.Errorf("%s: %q, the list says %.1f kg", d.ID, d.Mass, line.Kilograms)
		}
	}
	all := order.Deliveries[len(order.Deliveries)-1]
	if page.Cost[0].Text != string(all.Material)+" EUR" {
		t.Errorf("the job's material is %s on the page, %s in the list", page.Cost[0].Text, all.Material)
	}
	for _, row := range page.Total {
		if packs := 0.0; !strings.Contains(row.Packs, "×") && !strings.Contains(row.Packs, "leftovers") {
			if _, err := fmt.Sscan(row.Packs, &packs); err != nil || packs != total[row.ID] {
				t.Errorf("%s: %s packs on the page, %g in the list", row.ID, row.Packs, total[row.ID])
			}
		}
	}
}

// The lines of a component add up to its need, room by room too, and the leftover of the demo serves one delivery.
func TestOrderAddsUp(t *testing.T) {
	r := demoResults(t)
	order := generator.OrderOf(r)
	need, picked := map[string]float64{}, map[string]float64{}
	for _, l := range order.Lines {
		need[l.Delivery+l.Component] += l.Need
		if diff := float64(l.Packs)*l.PackSize - l.Need - l.Over; l.Packs > 0 && !strings.HasPrefix(l.Component, "sheet-") && math.Abs(diff) > 1e-6 {
			t.Errorf("%s %s: %d packs of %g are not %g and %g over", l.Delivery, l.Component, l.Packs, l.PackSize, l.Need, l.Over)
		}
	}
	for _, p := range order.Picks {
		picked[p.Delivery+p.Component] += p.Need
	}
	for key, x := range need {
		if math.Abs(picked[key]-x) > 1e-6 {
			t.Errorf("%s: %g needed, %g picked", key, x, picked[key])
		}
	}
	uses := 0
	for _, d := range r.Deliveries {
		for _, s := range d.Sheets {
			for _, roll := range s.Rolls {
				if roll.Name == "end of a roll from the last job" {
					uses++
				}
			}
		}
	}
	if uses != 1 {
		t.Errorf("the one leftover of the demo is used %d times", uses)
	}
}

// What one delivery leaves of its rolls goes into the next one before anything is bought for it, each rest once, and never
// into a delivery that comes earlier: stated in either order, the one of the earlier date is cut first.
func TestRestsGoIntoLaterDeliveries(t *testing.T) {
	const first, second = "{id: d1, name: First, rooms: [A1]", "{id: d2, name: Second, rooms: [A2]"
	for _, c := range []struct{ deliveries, early string }{
		{first + "}, " + second + "}", "d1"},
		{first + ", date: 2026-05-01}, " + second + ", date: 2026-06-01}", "d1"},
		{first + ", date: 2026-06-01}, " + second + ", date: 2026-05-01}", "d2"},
	} {
		files := fstest.MapFS{"job.yaml": {Data: []byte(strings.Replace(twoDeliveriesText, first+"}, "+second+"}", c.deliveries, 1))}}
		r, _ := computed(t, files)
		kept := map[string]int{}
		for i, d := range r.Deliveries {
			if (i == 0) != (d.ID == c.early) {
				t.Errorf("%s is cut as number %d", d.ID, i+1)
			}
			for _, s := range d.Sheets {
				for _, roll := range s.Rolls {
					if roll.Leftover && strings.HasPrefix(roll.Name, "rest of roll") {
						if kept[roll.Name] != int(roll.Length) {
							t.Errorf("%s uses %s of %d mm, kept: %v", d.ID, roll.Name, roll.Length, kept)
						}
						delete(kept, roll.Name)
						if i == 0 {
							t.Errorf("%s uses %s before anything is left", d.ID, roll.Name)
						}
					}
				}
			}
			for _, s := range d.Sheets {
				for _, roll := range s.Rolls {
					kept[fmt.Sprintf("rest of roll %d, %s", roll.No, d.Name)] = int(roll.Remainder)
				}
			}
		}
		used := 0
		for _, s := range r.Deliveries[1].Sheets {
			for _, roll := range s.Rolls {
				if roll.Leftover {
					used++
				}
			}
		}
		if used == 0 {
			t.Errorf("%s: the second delivery uses no rest", c.deliveries)
		}
	}
}
