package draw

import (
	"math"
	"slices"

	"example.com/needlewright/model/dial"
	"example.com/needlewright/ui/cells"
)

// A face is the geometry of one dial in dots: its pivot, the radius of its
// scale, and half its sweep in radians from straight up; turn is -1 where the scale runs
// from right to left, else 1.
type face struct{ x, y, r, half, turn float64 }

// Room round the scale for its numerals, in dots: aside of a scale that goes round its
// pivot for two digits, where a dial is wide enough.
const (
	numeralsAside = 7
	digitsAside   = 11
	wideDial      = 72
	numeralsAbove = 5
)

// newFace fits a dial of a sweep, in degrees, into w by h dots. The pivot of a
// shallow dial may lie below them, as a panel meter hides its own behind the
// cover.
func newFace(w, h int, sweep float64) face {
	half := sweep / 2 * math.Pi / 180
	wide, high := float64(w)/2-numeralsAside, float64(h)-numeralsAbove
	f := face{x: float64(w-1) / 2, half: half, turn: 1}
	if half <= math.Pi/2 {
		f.r = wide / math.Sin(half)
		if drop := 1 - math.Cos(half); f.r*drop > high*0.6 { // leave room for the needle under the ends
			f.r = high * 0.6 / drop
		}
		f.y = numeralsAbove + f.r + max(0, (high-f.r)/2)
		return f
	}
	high -= numeralsAbove // numerals below the ends too
	if w >= wideDial {
		wide += numeralsAside - digitsAside
	}
	f.r = min(wide, high/(1-math.Cos(half)))
	f.y = numeralsAbove + f.r
	return f
}

// toTheLeft is the same dial with a scale that runs from right to left.
func (f face) toTheLeft() face {
	f.turn = -1
	return f
}

// angle is where a share of the scale stands.
func (f face) angle(share float64) float64 { return f.turn * f.half * (2*share - 1) }

// low is how far down a dial reaches: to its pivot, or the ends of a scale that go below it.
func (f face) low() float64 { return f.y + max(0, -f.r*math.Cos(f.half)) }

// standingOn is the dial moved down to a line, where it does not reach it.
func (f face) standingOn(line float64) face {
	f.y += max(0, line-f.low())
	return f
}

// Of the marks, in dots: where they begin inside the scale, so that they are told apart from
// it, how long they are, and how far they stand apart at least.
const (
	markInside           = 3
	smallMark, largeMark = 2, 5
	marksApart           = 5
)

// A Dial is a dial as it is to be drawn.
type Dial struct {
	Sweep float64 // degrees
	Left  bool    // it runs to the left: its needle rests at the right end
	Marks []dial.Mark
	Place float64 // of the needle, a share of the scale
	Style cells.Style

	Beside *float64 // the place of another needle, dim, below the first; nil: there is none
}

// Draw draws the scale with its marks and numerals, and the needle.
func (d *Dial) Draw(at cells.Area) { Dials([]Dial{*d}, []cells.Area{at}) }

// Dials draws dials side by side, each in its area of one height: they stand on one line.
func Dials(dials []Dial, at []cells.Area) {
	faces, base := make([]face, len(dials)), 0.0
	for i := range dials {
		w, h := at[i].Size()
		faces[i] = newFace(w*cells.DotsWide, h*cells.DotsHigh, dials[i].Sweep)
		if dials[i].Left {
			faces[i] = faces[i].toTheLeft()
		}
		base = max(base, min(faces[i].low(), float64(h*cells.DotsHigh-1)))
	}
	for i := range dials {
		dials[i].drawOn(at[i], faces[i].standingOn(base))
	}
}

func (d *Dial) drawOn(at cells.Area, f face) {
	plot := cells.NewPlot(at)
	plot.Arc(f.x, f.y, f.r, -f.half, f.half)
	for _, m := range f.marks(d.Marks) {
		long := float64(smallMark)
		if m.Large {
			long = largeMark
		}
		angle := f.angle(m.Place)
		from, to := cells.OnCircle(f.x, f.y, f.r-markInside-long, angle), cells.OnCircle(f.x, f.y, f.r-markInside, angle)
		plot.Line(from.X, from.Y, to.X, to.Y)
	}
	plot.Draw(scale)
	for _, n := range f.numerals(at, d.Marks) {
		at.Text(n.x, n.y, Label, n.text)
	}
	if d.Beside != nil {
		f.drawNeedle(plot, *d.Beside, Dim)
	}
	f.drawNeedle(plot, d.Place, d.Style)
}

