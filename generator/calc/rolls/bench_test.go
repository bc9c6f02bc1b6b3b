package rolls

import (
	"context"
	"testing"
)

// BenchmarkDelivery cuts stored realistic deliveries to the proven optimum.
func BenchmarkDelivery(b *testing.B) {
	for _, f := range stored(b, "cutting-real") {
		switch f.id {
		case "real-07-n18", "real-19-n200", "real-21-n300", "real-28-n1400":
		default:
			continue
		}
		b.Run(f.id, func(b *testing.B) {
			for b.Loop() {
				p, err := Solve(context.Background(), f.in, Limits{})
				if err != nil || p.Cost != f.optimum || !p.Proven() {
					b.Fatal(p.Cost, p.Bound, err)
				}
			}
		})
	}
}
