package dial

import (
	"cmp"
	"math"
	"strings"

	"example.com/needlewright/model/letters"
)

// Of the title: its height beside the numerals', how its letters are spaced, and how far
// it keeps from all else, mm.
const (
	titleShare = 0.62
	titleTrack = 0.08
	titleClear = 2.5
)

// title is set on the line through the pivot, as high as it looks best where it runs into
// nothing, and smaller where it would be too wide.
func (d *drawing) title(build string) {
	text := strings.TrimSpace(cmp.Or(d.form.Title, build))
	if text == "" || text == "none" {
		return
	}
	height := millimetres(d.form.TitleHeight, 0)
	shrink := [][]float64{{1}}
	if height == 0 { // rather a little smaller than in another place
		height, shrink = titleShare*d.figure, [][]float64{{1, 0.9, 0.8}, {0.7, 0.6, 0.5}}
	}
	d.plate.Words = text
	best := letters.Set(text, letters.Regular, height, titleTrack)
	if len(best.Missing) > 0 {
		d.plate.note("the typeface has no %s, which the title leaves out", quotedRunes(best.Missing))
	}
	there, above, below := d.plate.hulls(), d.above(), d.below()
	for _, sizes := range shrink {
		for _, places := range [][]Point{above, below} {
			for _, by := range sizes {
				o := letters.Set(text, letters.Regular, height*by, titleTrack)
				for _, at := range places {
					if d.isFree(boxOf(o, at, 0), there) {
						d.plate.Title = placed(o, at)
						return
					}
				}
			}
		}
	}
	d.plate.Title = placed(best, above[0])
	if len(best.Segments) > 0 {
		d.plate.note("the title runs into something or over the edge: a shorter one, or a smaller title_height")
	}
}

func placed(o letters.Outline, at Point) *letters.Outline {
	o = o.Placed(at, 0)
	return &o
}

// quotedRunes are characters as a message names them, some of many.
func quotedRunes(runes []rune) string {
	const most = 6
	text := string(runes[:min(len(runes), most)])
	if len(runes) > most {
		text += "…"
	}
	return `"` + text + `"`
}

// above are the places between the pivot and the arc where a title may stand, the best
// first.
func (d *drawing) above() []Point {
	e := d.plate.Edge
	low := min(d.plate.Pivot.Y, e.Y+e.Height-2)
	high := d.plate.Pivot.Y - d.inner
	var places []Point
	for _, share := range [...]float64{0.52, 0.46, 0.58, 0.4, 0.64, 0.34, 0.7, 0.28, 0.22} {
		places = append(places, xy(d.middle(), low+share*(high-low)))
	}
	return places
}

// below are those under the pivot.
func (d *drawing) below() []Point {
	e := d.plate.Edge
	room := e.Y + e.Height - d.plate.Pivot.Y
	var places []Point
	for _, share := range [...]float64{0.55, 0.45, 0.65, 0.35, 0.75} {
		places = append(places, xy(d.middle(), d.plate.Pivot.Y+share*room))
	}
	return places
}

// middle is what a title is centred on: the pivot, or the plate where that is far aside.
func (d *drawing) middle() float64 {
	e, x := d.plate.Edge, d.plate.Pivot.X
	if x < e.X+e.Width/4 || x > e.X+e.Width*3/4 {
		return e.X + e.Width/2
	}
	return x
}

// isFree says whether nothing stands where a title would, and it is within the plate.
func (d *drawing) isFree(box hull, there []hull) bool {
	p := d.plate
	e := Rect{p.Edge.X + titleClear, p.Edge.Y + titleClear, p.Edge.Width - 2*titleClear, p.Edge.Height - 2*titleClear}
	if !box.within(e) || box.apart(hull{p.Pivot}) < pivotClear {
		return false
	}
	for _, other := range there {
		if box.apart(other) < titleClear {
			return false
		}
	}
	return true
}

// pivotClear is what a title keeps from the pivot, where the needle's hub covers it, mm.
const pivotClear = 6.0

// hulls are those of all that stands on a plate but its title.
func (p *Plate) hulls() []hull {
	var all []hull
	for _, t := range p.Ticks {
		all = append(all, alongLine(t.Line))
	}
	for _, n := range p.Numerals {
		all = append(all, n.hull)
	}
	for _, c := range append(append([]Circle{}, p.Holes...), p.Windows...) {
		all = append(all, round(c))
	}
	if s := p.Second; s != nil {
		for _, t := range s.Lines {
			all = append(all, alongLine(t.Line))
		}
		for _, n := range s.Numerals {
			all = append(all, n.hull)
		}
	}
	arcs := []Band{{p.Radius, p.Radius, p.Start, p.Start + p.Sweep}}
	if p.Mirror != nil {
		arcs = append(arcs, *p.Mirror)
	}
	for _, b := range arcs {
		all = append(all, p.pieces(b)...)
	}
	return all
}

// pieces cut a band into short pieces, which are nearly straight.
func (p *Plate) pieces(b Band) []hull {
	n := int(math.Ceil(math.Abs(b.To-b.From) / 3))
	var all []hull
	for k := range n {
		from, to := b.From+(b.To-b.From)*float64(k)/float64(n), b.From+(b.To-b.From)*float64(k+1)/float64(n)
		all = append(all, hull{on(p.Pivot, b.Inner, from), on(p.Pivot, b.Outer, from), on(p.Pivot, b.Outer, to), on(p.Pivot, b.Inner, to)})
	}
	return all
}
