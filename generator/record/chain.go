package record

import (
	"slices"

	"lapwork/generator/diag"
)

// Verify checks every record's hash and every tablet's chain. A changed record, a fork and a broken link are faults; a
// missing stretch is open, since its file may still come. A chain shows a change only against a head that has left the
// tablet: whoever can write the whole file can write a whole new chain.
func Verify(records []Record) diag.List {
	var found diag.List
	sorted := Merge(records)
	for i, r := range sorted {
		verifySum(r, &found)
		if i > 0 && sorted[i-1].Dev == r.Dev {
			verifyLink(sorted[i-1], r, &found)
		} else {
			verifyFirst(r, &found)
		}
	}
	return found
}

func verifySum(r Record, found *diag.List) {
	sum, err := r.Sum()
	switch {
	case err != nil:
		found.Faultf(diag.Pos{}, "export again from the tablet", "record %d of tablet %s: %v", r.Seq, short(r.Dev), err)
	case sum != r.Hash:
		found.Add(diag.Finding{Level: diag.Fault, Item: r.Check,
			Msg:  "record " + r.ID + " was changed after it was made",
			Hint: "export again from the tablet; keep this file as it is"})
	}
}

func verifyFirst(r Record, found *diag.List) {
	switch {
	case r.Seq == 1 && r.Prev != "":
		found.Faultf(diag.Pos{}, "export again from the tablet", "the first record of tablet %s names one before it", short(r.Dev))
	case r.Seq > 1:
		found.Openf(diag.Pos{}, "", "export everything from that tablet", "records 1 to %d of tablet %s are missing", r.Seq-1, short(r.Dev))
	}
}

func verifyLink(before, r Record, found *diag.List) {
	switch {
	case r.Seq == before.Seq:
		found.Faultf(diag.Pos{}, "both are kept; ask who used the tablet", "tablet %s has two different records %d", short(r.Dev), r.Seq)
	case r.Seq > before.Seq+1:
		found.Openf(diag.Pos{}, "", "export everything from that tablet",
			"records %d to %d of tablet %s are missing", before.Seq+1, r.Seq-1, short(r.Dev))
	case r.Prev != before.Hash:
		found.Faultf(diag.Pos{}, "export again from the tablet; keep this file as it is",
			"record %d of tablet %s does not follow record %d", r.Seq, short(r.Dev), before.Seq)
	}
}

// Heads is the hash of each tablet's last record, to be noted where it can no longer be changed.
func Heads(records []Record) []Record {
	var heads []Record
	for _, r := range Merge(records) {
		if n := len(heads); n > 0 && heads[n-1].Dev == r.Dev {
			heads[n-1] = r
		} else {
			heads = append(heads, r)
		}
	}
	return slices.Clip(heads)
}

func short(id string) string {
	if len(id) > 6 {
		return id[:6]
	}
	return id
}
