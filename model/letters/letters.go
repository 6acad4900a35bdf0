// Package letters sets words as outlines, so that they print alike on every machine. The
// typeface is Go's own, which comes with its module.
package letters

import (
	"fmt"
	"math"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A Face is a weight of the typeface.
type Face int

// The weights there are: for words, and for the figures of a scale.
const (
	Regular Face = iota
	Medium
)

// A Point is in mm, x to the right and y down.
type Point struct{ X, Y float64 }

// A Segment of an outline goes on from where the last ended: to move there with one point,
// in a straight line to it, as a quadratic curve with two, or a cubic one with three.
type Segment struct {
	Op     Op
	Points [3]Point
}

// An Op is what a segment does.
type Op uint8

// The ops, each with how many points it has.
const (
	Move Op = iota
	Line
	Quad
	Cube
)

// Ends returns how many points an op has; the last is where the segment ends.
func (o Op) Ends() int { return max(1, int(o)) }

// An Outline is a text that was set: its contours, to be filled by the non-zero rule, and
// the box of its ink.
type Outline struct {
	Segments []Segment
	Min, Max Point
	Missing  []rune // which the typeface does not have; they are left out
}

// Set returns a text with its ink's middle at 0, 0. Its capitals are height mm high;
// track is what stands between letters besides, as a share of that height. Characters that
// are not printed, such as marks of direction, are left out.
func Set(text string, face Face, height, track float64) Outline {
	f := fonts[face]()
	var o Outline
	pen, last := 0.0, sfnt.GlyphIndex(0)
	scale := height / f.capital
	for _, r := range text {
		if unicode.IsSpace(r) {
			r = ' '
		}
		if !unicode.IsPrint(r) && r != ' ' {
			continue
		}
		glyph := f.glyph(r)
		if glyph == 0 {
			o.Missing = append(o.Missing, r)
			continue
		}
		if last != 0 {
			pen += f.kern(last, glyph) + track*f.capital
		}
		o.add(f.outline(glyph), pen, scale)
		pen, last = pen+f.advance(glyph), glyph
	}
	o.box()
	return o.moved(-(o.Min.X+o.Max.X)/2, -(o.Min.Y+o.Max.Y)/2)
}

// Size returns the width and height of its ink, mm.
func (o *Outline) Size() (w, h float64) { return o.Max.X - o.Min.X, o.Max.Y - o.Min.Y }

// Placed is the outline turned by so many degrees clockwise, its middle at a point.
func (o Outline) Placed(at Point, turn float64) Outline {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	segments := make([]Segment, len(o.Segments))
	for i, s := range o.Segments {
		for k := range s.Op.Ends() {
			p := s.Points[k]
			s.Points[k] = Point{at.X + p.X*cos - p.Y*sin, at.Y + p.X*sin + p.Y*cos}
		}
		segments[i] = s
	}
	o.Segments = segments
	o.box()
	return o
}

// moved is the outline elsewhere.
func (o Outline) moved(x, y float64) Outline {
	for i := range o.Segments {
		for k := range o.Segments[i].Op.Ends() {
			p := &o.Segments[i].Points[k]
			p.X, p.Y = p.X+x, p.Y+y
		}
	}
	o.Min, o.Max = Point{o.Min.X + x, o.Min.Y + y}, Point{o.Max.X + x, o.Max.Y + y}
	return o
}

// add appends a glyph in units of the font.
func (o *Outline) add(glyph sfnt.Segments, pen, scale float64) {
	for _, s := range glyph {
		made := Segment{Op: Op(s.Op)}
		for k := range made.Op.Ends() {
			made.Points[k] = Point{(pen + units(s.Args[k].X)) * scale, units(s.Args[k].Y) * scale}
		}
		o.Segments = append(o.Segments, made)
	}
}

// box finds the ink's box. The control points of a curve may stand outside it: the curve
// is looked at instead.
func (o *Outline) box() {
	if len(o.Segments) == 0 {
		o.Min, o.Max = Point{}, Point{}
		return
	}
	o.Min, o.Max = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	o.Walk(func(p Point) {
		o.Min = Point{min(o.Min.X, p.X), min(o.Min.Y, p.Y)}
		o.Max = Point{max(o.Max.X, p.X), max(o.Max.Y, p.Y)}
	})
}

// Walk calls visit with points along the outline, on curves a sixteenth of them apart.
func (o *Outline) Walk(visit func(Point)) {
	const parts = 16
	var at Point
	for _, s := range o.Segments {
		end := s.Points[s.Op.Ends()-1]
		for k := 1; s.Op > Line && k < parts; k++ {
			visit(s.on(at, float64(k)/parts))
		}
		visit(end)
		at = end
	}
}

// on is the point of a curve from another at a share of it.
func (s Segment) on(from Point, t float64) Point {
	mix := func(a, b Point) Point { return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }
	a, b := mix(from, s.Points[0]), mix(s.Points[0], s.Points[1])
	if s.Op == Quad {
		return mix(a, b)
	}
	c := mix(s.Points[1], s.Points[2])
	return mix(mix(a, b), mix(b, c))
}

// A typeface is a font with what is asked of it at its own size, so that no hinting and no
// rounding of a size comes in.
type typeface struct {
	font    *sfnt.Font
	ppem    fixed.Int26_6
	capital float64 // height of an H
}

// fonts are read when they are first needed.
var fonts = [...]func() *typeface{
	Regular: sync.OnceValue(func() *typeface { return read(goregular.TTF) }),
	Medium:  sync.OnceValue(func() *typeface { return read(gomedium.TTF) }),
}

// read reads a font that is part of the program.
func read(ttf []byte) *typeface {
	font, err := sfnt.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("unreachable: the program's own typeface: %v", err))
	}
	f := &typeface{font: font, ppem: fixed.I(int(font.UnitsPerEm()))}
	var h Outline
	h.add(f.outline(f.glyph('H')), 0, 1)
	h.box()
	_, f.capital = h.Size()
	return f
}

