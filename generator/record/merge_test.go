package record_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/record"

	"pgregory.net/rapid"
)

func hexID(n int, digits int) string { return fmt.Sprintf("%0*x", digits, n) }

// chained hashes records of one tablet one after the other, as its script does.
func chained(dev int, records ...record.Record) []record.Record {
	out := slices.Clone(records)
	prev := ""
	for i := range out {
		r := &out[i]
		r.V, r.ID, r.Dev, r.Seq, r.Prev = 1, hexID(dev<<16+i, 24), hexID(dev, 24), i+1, prev
		r.Pack, r.Rev, r.Lang, r.Who = "ml-12", "2-1a2b3c4d5e6f", "en", "A. Example"
		if r.At == "" {
			r.At = fmt.Sprintf("2026-11-25T05:%02d:00+01:00", i%60)
		}
		sum, err := r.Sum()
		if err != nil {
			panic(err)
		}
		r.Hash, prev = sum, sum
	}
	return out
}

func tick(check, value string) record.Record {
	return record.Record{Kind: record.Tick, Check: check, Value: value}
}

var anyRecords = rapid.Custom(func(t *rapid.T) []record.Record {
	var out []record.Record
	for dev := range rapid.IntRange(0, 3).Draw(t, "tablets") {
		n := rapid.IntRange(0, 4).Draw(t, "records")
		own := make([]record.Record, n)
		for i := range own {
			own[i] = tick(rapid.SampledFrom([]string{"A1/QA-17/A1-W1", "A1/QA-17/A1-W2"}).Draw(t, "check"), rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "value"))
		}
		if rapid.Bool().Draw(t, "later kinds too") {
			own = append(own, later()[:rapid.IntRange(1, len(later())).Draw(t, "of them")]...)
			out = append(out, rehash(chained(dev, own...), 2)...)
			continue
		}
		out = append(out, chained(dev, own...)...)
	}
	return out
})

func TestMergeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := anyRecords.Draw(t, "a"), anyRecords.Draw(t, "b"), anyRecords.Draw(t, "c")
		ab := record.Merge(a, b)
		if !same(ab, record.Merge(b, a)) {
			t.Fatal("the order of files changes the merge")
		}
		if !same(record.Merge(ab, c), record.Merge(a, record.Merge(b, c))) {
			t.Fatal("the grouping of files changes the merge")
		}
		if !same(ab, record.Merge(ab, ab, a)) {
			t.Fatal("merging again changes the merge")
		}
		for _, r := range slices.Concat(a, b) {
			if !slices.ContainsFunc(ab, func(o record.Record) bool { return o.Hash == r.Hash }) {
				t.Fatalf("record %s was lost", r.ID)
			}
		}
	})
}

func same(a, b []record.Record) bool {
	return slices.EqualFunc(a, b, func(x, y record.Record) bool { return x.Hash == y.Hash && x.ID == y.ID })
}

func TestConflictsStay(t *testing.T) {
	const check = "A1/QA-17/A1-W1"
	one := chained(1, tick(check, "no"), tick(check, "yes"))
	two := chained(2, tick(check, "no"))
	agreeing := chained(3, tick(check, "yes"))
	all := record.Merge(one, two, agreeing)
	if len(all) != 4 {
		t.Fatalf("%d records, want 4", len(all))
	}
	got := record.Conflicts(all)
	if len(got) != 1 || got[0].Check != check || len(got[0].Records) != 3 {
		t.Fatalf("conflicts %+v, want one with the latest word of each of three tablets", got)
	}
	if c := record.Conflicts(record.Merge(one, agreeing)); len(c) != 0 {
		t.Errorf("tablets that agree conflict: %+v", c)
	}
}

func TestLatest(t *testing.T) {
	const check = "A1/QA-17/A1-W1"
	late, early := tick(check, "no"), tick(check, "yes")
	late.At, early.At = "2026-11-25T12:00:00Z", "2026-11-25T06:00:00Z" // the clock was set back between them
	own := chained(1, late, early)
	got := record.Latest(own)
	if len(got) != 1 || got[0].Value != "yes" {
		t.Errorf("latest %+v; the chain's order decides inside one tablet", got)
	}
	void := record.Record{Kind: record.Void, Of: own[1].ID, Reason: "wrong wall"}
	got = record.Latest(chained(1, late, early, void))
	if len(got) != 1 || got[0].Value != "no" {
		t.Errorf("latest %+v; a voided record must give way to the one before", got)
	}
	notes := chained(2, record.Record{Kind: record.Note, Text: "one"}, record.Record{Kind: record.Note, Text: "two"})
	if got := record.Latest(notes); len(got) != 2 {
		t.Errorf("%d notes, want both", len(got))
	}
}

func TestVerifyFindsEveryChange(t *testing.T) {
	good := func() []record.Record {
		return chained(1, tick("c1", "yes"), tick("c2", "no"), tick("c3", "yes"))
	}
	for _, c := range []struct {
		name  string
		spoil func([]record.Record) []record.Record
		level diag.Level
		want  string
	}{
		{"a value", func(r []record.Record) []record.Record { r[1].Value = "yes"; return r }, diag.Fault, "was changed"},
		{"the last value", func(r []record.Record) []record.Record { r[2].Value = "no"; return r }, diag.Fault, "was changed"},
		{"a value with its hash", func(r []record.Record) []record.Record {
			r[1].Value = "yes"
			r[1].Hash, _ = r[1].Sum()
			return r
		}, diag.Fault, "does not follow"},
		{"a fork", func(r []record.Record) []record.Record {
			return append(r, chained(1, tick("c1", "yes"), tick("c2", "yes"))[1])
		}, diag.Fault, "two different records"},
		{"one taken out", func(r []record.Record) []record.Record { return append(r[:1], r[2]) }, diag.Open, "2 to 2"},
		{"the first taken out", func(r []record.Record) []record.Record { return r[1:] }, diag.Open, "1 to 1"},
	} {
		found := record.Verify(c.spoil(good()))
		hit := slices.ContainsFunc(found.Sorted(), func(f diag.Finding) bool { return f.Level == c.level && strings.Contains(f.Msg, c.want) })
		if !hit {
			t.Errorf("%s: no %v with %q in %v", c.name, c.level, c.want, found.Sorted())
		}
	}
	if found := record.Verify(good()); len(found.Sorted()) != 0 {
		t.Errorf("a whole chain has findings: %v", found.Sorted())
	}
	if h := record.Heads(good()); len(h) != 1 || h[0].Seq != 3 {
		t.Errorf("heads %+v", h)
	}
}
