package ui

import (
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// A screen is the paper that frames are drawn on, its size, how it looks, and whether the
// mouse is left to the terminal.
type screen struct {
	canvas        *cells.Canvas
	palette       cells.Palette
	light         bool
	width, height int
	mouseOff      bool
}

func newScreen(ascii, light, mouseOff bool) *screen {
	s := &screen{canvas: cells.New(0, 0), palette: draw.NewPalette(light), light: light, mouseOff: mouseOff}
	s.canvas.UseASCII(ascii)
	return s
}

// resize takes the size of the window.
func (s *screen) resize(w, h int) {
	s.width, s.height = w, h
	s.canvas.Resize(w, h)
}

// toggleASCII draws with plain characters, or with all of them again.
func (s *screen) toggleASCII() { s.canvas.UseASCII(!s.canvas.ASCII) }

// toggleTheme takes the colours for a light background, or for a dark one.
func (s *screen) toggleTheme() {
	s.light = !s.light
	s.palette = draw.NewPalette(s.light)
}

// toggleMouse leaves the mouse to the terminal, or takes it again.
func (s *screen) toggleMouse() { s.mouseOff = !s.mouseOff }

// tooSmall says whether the window is too small to draw in.
func (s *screen) tooSmall() bool { return layout.TooSmall(s.width, s.height) }

// benchLayout is where everything stands on the bench's pane.
func (s *screen) benchLayout() layout.Bench { return layout.OfBench(s.width, s.height) }

// scaleLayout is where everything stands on the scale's pane.
func (s *screen) scaleLayout() layout.Scale { return layout.OfScale(s.width, s.height) }

// layout is where everything stands.
func (s *screen) layout() layout.Layout { return layout.Of(s.width, s.height) }
