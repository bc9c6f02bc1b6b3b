package theme

import (
	"fmt"
	"math"
	"strconv"
)

// Contrast is the ratio of the luminances of two colours #rrggbb, from 1 to 21; NaN where one is no colour. Definitions of
// relative luminance and contrast ratio: WCAG 2.2 (from memory).
func Contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(colour string) float64 {
	c, ok := channels(colour)
	if !ok {
		return math.NaN()
	}
	linear := func(v float64) float64 {
		if v /= 255; v > 0.04045 {
			return math.Pow((v+0.055)/1.055, 2.4)
		}
		return v / 12.92
	}
	return 0.2126*linear(c[0]) + 0.7152*linear(c[1]) + 0.0722*linear(c[2])
}

// channels are red, green and blue, from 0 to 255, of #RRGGBB or #RGB.
func channels(colour string) (out [3]float64, ok bool) {
	if len(colour) == 4 {
		colour = string([]byte{colour[0], colour[1], colour[1], colour[2], colour[2], colour[3], colour[3]})
	}
	if len(colour) != 7 || colour[0] != '#' {
		return out, false
	}
	for i := range out {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			return out, false
		}
		out[i] = float64(n)
	}
	return out, true
}

// nearest mixes a colour with black or white, a twentieth at a time, until it stands out from a ground by the ratio. ok is
// false where neither end does.
func nearest(colour, ground string, least float64) (string, bool) {
	c, ok := channels(colour)
	if !ok {
		return "", false
	}
	for step := 0.0; step <= 20; step++ {
		for _, end := range []float64{0, 255} {
			var mixed [3]int
			for i := range mixed {
				mixed[i] = int(math.Round(c[i] + (end-c[i])*step/20))
			}
			if out := fmt.Sprintf("#%02x%02x%02x", mixed[0], mixed[1], mixed[2]); Contrast(out, ground) >= least {
				return out, true
			}
		}
	}
	return "", false
}