// marks are as many of a dial's as stand apart enough, in even steps: the large ones in any
// case, and where a scale is drawn together the small ones that have room there.
func (f face) marks(all []dial.Mark) []dial.Mark {
	var marks []dial.Mark
	for _, m := range dial.Every(all, f.step(all)) {
		n := len(marks)
		near := n > 0 && f.r*math.Abs(f.angle(m.Place)-f.angle(marks[n-1].Place)) < marksApart
		switch {
		case near && !m.Large:
			continue
		case near && !marks[n-1].Large:
			marks = marks[:n-1]
		}
		marks = append(marks, m)
	}
	return marks
}

// step is the closest step in which marks stand apart enough if they are spread evenly.
func (f face) step(all []dial.Mark) int {
	step := 1
	for _, step = range dial.Steps(all) {
		if 2*f.half*f.r*taken(all)*float64(step) >= marksApart*float64(len(all)-1) {
			break
		}
	}
	return step
}

// taken is the share of the whole scale from the first mark to the last.
func taken(marks []dial.Mark) float64 {
	if len(marks) == 0 {
		return 1
	}
	return marks[len(marks)-1].Place - marks[0].Place
}

// A numeral is where a numeral stands, in cells.
type numeral struct {
	x, y int
	text string
}

// numerals are those of the ends and of the middle, and all of the closest step that have
// room beside these; or else, where a scale is drawn together, the large marks that have.
func (f face) numerals(at cells.Area, marks []dial.Mark) []numeral {
	steps := dial.Steps(marks)
	if steps == nil {
		return nil
	}
	var always []numeral
	for _, m := range dial.Every(marks, steps[len(steps)-1]) {
		always = append(always, f.numeral(m))
	}
	w, h := at.Size()
	for _, step := range steps[:len(steps)-1] {
		if all, ok := f.beside(always, dial.Every(marks, step), w, h); ok {
			return all
		}
	}
	if even(marks) { // some of those that are left would stand on one side only
		return always
	}
	all, _ := f.beside(always, slices.DeleteFunc(slices.Clone(marks), func(m dial.Mark) bool { return !m.Large }), w, h)
	return all
}

// even says whether marks are spread evenly.
func even(marks []dial.Mark) bool {
	return !slices.ContainsFunc(marks, func(m dial.Mark) bool {
		evenly := marks[0].Place + taken(marks)*float64(slices.Index(marks, m))/float64(len(marks)-1)
		return math.Abs(m.Place-evenly) > 1e-6
	})
}

// beside adds the numerals of marks that have room in w by h cells beside those that stand
// there; all is whether each has.
func (f face) beside(there []numeral, marks []dial.Mark, w, h int) (numerals []numeral, all bool) {
	numerals, all = slices.Clone(there), true
	for _, m := range marks {
		n := f.numeral(m)
		if slices.Contains(there, n) {
			continue
		}
		fits := n.x > 0 && n.x+len(n.text) < w && n.y >= 0 && n.y < h // another dial may stand beside it
		if fits && !slices.ContainsFunc(numerals, func(other numeral) bool { return !n.clear(other) }) {
			numerals = append(numerals, n)
		} else {
			all = false
		}
	}
	return numerals, all
}

// clear says whether two numerals are read apart.
func (n numeral) clear(other numeral) bool {
	const aside = 2 // columns between numerals of a row; of neighbouring rows none may cover the other
	gap := max(n.x-other.x-len(other.text), other.x-n.x-len(n.text))
	switch n.y - other.y {
	case 0:
		return gap >= aside
	case 1, -1:
		return gap >= 0
	}
	return true
}

// numeral places a mark's numeral outside the scale, clear of it by its own width where it
// stands beside it.
func (f face) numeral(m dial.Mark) numeral {
	angle := f.angle(m.Place)
	p := cells.OnCircle(f.x, f.y, f.r+5, angle)
	wide := float64(len(m.Numeral))
	x := p.X/cells.DotsWide - wide/2 + math.Sin(angle)*(wide/2)
	return numeral{int(math.Round(x)), int(math.Round(p.Y/cells.DotsHigh - 0.4)), m.Numeral}
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
