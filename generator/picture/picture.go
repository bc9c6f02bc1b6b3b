// Package picture makes small pictures of large ones, for pages that show many.
package picture

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
)

// Bounds of what is read: a tablet's photo has 1600 pixels a side. Own choice.
const (
	maxSide  = 8_000
	maxBytes = 8 << 20
)

// Small gives a JPEG picture whose longer side is at most side pixels, as JPEG, with its size. Each pixel is the mean of
// those it stands for. What is no JPEG picture, or too large, is an error. The same bytes give the same picture.
func Small(data []byte, side int) (small []byte, width, height int, err error) {
	if side < 1 || len(data) > maxBytes {
		return nil, 0, 0, errors.New("the picture is too large")
	}
	head, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, 0, 0, err
	}
	if head.Width < 1 || head.Height < 1 || head.Width > maxSide || head.Height > maxSide {
		return nil, 0, 0, errors.New("the picture has too many pixels")
	}
	full, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, 0, 0, err
	}
	width, height = fit(head.Width, head.Height, side)
	var b bytes.Buffer
	err = jpeg.Encode(&b, mean(full, width, height), &jpeg.Options{Quality: 60})
	return b.Bytes(), width, height, err
}

// fit gives the size within a square of the given side, never larger than the picture.
func fit(w, h, side int) (int, int) {
	longest := max(w, h)
	if longest <= side {
		return w, h
	}
	return max(1, w*side/longest), max(1, h*side/longest)
}

// mean divides a picture into width by height fields and takes the mean of each.
func mean(full image.Image, width, height int) *image.RGBA {
	b := full.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		y0, y1 := b.Min.Y+y*b.Dy()/height, b.Min.Y+(y+1)*b.Dy()/height
		for x := range width {
			x0, x1 := b.Min.X+x*b.Dx()/width, b.Min.X+(x+1)*b.Dx()/width
			out.SetRGBA(x, y, field(full, x0, y0, x1, y1))
		}
	}
	return out
}

func field(full image.Image, x0, y0, x1, y1 int) color.RGBA {
	var r, g, b, n uint64
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			cr, cg, cb, _ := full.At(x, y).RGBA()
			r, g, b, n = r+uint64(cr), g+uint64(cg), b+uint64(cb), n+1
		}
	}
	return color.RGBA{uint8(r / n >> 8), uint8(g / n >> 8), uint8(b / n >> 8), 255}
}
