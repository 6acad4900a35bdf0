package front

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/keys"
)

// A Page is a text to be read, that takes all of the window.
type Page struct {
	Title      string
	paragraphs []paragraph
	Top        int  // lines above the window
	Explains   bool // it is of words, and there is nothing further to explain
}

// Text is all that stands on it.
func (p *Page) Text() string {
	texts := []string{p.Title}
	for _, one := range p.paragraphs {
		texts = append(texts, one.text)
	}
	return strings.Join(texts, ".\n")
}

// A paragraph is a stretch of text of one kind, or one line with a bar behind it.
type paragraph struct {
	style cells.Style
	text  string
	bar   float64 // how long, 0 to 1 of the room; 0: there is none
	drawn bool    // a line of a drawing: it is cut, never broken

	laid func(w int) []Line // breaks it to a width; nil: as any text is
}

// A Line is one of what breaks itself.
type Line struct {
	Style cells.Style
	Text  string
}

// Add adds a paragraph.
func (p *Page) Add(style cells.Style, text string) {
	p.paragraphs = append(p.paragraphs, paragraph{style: style, text: text})
}

// AddDrawn adds a line of a drawing: where it is too long it is cut.
func (p *Page) AddDrawn(style cells.Style, text string) {
	p.paragraphs = append(p.paragraphs, paragraph{style: style, text: text, drawn: true})
}

// AddBar adds a line with a bar behind it.
func (p *Page) AddBar(style cells.Style, text string, bar float64) {
	p.paragraphs = append(p.paragraphs, paragraph{style: style, text: text, bar: bar})
}

// AddLaid adds what breaks itself into lines of a width; text is all of its words.
func (p *Page) AddLaid(text string, laid func(w int) []Line) {
	p.paragraphs = append(p.paragraphs, paragraph{text: text, laid: laid})
}

// lines are the page's paragraphs, broken to a width.
func (p *Page) lines(w int) []paragraph {
	var lines []paragraph
	for _, text := range p.paragraphs {
		if text.bar > 0 || text.drawn {
			lines = append(lines, text)
			continue
		}
		if text.laid != nil {
			for _, l := range text.laid(w) {
				lines = append(lines, paragraph{style: l.Style, text: l.Text})
			}
			continue
		}
		for _, s := range cells.Lines(text.text, w) {
			lines = append(lines, paragraph{style: text.style, text: s})
		}
	}
	return lines
}

// turn scrolls the page, which has w by h; false where the key closes it.
func (p *Page) turn(msg tea.KeyMsg, k *keys.Map, w, h int) bool {
	rows := max(1, h-1)
	last := max(0, len(p.lines(w))-rows)
	by, stays := pageBy(msg, k, rows, last)
	p.Top = max(0, min(p.Top+by, last))
	return stays
}

// pageBy is how far a key goes through what has so many lines in the window, and last
// before the last of them; false where it goes nowhere.
func pageBy(msg tea.KeyMsg, k *keys.Map, rows, last int) (by int, goes bool) {
	switch {
	case key.Matches(msg, k.Up):
		return -1, true
	case key.Matches(msg, k.Down):
		return 1, true
	case key.Matches(msg, k.ResultsUp):
		return -rows, true
	case key.Matches(msg, k.ResultsDown):
		return rows, true
	case key.Matches(msg, k.Start):
		return -last, true
	case key.Matches(msg, k.End):
		return last, true
	}
	return 0, false
}

// longestBar is that of a bar on a page, where there is room for more.
const longestBar = 60

// draw draws the part of the page that is in the window.
func (p *Page) draw(frame cells.Area) {
	in := draw.Titled(frame, p.Title)
	w, h := in.Size()
	lines, rows := p.lines(w), max(1, h-1)
	top := max(0, min(p.Top, len(lines)-rows))
	for y, l := range lines[top:min(top+rows, len(lines))] {
		n := in.Text(0, y, l.style, l.text)
		in.Sub(n+1, y, longestBar, 1).Bar(0, 0, draw.Note, l.bar)
	}
	hint := "Any key closes this page."
	if !p.Explains {
		hint = "Any other key closes this page."
	}
	if len(lines) > rows {
		hint = "↑↓ go through this page; any other key closes it."
	}
	in.Text(0, h-1, draw.Dim, hint)
}
