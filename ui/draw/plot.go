package draw

import (
	"math"
	"strings"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// NothingToDraw stands where a view would.
const NothingToDraw = "There is nothing to draw for this build."

// Plot draws a plot over the findings and results.
func Plot(at cells.Area, p circuit.Plot) {
	w, h := at.Size()
	at.Text(0, 0, Heading, p.Title)
	x0, x1, y0, y1 := bounds(p)
	if !(x1 > x0) {
		at.Wrap(1, Dim, NothingToDraw)
		return
	}
	top, bottom := axisText(y1, p.Y.Unit), axisText(y0, p.Y.Unit)
	margin := max(cells.Width(top), cells.Width(bottom)) + 1
	at.Sub(0, 1, margin-1, 1).TextRight(0, Label, top)
	at.Sub(0, h-2, margin-1, 1).TextRight(0, Label, bottom)
	from, to := axisText(x0, p.X.Unit), axisText(x1, p.X.Unit)
	if named := from + "  " + strings.ToLower(p.X.Label); margin+cells.Width(named)+cells.Width(to) < w {
		from = named
	}
	at.Text(margin, h-1, Label, from)
	at.Sub(margin+cells.Width(from)+1, h-1, w-margin-cells.Width(from)-1, 1).TextRight(0, Label, to)

	inside := at.Sub(margin, 1, w-margin, h-2)
	plot := cells.NewPlot(inside)
	dw, dh := plot.Size()
	for i, line := range p.Lines {
		way := wayOf(p, i)
		points := make([]cells.Point, len(line.Points))
		for k, d := range line.Points {
			points[k] = cells.Point{
				X: (d.X - x0) / (x1 - x0) * float64(dw-1),
				Y: (y1 - d.Y) / (y1 - y0) * float64(dh-1),
			}
		}
		if line.Sign != "" {
			for _, d := range points {
				inside.Text(int(math.Round(d.X))/cells.DotsWide, int(math.Round(d.Y))/cells.DotsHigh, way.style, line.Sign)
			}
			continue
		}
		way.draw(plot, points, line.Apart)
		plot.Draw(way.style)
	}
	drawLegend(at, p)
}

// axisText is a number beside an axis.
func axisText(x float64, u quantity.Unit) string {
	if u == quantity.Hours {
		return quantity.ShowDuration(x)
	}
	return quantity.Show(x, u, 3)
}

// A way is how a line is drawn, so that it is known without its colour too.
type way struct {
	sign    string
	on, off int // dots
	style   cells.Style
}

// ways are those of a plot's lines, in order.
var ways = []way{
	{"─", 1, 0, Needle}, {"╌", 5, 3, Note}, {"┈", 1, 2, scale}, {"·", 1, 5, Label},
}

// wayOf is the way of a plot's i-th line; lines of one name share theirs.
func wayOf(p circuit.Plot, i int) way {
	n := 0
	for k := 1; k <= i; k++ {
		if p.Lines[k].Name != p.Lines[k-1].Name {
			n++
		}
	}
	way := ways[min(n, len(ways)-1)]
	if sign := p.Lines[i].Sign; sign != "" {
		way.sign, way.style = sign, Value
	}
	return way
}

// draw sets the dots of a line, or of its points alone. Outside the plot
// nothing is walked.
func (w way) draw(plot *cells.Plot, points []cells.Point, apart bool) {
	wide, _ := plot.Size()
	if apart {
		for _, p := range points {
			plot.Dot(p.X, p.Y)
		}
		return
	}
	walked := 0
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a.X > float64(wide) {
			return
		}
		if b.X > float64(wide) { // cut at the edge
			b.Y = a.Y + (b.Y-a.Y)*(float64(wide)-a.X)/(b.X-a.X)
			b.X = float64(wide)
		}
		steps := max(1, int(math.Ceil(max(math.Abs(b.X-a.X), math.Abs(b.Y-a.Y)))))
		for k := range steps {
			if walked%(w.on+w.off) < w.on {
				t := float64(k) / float64(steps)
				plot.Dot(a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y))
			}
			walked++
		}
	}
}

// drawLegend names the lines beside the title, each with its sign.
func drawLegend(at cells.Area, p circuit.Plot) {
	x := cells.Width(p.Title) + 2
	for i, line := range p.Lines {
		way := wayOf(p, i)
		if i > 0 && line.Name == p.Lines[i-1].Name {
			continue
		}
		x += at.Text(x, 0, way.style, way.sign+" "+line.Name) + 2
	}
}

// bounds are the least and the most of all lines, the Y ones never equal.
func bounds(p circuit.Plot) (x0, x1, y0, y1 float64) {
	x0, x1, y0, y1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, line := range p.Lines {
		for _, d := range line.Points {
			x0, x1 = min(x0, d.X), max(x1, d.X)
			y0, y1 = min(y0, d.Y), max(y1, d.Y)
		}
	}
	if y1-y0 < 1e-12 {
		y0, y1 = y0-1, y1+1
	}
	if p.Until > 0 {
		x1 = min(x1, p.Until)
	}
	return x0, x1, y0, y1
}
