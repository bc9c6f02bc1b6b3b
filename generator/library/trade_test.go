package library

import (
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator/diag"
)

// A firm's row that claims another trade's item, or names what is in no table, is a fault at its place.
func TestTradesThatClash(t *testing.T) {
	const head = "id,title,items,hot,openings,members,screws,does,never,decides,rules,cautions,source,status\n"
	for want, row := range map[string]string{
		"penetration cable stands with two trades": "solar,Solar fitter,cable,,,,,Ask,Do nothing,Nobody,,,own list,common practice",
		"every hot item stands with two trades":    "solar,Solar fitter,,yes,,,,Ask,Do nothing,Nobody,,,own list,common practice",
		`unknown rule "R-COL-99"`:                  "solar,Solar fitter,,,,,,Ask,Do nothing,Nobody,R-COL-99,,own list,common practice",
		`unknown caution "C-SUN"`:                  "solar,Solar fitter,,,,,,Ask,Do nothing,Nobody,,C-SUN,own list,common practice",
		`column "never" is empty`:                  "solar,Solar fitter,,,,,,Ask,,Nobody,,,own list,common practice",
	} {
		firm := fstest.MapFS{"tables/trades.csv": {Data: []byte(head + row + "\n")}}
		var found diag.List
		Load(content.FS, firm, nil, &found)
		err := found.Err()
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "firm/tables/trades.csv:2:") {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}
