package letters

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Capitals are as high as they were asked for, a text's middle is at 0, 0, and what the
// typeface lacks is named.
func TestSet(t *testing.T) {
	for _, face := range []Face{Regular, Medium} {
		o := Set("H", face, 5, 0)
		w, h := o.Size()
		assert.InDelta(t, 5, h, 1e-9)
		assert.Positive(t, w)
		assert.InDelta(t, 0, o.Min.X+o.Max.X, 1e-9)
		assert.InDelta(t, 0, o.Min.Y+o.Max.Y, 1e-9)
	}
	wide, _ := sizeOf("HH", 0.5)
	narrow, _ := sizeOf("HH", 0)
	assert.InDelta(t, 0.5*5, wide-narrow, 1e-9, "half a height between")
	o := Set("A時\u202eB", Regular, 5, 0)
	assert.Equal(t, []rune{'時'}, o.Missing)
	plain := Set("AB", Regular, 5, 0)
	assert.Equal(t, plain.Segments, o.Segments)
	empty := Set("\u202e", Regular, 5, 0)
	assert.Empty(t, empty.Segments)
}

// sizeOf is the size of a text 5 mm high.
func sizeOf(text string, track float64) (w, h float64) {
	o := Set(text, Regular, 5, track)
	return o.Size()
}

// A zero has no stroke through it: two contours, as wide and high as the typeface's.
func TestPlainZero(t *testing.T) {
	zero := Set("0", Medium, 5, 0)
	contours := 0
	for _, s := range zero.Segments {
		if s.Op == Move {
			contours++
		}
	}
	assert.Equal(t, 2, contours)
	w, h := zero.Size()
	eight := Set("8", Medium, 5, 0)
	w8, h8 := eight.Size()
	assert.InDelta(t, w8, w, 0.4)
	assert.InDelta(t, h8, h, 0.2)
}

// Turned by a quarter clockwise, what was to the right is below. Derived.
func TestPlaced(t *testing.T) {
	o := Set("H", Regular, 5, 0)
	turned := o.Placed(Point{X: 10, Y: 20}, 90)
	w, h := o.Size()
	tw, th := turned.Size()
	assert.InDelta(t, w, th, 1e-9)
	assert.InDelta(t, h, tw, 1e-9)
	assert.InDelta(t, 10, (turned.Min.X+turned.Max.X)/2, 1e-9)
	first := o.Segments[0].Points[0]
	assert.InDelta(t, 10-first.Y, turned.Segments[0].Points[0].X, 1e-9)
	assert.InDelta(t, 20+first.X, turned.Segments[0].Points[0].Y, 1e-9)
	assert.False(t, math.IsNaN(turned.Min.X))
}
