package assess

import (
	"os"
	"slices"
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/library"
)

// A hold that two roles release wants both signatures, each a check of its own (plan of holds H1 to H8: H2 is signed by the site
// lead and the other trade, H5 by tester and site lead; common practice, no source).
func TestHoldsWantEachSignature(t *testing.T) {
	var found diag.List
	r := &Results{Context: Context{Library: library.Load(os.DirFS("../../content"), nil, nil, &found)}}
	for hold, want := range map[string][]string{"": nil, "H9": nil, "H4": {"zone-all/H4/zone-all "}, "H5": {"zone-all/H5/tester tester", "zone-all/H5/site-lead site-lead"}} {
		var got []string
		for _, c := range r.holdChecks("zone-all", nil, &library.Activity{Hold: hold}) {
			got = append(got, c.Key+" "+c.Signer)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", hold, got, want)
		}
	}
}