// units is a length in units of the font.
func units(x fixed.Int26_6) float64 { return float64(x) / 64 }

func (f *typeface) glyph(r rune) sfnt.GlyphIndex {
	var b sfnt.Buffer
	index, err := f.font.GlyphIndex(&b, r)
	if err != nil {
		return 0
	}
	return index
}

func (f *typeface) outline(glyph sfnt.GlyphIndex) sfnt.Segments {
	var b sfnt.Buffer
	segments, err := f.font.LoadGlyph(&b, glyph, f.ppem, nil)
	if err != nil {
		return nil
	}
	if glyph == f.glyph('0') {
		return f.plainZero(segments)
	}
	return segments
}

// plainZero is a zero without the stroke through it that the typeface has, for it would
// look like a mark on a scale: the two rounds of the letter O, made as wide and as high as
// the zero, with the O's thickness.
func (f *typeface) plainZero(zero sfnt.Segments) sfnt.Segments {
	o := f.outline(f.glyph('O'))
	inner := 1
	for ; inner < len(o) && o[inner].Op != sfnt.SegmentOpMoveTo; inner++ {
	}
	if inner == len(o) {
		return zero
	}
	outside, within, box := o[:inner].Bounds(), o[inner:].Bounds(), zero.Bounds()
	thick := fixed.Point26_6{X: within.Min.X - outside.Min.X, Y: within.Min.Y - outside.Min.Y}
	hole := fixed.Rectangle26_6{Min: box.Min.Add(thick), Max: box.Max.Sub(thick)}
	return append(fitted(o[:inner], outside, box), fitted(o[inner:], within, hole)...)
}

// fitted is an outline stretched from one box to another.
func fitted(s sfnt.Segments, from, to fixed.Rectangle26_6) sfnt.Segments {
	stretch := func(x, low, high, newLow, newHigh fixed.Int26_6) fixed.Int26_6 {
		return newLow + fixed.Int26_6(int64(x-low)*int64(newHigh-newLow)/int64(high-low))
	}
	made := make(sfnt.Segments, len(s))
	for i, part := range s {
		for k, p := range part.Args {
			part.Args[k] = fixed.Point26_6{
				X: stretch(p.X, from.Min.X, from.Max.X, to.Min.X, to.Max.X),
				Y: stretch(p.Y, from.Min.Y, from.Max.Y, to.Min.Y, to.Max.Y),
			}
		}
		made[i] = part
	}
	return made
}

func (f *typeface) advance(glyph sfnt.GlyphIndex) float64 {
	var b sfnt.Buffer
	advance, _ := f.font.GlyphAdvance(&b, glyph, f.ppem, font.HintingNone)
	return units(advance)
}

// kern is 0 where the font has none for a pair.
func (f *typeface) kern(a, b sfnt.GlyphIndex) float64 {
	var buffer sfnt.Buffer
	kern, err := f.font.Kern(&buffer, a, b, f.ppem, font.HintingNone)
	if err != nil {
		return 0
	}
	return units(kern)
}
