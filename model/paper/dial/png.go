package dial

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"

	"golang.org/x/image/vector"

	"example.com/needlewright/model/letters"

	plate "example.com/needlewright/model/dial"
)

// How finely a sheet is drawn as PNG, in dots an inch.
const (
	LeastDPI = 50
	MostDPI  = 1200
)

// PNG returns a sheet as a picture of so many dots an inch, which it says itself.
func PNG(p *plate.Page, dpi int) ([]byte, error) {
	scale := float64(dpi) / 25.4
	sheet := image.NewGray(image.Rect(0, 0, int(math.Round(p.Width*scale)), int(math.Round(p.Height*scale))))
	for i := range sheet.Pix {
		sheet.Pix[i] = 255
	}
	for _, s := range shapesOf(p) {
		paint(sheet, s.outlined(), s.grey, scale)
	}
	var out bytes.Buffer
	if err := png.Encode(&out, sheet); err != nil {
		return nil, err
	}
	return withDensity(out.Bytes(), dpi), nil
}

// outlined is what a shape covers, as a path to be filled.
func (s shape) outlined() []letters.Segment {
	if s.width == 0 {
		return s.path
	}
	return strokeOf(s.path, s.width)
}

// strokeOf is what a stroke covers: each straight piece by a rectangle, curves by many
// short ones, whose joints overlap.
func strokeOf(path []letters.Segment, width float64) []letters.Segment {
	o := letters.Outline{Segments: path}
	var points []plate.Point
	o.Walk(func(p plate.Point) { points = append(points, p) })
	var left, right []plate.Point
	for i, p := range points {
		before, behind := points[max(i-1, 0)], points[min(i+1, len(points)-1)]
		dx, dy := behind.X-before.X, behind.Y-before.Y
		long := math.Hypot(dx, dy)
		x, y := -dy/long*width/2, dx/long*width/2
		left = append(left, plate.Point{X: p.X + x, Y: p.Y + y})
		right = append(right, plate.Point{X: p.X - x, Y: p.Y - y})
	}
	outline := []letters.Segment{to(letters.Move, left[0])}
	for _, p := range left[1:] {
		outline = append(outline, to(letters.Line, p))
	}
	for i := len(right) - 1; i >= 0; i-- {
		outline = append(outline, to(letters.Line, right[i]))
	}
	return outline
}

// tile is how many dots a piece of the sheet is wide and high that is painted at once: of
// so few the painter computes in whole numbers.
const tile = 256

// paint fills a path on the sheet, tile by tile.
func paint(sheet *image.Gray, path []letters.Segment, grey, scale float64) {
	box := pixels(path, scale).Intersect(sheet.Bounds())
	ink := image.NewUniform(color.Gray{Y: uint8(math.Round(grey * 255))})
	for y := box.Min.Y; y < box.Max.Y; y += tile {
		for x := box.Min.X; x < box.Max.X; x += tile {
			part := image.Rect(x, y, min(x+tile, box.Max.X), min(y+tile, box.Max.Y))
			z := vector.NewRasterizer(part.Dx(), part.Dy())
			for _, s := range path {
				trace(z, s, scale, part.Min)
			}
			z.ClosePath()
			z.Draw(sheet, part, ink, image.Point{})
		}
	}
}

// trace hands a segment to the painter.
func trace(z *vector.Rasterizer, s letters.Segment, scale float64, from image.Point) {
	var p [3][2]float32
	for k := range s.Op.Ends() {
		p[k] = [2]float32{float32(s.Points[k].X*scale - float64(from.X)), float32(s.Points[k].Y*scale - float64(from.Y))}
	}
	switch s.Op {
	case letters.Move:
		z.ClosePath()
		z.MoveTo(p[0][0], p[0][1])
	case letters.Line:
		z.LineTo(p[0][0], p[0][1])
	case letters.Quad:
		z.QuadTo(p[0][0], p[0][1], p[1][0], p[1][1])
	case letters.Cube:
		z.CubeTo(p[0][0], p[0][1], p[1][0], p[1][1], p[2][0], p[2][1])
	}
}

// pixels are the dots that a path may touch.
func pixels(path []letters.Segment, scale float64) image.Rectangle {
	low, high := plate.Point{X: math.Inf(1), Y: math.Inf(1)}, plate.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, s := range path {
		for _, p := range s.Points[:s.Op.Ends()] {
			low = plate.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
			high = plate.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
		}
	}
	if low.X > high.X {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(low.X*scale)), int(math.Floor(low.Y*scale)), int(math.Ceil(high.X*scale)), int(math.Ceil(high.Y*scale)))
}

// withDensity is a PNG that says how many dots it has to the metre, in a chunk behind its
// head: PNG (Third Edition), 11.3.4.3.
func withDensity(picture []byte, dpi int) []byte {
	const head = 8 + 12 + 13 // signature, and the chunk IHDR
	chunk := []byte{0, 0, 0, 9, 'p', 'H', 'Y', 's'}
	perMetre := uint32(math.Round(float64(dpi) / 0.0254))
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the metre
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return append(append(append([]byte{}, picture[:head]...), chunk...), picture[head:]...)
}
