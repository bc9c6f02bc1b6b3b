package junction

import (
	"testing"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// A stack of sole plate 45, joist 245 and double top plate 90 mm that dries from 18 to 10 % moves 7.6 mm (case MOV-8 of
// testdata/moisture/19_wood_movement_cases.csv, coefficient from memory): 8 mm on the rule, and a loop of 2 × 8 + 20 mm. What the
// engineer states adds in full.
func TestSizeFold(t *testing.T) {
	for _, tt := range []struct {
		name           string
		wall           job.Wall
		movement, loop int
	}{
		{"timber", job.Wall{Timber: &job.CrossGrain{Depth: 380, From: 18, To: 10}}, 8, 36},
		{"timber that swells", job.Wall{Timber: &job.CrossGrain{Depth: 380, From: 10, To: 18}}, 8, 36},
		{"engineer", job.Wall{MovementMM: 12}, 12, 44},
		{"both", job.Wall{MovementMM: 12, Timber: &job.CrossGrain{Depth: 380, From: 18, To: 10}}, 20, 60},
	} {
		var found diag.List
		h := sizeFold(&tt.wall, &found)
		if h == nil || int(h.Movement) != tt.movement || int(h.Loop) != tt.loop {
			t.Errorf("%s: %+v, want movement %d and loop %d", tt.name, h, tt.movement, tt.loop)
		}
	}
	var found diag.List
	if h := sizeFold(&job.Wall{Timber: &job.CrossGrain{Depth: 380, From: 12, To: 12}}, &found); h != nil {
		t.Errorf("timber that stays as it is moves: %+v", h)
	}
}
