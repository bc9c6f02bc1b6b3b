package revision_test

import (
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/revision"
)

type view struct {
	Text string
	Pos  diag.Pos `hash:"ignore"`
}

func TestFingerprintIgnoresPositions(t *testing.T) {
	a, errA := revision.Fingerprint(view{"tape 14.2 m", diag.Pos{Line: 3}})
	b, errB := revision.Fingerprint(view{"tape 14.2 m", diag.Pos{Line: 9}})
	c, errC := revision.Fingerprint(view{"tape 14.3 m", diag.Pos{Line: 3}})
	if errA != nil || errB != nil || errC != nil {
		t.Fatal(errA, errB, errC)
	}
	if a != b || a == c {
		t.Errorf("same text %s and %s, other text %s", a, b, c)
	}
}

func TestRevision(t *testing.T) {
	seals := []revision.Sealed{{Key: "B2/QA-17", Seal: "aa"}, {Key: "A1/QA-16", Seal: "bb"}}
	turned := []revision.Sealed{seals[1], seals[0]}
	// Worked with coreutils: printf '8:A1/QA-162:bb8:B2/QA-172:aa' | sha256sum
	const want = "2-38480adcfb8b"
	got := revision.Of(2, seals)
	if got != revision.Of(2, turned) {
		t.Error("the order of the list changed the revision")
	}
	if got == revision.Of(3, seals) || got == revision.Of(2, []revision.Sealed{{Key: "B2/QA-171", Seal: "a"}, {Key: "A1/QA-16", Seal: "bb"}}) {
		t.Error("another issue or another list gave the same revision")
	}
	if got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
