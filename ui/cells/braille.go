package cells

import "math"

// Dots of a cell across and down. A cell is about twice as high as wide, so
// the dots lie about as far apart across as down: a circle in dots looks round.
const (
	DotsWide = 2
	DotsHigh = 4
)

// braille is the pattern without dots; the dots are added as bits.
const braille rune = 0x2800

// dotBits holds the bit of each dot by row and column (Unicode, chapter on
// braille patterns: bits 1 to 8 for dots 1 to 8, of which 7 and 8 are below).
var dotBits = [DotsHigh][DotsWide]byte{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// A Point is a place on a Plot: X dots right and Y dots down from the middle
// of the top left dot. Whole numbers are the middles of dots.
type Point struct{ X, Y float64 }

// A Plot draws with the dots of braille characters, finer than a cell: lines
// for a needle, a scale, a curve. What lies outside it is cut, and what is not
// a finite number is left out.
type Plot struct {
	area Area
	w, h int    // dots
	bits []byte // a byte of dots for each cell
}

// NewPlot returns an empty plot over the area.
func NewPlot(a Area) *Plot {
	return &Plot{area: a, w: a.w * DotsWide, h: a.h * DotsHigh, bits: make([]byte, a.w*a.h)}
}

// Size returns the dots across and down.
func (p *Plot) Size() (w, h int) { return p.w, p.h }

// Dot sets the dot nearest to (x, y).
func (p *Plot) Dot(x, y float64) {
	x, y = math.Round(x), math.Round(y)
	if x >= 0 && x < float64(p.w) && y >= 0 && y < float64(p.h) { // false for NaN
		i, j := int(x), int(y)
		p.bits[j/DotsHigh*p.area.w+i/DotsWide] |= dotBits[j%DotsHigh][i%DotsWide]
	}
}

// Line sets the dots from (x0, y0) to (x1, y1), one in each column of dots, or
// in each row if it is steep: without gaps, and no thicker than a dot.
func (p *Plot) Line(x0, y0, x1, y1 float64) {
	dx, dy := x1-x0, y1-y0
	if math.IsNaN(dx) || math.IsNaN(dy) || math.IsInf(dx, 0) || math.IsInf(dy, 0) {
		return
	}
	switch {
	case dx == 0 && dy == 0:
		p.Dot(x0, y0)
	case math.Abs(dx) >= math.Abs(dy):
		for x, end := between(x0, x1, p.w); x <= end; x++ {
			p.Dot(x, y0+(x-x0)*(dy/dx))
		}
	default:
		for y, end := between(y0, y1, p.h); y <= end; y++ {
			p.Dot(x0+(y-y0)*(dx/dy), y)
		}
	}
}

// between returns the first and the last dot from a to b that lie in 0 to n-1,
// so that a line that leads far outside costs no more than the plot is wide.
func between(a, b float64, n int) (first, last float64) {
	return max(math.Round(min(a, b)), 0), min(math.Round(max(a, b)), float64(n-1))
}

// maxChords bounds the work for an arc of absurd radius.
const maxChords = 4096

// Arc draws part of the circle of radius r dots round (x, y), between two
// angles in radians, 0 straight up and growing clockwise as on a dial.
func (p *Plot) Arc(x, y, r, from, to float64) {
	// A chord of one dot leaves the circle by r - sqrt(r² - 1/4): from r = 1
	// on by at most 0.14 dots.
	chords := math.Min(math.Ceil(math.Abs((to-from)*r)), maxChords)
	if math.IsNaN(chords) {
		return
	}
	at := OnCircle(x, y, r, from)
	for i := 1.0; i <= chords; i++ {
		end := OnCircle(x, y, r, from+(to-from)*i/chords)
		p.Line(at.X, at.Y, end.X, end.Y)
		at = end
	}
}

// OnCircle returns the point at the angle on the circle, with the meanings of
// Arc: where a needle of length r ends.
func OnCircle(x, y, r, angle float64) Point {
	return Point{X: x + r*math.Sin(angle), Y: y - r*math.Cos(angle)}
}

// Draw writes the cells that have dots, in the style, and empties the plot for
// the next layer. Other cells stay as they are. Where dots stand already the
// new ones are added and the style is the new one.
func (p *Plot) Draw(st Style) {
	for y := range p.area.h {
		row := p.area.row(y)
		for x := range row {
			dots := rune(p.bits[y*p.area.w+x])
			if dots == 0 {
				continue
			}
			if old := row[x].r - braille; old > 0 && old < 0x100 {
				dots |= old
			}
			row[x] = cell{r: braille + dots, style: st}
		}
	}
	clear(p.bits)
}
