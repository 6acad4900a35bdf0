package ui

import (
	"math"
	"strconv"

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

// drawDials draws the hand in view, or all hands side by side where there is
// room.
func (a *App) drawDials(at cells.Area, hand int) {
	w, _ := at.Size()
	hands := len(a.report.Plan.Hands)
	if hand >= 0 && (hands == 1 || a.large || hands*dialColumns > w) {
		a.drawDial(at, hand)
		return
	}
	if hands*dialColumns > w {
		return
	}
	_, h := at.Size()
	for i := range hands {
		column := at.Sub(i*w/hands, 0, w/hands, h)
		a.drawDial(column.Rows(0, h-1), i)
		style := label
		if i == hand {
			style = title
		}
		name := a.report.Build.Hands[i].Name
		column.Text((w/hands-cells.Width(name))/2, h-1, style, name)
	}
}

// dialColumns is the least width of a dial that has others beside it.
const dialColumns = 23

// roomyDial is the width in dots from which every large mark has its numeral.
const roomyDial = 56

// marks are the divisions of a dial by its whole time in minutes: large ones
// with a numeral, small ones between, and what the numerals count to.
var marks = map[float64]struct{ large, small, count int }{
	720:  {4, 12, 12},
	1440: {4, 24, 24},
	60:   {4, 12, 60},
	1:    {4, 12, 60},
}

func (a *App) drawDial(at cells.Area, hand int) {
	plan, build := &a.report.Plan, a.report.Build
	plot := cells.NewPlot(at)
	w, h := plot.Size()
	f := newFace(w, h, build.Hands[hand].Meter.Sweep.Number)
	plot.Arc(f.x, f.y, f.r, -f.half, f.half)
	m := marks[plan.Minutes(hand)]
	for i := 0; i <= m.small; i++ {
		angle := f.angle(plan.Mark(hand, float64(i)/float64(m.small)))
		long := 3.0
		if i%(m.small/m.large) == 0 {
			long = 6
		}
		from, to := cells.OnCircle(f.x, f.y, f.r-long, angle), cells.OnCircle(f.x, f.y, f.r, angle)
		plot.Line(from.X, from.Y, to.X, to.Y)
	}
	plot.Draw(scale)
	every := 1
	if w < roomyDial { // the ends and the middle will do
		every = m.large / 2
	}
	for i := 0; i <= m.large; i += every {
		share := float64(i) / float64(m.large)
		f.drawNumeral(at, plan.Mark(hand, share), strconv.Itoa(m.count*i/m.large))
	}
	a.drawNeedle(plot, f, a.place(hand))
}

// drawNumeral writes a numeral outside the scale, clear of it by its own width
// where it stands beside it.
func (f face) drawNumeral(at cells.Area, share float64, s string) {
	angle := f.angle(share)
	p := cells.OnCircle(f.x, f.y, f.r+5, angle)
	wide := float64(len(s))
	x := p.X/cells.DotsWide - wide/2 + math.Sin(angle)*(wide/2)
	at.Text(int(math.Round(x)), int(math.Round(p.Y/cells.DotsHigh-0.4)), label, s)
}

// drawNeedle draws the needle from its pivot to the scale. Beyond the ends it
// stops at a peg just outside them.
func (a *App) drawNeedle(plot *cells.Plot, f face, place float64) {
	style := needle
	if a.stale() {
		style = dim
	}
	angle := f.angle(max(-0.04, min(place, 1.04)))
	tip := cells.OnCircle(f.x, f.y, f.r-1, angle)
	for _, aside := range [...]float64{-1, 0, 1} { // thick at the pivot, fine at the scale
		from := cells.OnCircle(f.x, f.y, aside, angle+math.Pi/2)
		plot.Line(from.X, from.Y, tip.X, tip.Y)
	}
	plot.Draw(style)
}
