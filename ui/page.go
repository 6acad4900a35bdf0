package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
)

// A page is a text to be read, that takes all of the window.
type page struct {
	title      string
	paragraphs []paragraph
	top        int // lines above the window
}

// A paragraph is a stretch of text of one kind, or one line with a bar behind it.
type paragraph struct {
	style cells.Style
	text  string
	bar   float64 // how long, 0 to 1 of the room; 0: there is none
}

// add adds a paragraph.
func (p *page) add(style cells.Style, text string) {
	p.paragraphs = append(p.paragraphs, paragraph{style: style, text: text})
}

// addBar adds a line with a bar behind it.
func (p *page) addBar(style cells.Style, text string, bar float64) {
	p.paragraphs = append(p.paragraphs, paragraph{style, text, bar})
}

// lines are the page's paragraphs, broken to a width.
func (p *page) lines(w int) []paragraph {
	var lines []paragraph
	for _, text := range p.paragraphs {
		if text.bar > 0 {
			lines = append(lines, text)
			continue
		}
		for _, s := range cells.Lines(text.text, w) {
			lines = append(lines, paragraph{style: text.style, text: s})
		}
	}
	return lines
}

// turn scrolls the page, whose frame is w by h; false where the key closes it.
func (p *page) turn(msg tea.KeyMsg, k *keyMap, w, h int) bool {
	rows := max(1, h-3)
	last := max(0, len(p.lines(w-4))-rows)
	by, stays := 0, true
	switch {
	case key.Matches(msg, k.Up):
		by = -1
	case key.Matches(msg, k.Down):
		by = 1
	case key.Matches(msg, k.ResultsUp):
		by = -rows
	case key.Matches(msg, k.ResultsDown):
		by = rows
	default:
		stays = false
	}
	p.top = max(0, min(p.top+by, last))
	return stays
}

// longestBar is that of a bar on a page, where there is room for more.
const longestBar = 60

// draw draws the part of the page that is in the window.
func (p *page) draw(frame cells.Area) {
	in := titled(frame, p.title)
	w, h := in.Size()
	lines, rows := p.lines(w), max(1, h-1)
	top := max(0, min(p.top, len(lines)-rows))
	for y, l := range lines[top:min(top+rows, len(lines))] {
		n := in.Text(0, y, l.style, l.text)
		in.Sub(n+1, y, longestBar, 1).Bar(0, 0, note, l.bar)
	}
	hint := "Any key closes this page."
	if len(lines) > rows {
		hint = "↑↓ go through this page; any other key closes it."
	}
	in.Text(0, h-1, dim, hint)
}
