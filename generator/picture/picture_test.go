package picture_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	_ "lapwork/generator/lawtest"
	"lapwork/generator/picture"

	"pgregory.net/rapid"
)

func jpegOf(t interface{ Fatal(...any) }, w, h int, at func(x, y int) color.Gray) []byte {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, at(x, y))
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A field of stripes one pixel wide is their mean: 0 and 200 give 100. JPEG at these qualities is off by a few of 255.
func TestSmallTakesTheMean(t *testing.T) {
	data := jpegOf(t, 640, 480, func(x, _ int) color.Gray { return color.Gray{uint8(x % 2 * 200)} })
	small, w, h, err := picture.Small(data, 320)
	if err != nil || w != 320 || h != 240 {
		t.Fatalf("%dx%d, %v", w, h, err)
	}
	img, err := jpeg.Decode(bytes.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []image.Point{{3, 3}, {160, 120}, {316, 236}} {
		r, _, _, _ := img.At(p.X, p.Y).RGBA()
		if got := int(r >> 8); got < 94 || got > 106 {
			t.Errorf("at %v the mean of 0 and 200 is %d", p, got)
		}
	}
}

func TestSmallLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h, side := rapid.IntRange(1, 90).Draw(t, "width"), rapid.IntRange(1, 90).Draw(t, "height"), rapid.IntRange(1, 60).Draw(t, "side")
		data := jpegOf(t, w, h, func(x, y int) color.Gray { return color.Gray{uint8(x*7 + y)} })
		small, gw, gh, err := picture.Small(data, side)
		if err != nil {
			t.Fatal(err)
		}
		if gw < 1 || gh < 1 || gw > max(1, min(w, side)) || gh > max(1, min(h, side)) {
			t.Fatalf("%dx%d of %dx%d within %d", gw, gh, w, h, side)
		}
		if c, err := jpeg.DecodeConfig(bytes.NewReader(small)); err != nil || c.Width != gw || c.Height != gh {
			t.Fatalf("it says %dx%d and is %dx%d, %v", gw, gh, c.Width, c.Height, err)
		}
		again, _, _, err := picture.Small(data, side)
		if err != nil || !bytes.Equal(small, again) {
			t.Fatal("the same bytes give another picture")
		}
	})
}

func TestSmallRefuses(t *testing.T) {
	good := jpegOf(t, 40, 30, func(int, int) color.Gray { return color.Gray{9} })
	for name, data := range map[string][]byte{"nothing": nil, "a text": []byte("GIF89a no picture"), "half a picture": good[:len(good)/2], "too many bytes": make([]byte, 9<<20)} {
		if _, _, _, err := picture.Small(data, 100); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

func FuzzSmall(f *testing.F) {
	f.Add(jpegOf(f, 40, 30, func(x, y int) color.Gray { return color.Gray{uint8(x * y)} }))
	f.Fuzz(func(t *testing.T, data []byte) {
		small, w, h, err := picture.Small(data, 20)
		if err == nil && (len(small) == 0 || w < 1 || w > 20 || h < 1 || h > 20) {
			t.Fatalf("%d bytes, %dx%d", len(small), w, h)
		}
	})
}
