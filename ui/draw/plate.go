package draw

import (
	"math"

	"example.com/needlewright/model/dial"
	"example.com/needlewright/ui/cells"
)

// Plate draws the dial that is printed into an area, as large as it goes: the plate's edge,
// its scale with ticks and numerals as far as there is room, holes, windows and the title.
func Plate(at cells.Area, p *dial.Plate) {
	plot := cells.NewPlot(at)
	w, h := plot.Size()
	perMM := math.Min(float64(w-1)/p.Edge.Width, float64(h-1)/p.Edge.Height)
	left, top := (float64(w-1)-perMM*p.Edge.Width)/2, (float64(h-1)-perMM*p.Edge.Height)/2
	dots := func(m dial.Point) (x, y float64) {
		return left + (m.X-p.Edge.X)*perMM, top + (m.Y-p.Edge.Y)*perMM
	}
	corner := dial.Point{X: p.Edge.X + p.Edge.Width, Y: p.Edge.Y + p.Edge.Height}
	x1, y1 := dots(corner)
	for _, l := range [...][4]float64{{left, top, x1, top}, {x1, top, x1, y1}, {x1, y1, left, y1}, {left, y1, left, top}} {
		plot.Line(l[0], l[1], l[2], l[3])
	}
	plot.Draw(Frame)
	line := func(l dial.Line) {
		ax, ay := dots(l.From)
		bx, by := dots(l.To)
		plot.Line(ax, ay, bx, by)
	}
	arc := func(radius, from, to float64) {
		x, y := dots(p.Pivot)
		plot.Arc(x, y, radius*perMM, from*math.Pi/180, to*math.Pi/180)
	}
	if m := p.Mirror; m != nil {
		arc(m.Outer, m.From, m.To)
		arc(m.Inner, m.From, m.To)
		plot.Draw(Dim)
	}
	arc(p.Radius, p.Start, p.Start+p.Sweep)
	for _, t := range p.Ticks {
		if t.Kind != dial.Short || perMM > 2 {
			line(t.Line)
		}
	}
	plot.Draw(scale)
	for _, c := range append(append([]dial.Circle{}, p.Holes...), p.Windows...) {
		x, y := dots(c.Middle)
		plot.Arc(x, y, c.Radius*perMM, 0, 2*math.Pi)
	}
	x, y := dots(p.Pivot)
	plot.Dot(x, y)
	plot.Draw(Frame)
	plateTexts(at, p, dots)
}

// plateTexts writes numerals and title where no other stands.
func plateTexts(at cells.Area, p *dial.Plate, dots func(dial.Point) (x, y float64)) {
	var there []numeral
	write := func(low, high dial.Point, text string, style cells.Style) {
		x, y := dots(dial.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2})
		n := numeral{int(math.Round(x/cells.DotsWide - float64(cells.Width(text))/2)), int(y / cells.DotsHigh), text}
		w, h := at.Size()
		if n.x < 0 || n.x+cells.Width(text) > w || n.y < 0 || n.y >= h {
			return
		}
		for _, other := range there {
			if n.y == other.y && max(n.x-other.x-cells.Width(other.text), other.x-n.x-cells.Width(n.text)) < 1 {
				return
			}
		}
		there = append(there, n)
		at.Text(n.x, n.y, style, text)
	}
	if p.Title != nil {
		write(p.Title.Min, p.Title.Max, p.Words, Value)
	}
	for _, n := range p.Numerals {
		write(n.Outline.Min, n.Outline.Max, n.Text, Label)
	}
	if p.Second != nil {
		for _, n := range p.Second.Numerals {
			write(n.Outline.Min, n.Outline.Max, n.Text, Dim)
		}
	}
}
