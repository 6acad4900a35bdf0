package draw

import (
	"math"

	"example.com/needlewright/model/dial"
	"example.com/needlewright/ui/cells"
)

// A face is the geometry of one dial in dots: its pivot, the radius of its
// scale, and half its sweep in radians from straight up.
type face struct{ x, y, r, half float64 }

// Room round the scale for its numerals, in dots.
const (
	numeralsAside = 7
	numeralsAbove = 5
)

// newFace fits a dial of a sweep, in degrees, into w by h dots. The pivot of a
// shallow dial may lie below them, as a panel meter hides its own behind the
// cover.
func newFace(w, h int, sweep float64) face {
	half := sweep / 2 * math.Pi / 180
	wide, high := float64(w)/2-numeralsAside, float64(h)-numeralsAbove
	f := face{x: float64(w-1) / 2, half: half}
	if half <= math.Pi/2 {
		f.r = wide / math.Sin(half)
		if drop := 1 - math.Cos(half); f.r*drop > high*0.6 { // leave room for the needle under the ends
			f.r = high * 0.6 / drop
		}
		f.y = numeralsAbove + f.r + max(0, (high-f.r)/2)
		return f
	}
	high -= numeralsAbove // numerals below the ends too
	f.r = min(wide, high/(1-math.Cos(half)))
	f.y = numeralsAbove + f.r
	return f
}

// angle is where a share of the scale stands.
func (f face) angle(share float64) float64 { return f.half * (2*share - 1) }

// roomyDial is the width in dots from which every large mark has its numeral.
const roomyDial = 56

// A Dial is a dial as it is to be drawn.
type Dial struct {
	Sweep float64 // degrees
	Marks []dial.Mark
	Place float64 // of the needle, a share of the scale
	Style cells.Style

	Beside *float64 // the place of another needle, dim, below the first; nil: there is none
}

// Draw draws the scale with its marks and numerals, and the needle.
func (d *Dial) Draw(at cells.Area) {
	plot := cells.NewPlot(at)
	w, h := plot.Size()
	f := newFace(w, h, d.Sweep)
	plot.Arc(f.x, f.y, f.r, -f.half, f.half)
	for _, m := range d.Marks {
		angle := f.angle(m.Place)
		long := 3.0
		if m.Large {
			long = 6
		}
		from, to := cells.OnCircle(f.x, f.y, f.r-long, angle), cells.OnCircle(f.x, f.y, f.r, angle)
		plot.Line(from.X, from.Y, to.X, to.Y)
	}
	plot.Draw(scale)
	named := d.Marks
	if w < roomyDial { // the ends and the middle will do
		named = dial.Sparse(named)
	}
	for _, m := range named {
		f.drawNumeral(at, m.Place, m.Numeral)
	}
	if d.Beside != nil {
		f.drawNeedle(plot, *d.Beside, Dim)
	}
	f.drawNeedle(plot, d.Place, d.Style)
}

// drawNumeral writes a numeral outside the scale, clear of it by its own width
// where it stands beside it.
func (f face) drawNumeral(at cells.Area, share float64, s string) {
	angle := f.angle(share)
	p := cells.OnCircle(f.x, f.y, f.r+5, angle)
	wide := float64(len(s))
	x := p.X/cells.DotsWide - wide/2 + math.Sin(angle)*(wide/2)
	at.Text(int(math.Round(x)), int(math.Round(p.Y/cells.DotsHigh-0.4)), Label, s)
}

// drawNeedle draws the needle from its pivot to the scale. Beyond the ends it
// stops at a peg just outside them.
func (f face) drawNeedle(plot *cells.Plot, place float64, style cells.Style) {
	angle := f.angle(max(-0.04, min(place, 1.04)))
	tip := cells.OnCircle(f.x, f.y, f.r-1, angle)
	for _, aside := range [...]float64{-1, 0, 1} { // thick at the pivot, fine at the scale
		from := cells.OnCircle(f.x, f.y, aside, angle+math.Pi/2)
		plot.Line(from.X, from.Y, tip.X, tip.Y)
	}
	plot.Draw(style)
}
