package assess

import (
	"testing"

	"lapwork/generator/calc/airtight"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"

	"github.com/google/go-cmp/cmp"
)

// What the readings state counts; where the job has another figure, both are said. One per cent is what two people measure.
func TestFillSizes(t *testing.T) {
	b := airtight.Building{Volume: 56.7, Envelope: 99.1}
	got := fillSizes(&b, surface.Totals{Volume: 56.9, EnvelopeArea: 94.86, FloorArea: 22.68, FloorHow: "footprints"}, q.English)
	want := []SizeUsed{{Name: "V", Value: "56.7 m³"}, {Name: "AE", Value: "99.10 m²", Own: "94.86 m²"}, {Name: "AF", Value: "22.68 m²", How: "footprints"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if b != (airtight.Building{Volume: 56.7, Envelope: 99.1, Floor: 22.68}) {
		t.Errorf("figures are formed with %+v", b)
	}
}
