package ui

import (
	"image"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
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

// cautionsOf is what the cautions of a field depend on; a document never changes.
type cautionsOf struct {
	doc   *model.Document
	field *model.Field
	index int
}

// cautionsAt are those to be heeded where a value is about to be found or put in.
func (a *App) cautionsAt(f *model.Field, index int) []judge.Caution {
	if k := (cautionsOf{a.doc, f, index}); a.cautions.of != k {
		a.cautions.of, a.cautions.all = k, judge.CautionsAt(a.doc.Build, f, index)
	}
	return a.cautions.all
}

// cautionText is a caution behind its sign, which says so without a colour.
func (a *App) cautionText(c judge.Caution) string {
	if a.canvas.ASCII {
		return "!! " + c.Text
	}
	return "⚠ " + c.Text
}

// readCautions opens a page with all that is to be known of the focused field,
// its cautions first, and all others of the build.
func (a *App) readCautions() tea.Cmd {
	r := a.focused()
	here := a.cautionsAt(r.field, r.index)
	p := page{title: "Help and cautions"}
	p.add(heading, strings.TrimSpace(r.field.Label))
	for _, c := range here {
		a.addCaution(&p, c)
	}
	p.add(note, a.offerHelp(r))
	p.add(value, strings.TrimSpace(a.whatItIs(r)+" "+allowedText(r.field)))
	p.add(dim, measureText(r.field))
	var further []judge.Caution
	for _, c := range judge.Cautions(a.doc.Build) {
		if !slices.ContainsFunc(here, func(h judge.Caution) bool { return h.ID == c.ID }) {
			further = append(further, c)
		}
	}
	if len(further) > 0 {
		p.add(heading, "\nFurther cautions for this build")
	}
	for _, c := range further {
		a.addCaution(&p, c)
	}
	a.mode, a.page = paging, p
	return nil
}

// addCaution adds a caution with whom it hurts and where it is from.
func (a *App) addCaution(p *page, c judge.Caution) {
	p.add(caution, a.cautionText(c))
	p.add(dim, "  Hurts "+c.To+". Source: "+orElse(c.Source, "common practice")+".")
}

func (p *page) add(style cells.Style, text string) {
	p.paragraphs = append(p.paragraphs, paragraph{style: style, text: text})
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

// pageFrame is where a page stands.
func (a *App) pageFrame() image.Rectangle { return image.Rect(0, 1, a.width, a.height-1) }

// turnPage scrolls the page, or closes it.
func (a *App) turnPage(msg tea.KeyMsg) {
	in := inside(a.pageFrame())
	rows := max(1, in.Dy()-1)
	last := max(0, len(a.page.lines(in.Dx()))-rows)
	by := 0
	switch k := &a.keys; {
	case key.Matches(msg, k.Up):
		by = -1
	case key.Matches(msg, k.Down):
		by = 1
	case key.Matches(msg, k.ResultsUp):
		by = -rows
	case key.Matches(msg, k.ResultsDown):
		by = rows
	default:
		a.mode = editing
	}
	a.page.top = max(0, min(a.page.top+by, last))
}

// longestBar is that of a bar on a page, where there is room for more.
const longestBar = 60

// drawPage draws the part of the page that is in the window.
func (a *App) drawPage() {
	in := a.titled(a.pageFrame(), a.page.title)
	w, h := in.Size()
	lines, rows := a.page.lines(w), max(1, h-1)
	top := max(0, min(a.page.top, len(lines)-rows))
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
