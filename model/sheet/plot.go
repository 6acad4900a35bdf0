package sheet

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// The size of a plot and of what is round it, in SVG units.
const (
	plotWide, plotHigh                = 640.0, 300.0
	leftOf, rightOf, aboveIt, belowIt = 74.0, 14.0, 46.0, 44.0
	plotLetters                       = 13
	sampled                           = 9 // places of a plot as a table
)

// strokes tell lines from each other without a colour.
var strokes = []string{``, ` stroke-dasharray="9 5"`, ` stroke-dasharray="2 3"`, ` stroke-dasharray="1 6"`}

// A frame is where the numbers of a plot stand in its picture.
type frame struct{ x0, x1, y0, y1 float64 }

// frameOf has all of a plot's lines in it, and zero where a line is near it; ok is false where
// there is nothing to draw.
func frameOf(p circuit.Plot) (f frame, ok bool) {
	f = frame{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, l := range p.Lines {
		for _, d := range l.Points {
			f.x0, f.x1 = min(f.x0, d.X), max(f.x1, d.X)
			f.y0, f.y1 = min(f.y0, d.Y), max(f.y1, d.Y)
		}
	}
	if p.Until > 0 {
		f.x1 = min(f.x1, p.Until)
	}
	if !(f.x1 > f.x0) || math.IsInf(f.x1-f.x0+f.y1-f.y0, 0) || math.IsNaN(f.y1-f.y0) {
		return f, false
	}
	if f.y1-f.y0 < 1e-12 {
		f.y0, f.y1 = f.y0-1, f.y1+1
	}
	return f, true
}

func (f *frame) across(x float64) float64 {
	return leftOf + (x-f.x0)/(f.x1-f.x0)*(plotWide-leftOf-rightOf)
}

func (f *frame) up(y float64) float64 {
	return aboveIt + (f.y1-y)/(f.y1-f.y0)*(plotHigh-aboveIt-belowIt)
}

// at is a place in the picture.
func at(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

// A picture is an SVG in the making.
type picture struct{ strings.Builder }

func (s *picture) add(format string, a ...any) { fmt.Fprintf(s, format+"\n", a...) }

// words puts a text somewhere.
func (s *picture) words(x, y float64, anchor, text string) {
	s.add(`<text x="%s" y="%s" text-anchor="%s">%s</text>`, at(x), at(y), anchor, template.HTMLEscapeString(text))
}

// begin draws the frame, its title and what the axes are.
func (s *picture) begin(p circuit.Plot) {
	s.add(`<svg xmlns="http://www.w3.org/2000/svg" width="%g" height="%g" viewBox="0 0 %g %g" role="img">`, plotWide, plotHigh, plotWide, plotHigh)
	s.add(`<title>%s</title>`, template.HTMLEscapeString(p.Title))
	s.add(`<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="black"/>`, at(leftOf), at(aboveIt), at(plotWide-leftOf-rightOf), at(plotHigh-aboveIt-belowIt))
	s.add(`<g font-family="sans-serif" font-size="%d" fill="black">`, plotLetters)
	s.words(plotWide-rightOf, plotHigh-6, "end", p.X.Label)
	s.words(4, aboveIt-10, "start", p.Y.Label)
	s.add(`<text x="%s" y="16" text-anchor="start" font-weight="bold">%s</text>`, at(leftOf), template.HTMLEscapeString(p.Title))
}

// plotted is a plot as a figure; nil where there is nothing to draw.
func plotted(p circuit.Plot) *Figure {
	f, ok := frameOf(p)
	if !ok {
		return nil
	}
	var s picture
	s.begin(p)
	for _, x := range steps(f.x0, f.x1, p.X.Unit, 4) {
		s.words(f.across(x), plotHigh-belowIt+16, "middle", axisText(x, p.X.Unit))
	}
	for _, y := range steps(f.y0, f.y1, p.Y.Unit, 5) {
		s.words(leftOf-6, f.up(y)+4, "end", axisText(y, p.Y.Unit))
	}
	s.legend(p)
	s.add(`</g>`)
	s.add(`<g fill="none" stroke="black">`)
	for _, x := range steps(f.x0, f.x1, p.X.Unit, 4) {
		s.add(`<path stroke="#bbb" stroke-width="0.6" d="M%s %sV%s"/>`, at(f.across(x)), at(aboveIt), at(plotHigh-belowIt))
	}
	for _, y := range steps(f.y0, f.y1, p.Y.Unit, 5) {
		s.add(`<path stroke="#bbb" stroke-width="0.6" d="M%s %sH%s"/>`, at(leftOf), at(f.up(y)), at(plotWide-rightOf))
	}
	for i, l := range p.Lines {
		s.line(&f, l, strokes[wayOf(p, i)])
	}
	s.add(`</g>`)
	s.add(`</svg>`)
	return &Figure{Name: p.Title, Class: "plot", SVG: template.HTML(s.String()), Table: f.table(p)}
}

// empty is a plot to be drawn by hand.
func empty(p circuit.Plot) *Figure {
	var s picture
	s.begin(p)
	s.add("</g>\n</svg>")
	return &Figure{Name: "Draw it: " + p.Title, Class: "plot", SVG: template.HTML(s.String()),
		Text: []string{"Across: " + p.X.Label + ". Up: " + p.Y.Label + "."}}
}

// wayOf is which stroke a line has; lines of one name share theirs.
func wayOf(p circuit.Plot, i int) int {
	n := 0
	for k := 1; k <= i; k++ {
		if p.Lines[k].Name != p.Lines[k-1].Name {
			n++
		}
	}
	return min(n, len(strokes)-1)
}

// legend names the lines above the frame, each with its stroke.
func (s *picture) legend(p circuit.Plot) {
	x := max(leftOf, 4+7.5*float64(len([]rune(p.Y.Label)))+14)
	for i, l := range p.Lines {
		if i > 0 && l.Name == p.Lines[i-1].Name {
			continue
		}
		s.add(`<path fill="none" stroke="black" stroke-width="%s"%s d="M%s %sh26"/>`, thick(l), strokes[wayOf(p, i)], at(x), at(aboveIt-14))
		s.words(x+31, aboveIt-10, "start", l.Name)
		x += 31 + 7.5*float64(len([]rune(l.Name))) + 16
	}
}

// thick is how thick a line is: points that stand alone are dots.
func thick(l circuit.Line) string {
	if l.Apart {
		return "2.2"
	}
	return "1.4"
}

// line draws a line as far as the frame goes, or its points alone: as many as can be told
// apart.
func (s *picture) line(f *frame, l circuit.Line, stroke string) {
	var d strings.Builder
	last := math.Inf(-1)
	for k, dot := range l.Points {
		before := dot
		if k > 0 {
			before = l.Points[k-1]
		}
		switch {
		case dot.X > f.x1 && before.X >= f.x1 || dot.X > f.x1 && l.Apart:
			continue
		case dot.X > f.x1:
			dot = circuit.Dot{X: f.x1, Y: before.Y + (dot.Y-before.Y)*(f.x1-before.X)/(dot.X-before.X)}
		}
		x, y := f.across(dot.X), f.up(dot.Y)
		switch {
		case l.Apart && x-last < 1.6:
			continue
		case l.Apart:
			fmt.Fprintf(&d, "M%s %sh.1", at(x), at(y))
		case d.Len() == 0:
			fmt.Fprintf(&d, "M%s %s", at(x), at(y))
		default:
			fmt.Fprintf(&d, "L%s %s", at(x), at(y))
		}
		last = x
	}
	if d.Len() == 0 {
		return
	}
	if l.Apart {
		stroke = ` stroke-linecap="round"`
		if l.Name == "likely" {
			stroke += ` stroke-opacity="0.45"`
		}
	}
	s.add(`<path stroke-width="%s"%s d="%s"/>`, thick(l), stroke, d.String())
}

// axisText is a number beside an axis.
func axisText(x float64, u quantity.Unit) string {
	if math.Abs(x) < 1e-12 {
		x = 0
	}
	text := quantity.Show(x, u, 3)
	if u == quantity.Hours {
		text = quantity.ShowDuration(x)
	}
	number, unit, _ := strings.Cut(text, " ")
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	return strings.TrimSpace(number + " " + unit)
}

// steps are round numbers of a unit between two ends, at most a few more than wanted.
func steps(from, to float64, u quantity.Unit, wanted float64) []float64 {
	scale := 1.0
	if u == quantity.Hours {
		if d, ok := quantity.DurationFor(to); ok {
			scale = d.Hours
		}
	}
	raw := (to - from) / scale / wanted
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, by := range []float64{5, 2} {
		if step*by <= raw {
			step *= by
			break
		}
	}
	step *= scale
	var all []float64
	for k := math.Ceil(from/step - 1e-9); k*step <= to+step*1e-9; k++ {
		all = append(all, k*step)
	}
	return all
}

// table is a plot as numbers, at even places of its axis.
func (f *frame) table(p circuit.Plot) *Table {
	t := &Table{Head: []string{p.X.Label}}
	for i, l := range p.Lines {
		name := l.Name
		if i > 0 && p.Lines[i-1].Name == name {
			name += ", too"
		}
		t.Head = append(t.Head, name)
	}
	for k := range sampled {
		x := f.x0 + (f.x1-f.x0)*float64(k)/(sampled-1)
		row := []Cell{figure(axisText(x, p.X.Unit))}
		for _, l := range p.Lines {
			row = append(row, figure(valueAt(l, x, p.Y.Unit)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// valueAt is where a line is at a place; "" where it is not.
func valueAt(l circuit.Line, x float64, u quantity.Unit) string {
	for k := 1; k < len(l.Points); k++ {
		a, b := l.Points[k-1], l.Points[k]
		if a.X <= x && x <= b.X {
			y := b.Y
			if b.X > a.X {
				y = a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
			}
			return axisText(y, u)
		}
	}
	return ""
}
