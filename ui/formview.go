package ui

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// A line is one line of a form on the screen.
type line struct {
	row     int // it belongs to
	heading string
	problem string
	blank   bool
}

// lines lays a form out for a width: headings, fields, and under a field its
// problem; airy with a blank line between groups.
func (a *App) lines(rows []row, width int, airy bool) []line {
	lines := make([]line, 0, 2*len(rows))
	for i, r := range rows {
		if r.heading != "" {
			if airy && i > 0 {
				lines = append(lines, line{row: i - 1, blank: true})
			}
			lines = append(lines, line{row: i, heading: r.heading})
		}
		lines = append(lines, line{row: i})
		if p := a.problem(r); p != nil {
			for _, s := range cells.Lines(problemText(p), width-2) {
				lines = append(lines, line{row: i, problem: s})
			}
		}
	}
	return lines
}

// problemText says what is wrong with a field whose label and text are in view.
func problemText(p *model.Problem) string {
	return model.Problem{Wrong: p.Wrong, Allowed: p.Allowed, Remedy: p.Remedy}.Message()
}

// formLines are the lines of the open form, and which of them is at the top of
// a window of w by h: the focused field with its problem is always in view.
func (a *App) formLines(rows []row, w, h int) (lines []line, start int) {
	lines = a.lines(rows, w, true)
	if len(lines) > h {
		lines = a.lines(rows, w, false)
	}
	focus := min(a.focus[a.pane], len(rows)-1)
	from, to := 0, 0
	for i, l := range lines {
		if l.row == focus && !l.blank {
			if to == 0 {
				from = i
			}
			to = i + 1
		}
	}
	start = max(0, min(from-h/3, len(lines)-h))
	if to-start > h {
		start = min(from, to-h)
	}
	return lines, start
}

// drawForm draws the open form.
func (a *App) drawForm(l layout) {
	area := a.titled(l.form, paneNames[a.pane])
	rows := a.rows(a.pane)
	focus := min(a.focus[a.pane], len(rows)-1)
	w, h := area.Size()
	lines, start := a.formLines(rows, w, h)
	for y := 0; y < h && start+y < len(lines); y++ {
		l, at := lines[start+y], area.Rows(y, 1)
		switch {
		case l.blank:
		case l.heading != "":
			at.Text(0, 0, heading, l.heading)
		case l.problem != "":
			at.Text(2, 0, fault, l.problem)
		default:
			a.drawField(at, rows[l.row], l.row == focus)
		}
	}
	air := a.area(l.form).Sub(l.form.Dx()-2, 1, 1, h) // beside the fields
	if start > 0 {
		air.Text(0, 0, dim, "↑")
	}
	if start+h < len(lines) {
		air.Text(0, h-1, dim, "↓")
	}
}

// drawField draws one field: its label, its value and the unit of a bare number.
func (a *App) drawField(at cells.Area, r row, focused bool) {
	labelStyle, valueStyle, dimStyle := label, value, dim
	if focused {
		labelStyle, valueStyle, dimStyle = focusLabel, focusValue, focusDim
		at.Fill(focusValue, ' ')
	}
	sign := " "
	if a.problem(r) != nil {
		sign, labelStyle = "!", fault
		if focused {
			labelStyle = focusFault
		}
	}
	at.Text(0, 0, labelStyle, sign+a.label(r))
	if r.cell < 0 && a.doc.Mark(r.field, r.index) != "" {
		at.Text(labelColumns-1, 0, dimStyle, "?")
	}
	_, middle := at.SplitLeft(labelColumns)
	text, unit, typed := a.text(r), a.bareUnit(r), focused && r.field.Choices == nil && !r.isHead()
	switch {
	case r.isHead():
		text, valueStyle = fmt.Sprintf("%d pairs", len(a.doc.Pairs(r.field, r.index))), dimStyle
	case text == "":
		text, valueStyle = a.assumed(r), dimStyle
	}
	if focused && r.field.Choices != nil {
		text = "‹ " + text + " ›"
	}
	middle = a.drawOffer(middle, text+" "+unit, r, dimStyle)
	x := 0
	if typed {
		x = a.drawInput(middle, a.assumed(r))
	} else {
		x = middle.Text(0, 0, valueStyle, text)
	}
	middle.Text(x+1, 0, dimStyle, unit)
}

// bareUnit is the unit of a bare number, which stands behind it; "" of any other
// text.
func (a *App) bareUnit(r row) string {
	text := strings.TrimSpace(a.text(r))
	if text != "" && r.cell < 0 && strings.Trim(text, "0123456789.,+-−eE") == "" {
		return r.field.Unit.Symbol()
	}
	return ""
}

// drawOffer draws what is offered for a row at the right end of its line, and
// returns the room that is left for the text that stands there.
func (a *App) drawOffer(at cells.Area, there string, r row, style cells.Style) cells.Area {
	s, c := a.offered(r)
	if s == nil {
		return at
	}
	w, _ := at.Size()
	text, short := offerTexts(c)
	if !cells.Fits(there, w-1-cells.Width(text)) {
		text = short
	}
	at.TextRight(0, style, text)
	return at.Sub(0, 0, w-cells.Width(text), 1)
}

// drawInput draws the text being typed, with its cursor always in view, and
// returns the columns it took.
func (a *App) drawInput(at cells.Area, assumed string) int {
	w, _ := at.Size()
	text := a.input.Value()
	if text == "" {
		at.Text(0, 0, focusDim, assumed)
		first, _ := utf8.DecodeRuneInString(assumed + " ")
		at.Text(0, 0, cursorCell, string(first))
		return w
	}
	before, behind := a.input.parts()
	if behind == "" && !cells.Fits(text, w-1) && text == a.text(a.focused()) && a.doc.Text == a.entered && a.mode == editing {
		at.Text(0, 0, focusValue, text) // not touched yet: it begins at its head
		at.Text(w-1, 0, cursorCell, "…")
		return w
	}
	if !cells.Fits(before, w-1) {
		before = "…" + cells.Tail(before, w-2)
	}
	x := at.Text(0, 0, focusValue, before)
	if behind == "" {
		return x + at.Text(x, 0, cursorCell, " ")
	}
	_, size := utf8.DecodeRuneInString(behind)
	x += at.Text(x, 0, cursorCell, behind[:size])
	return x + at.Text(x, 0, focusValue, behind[size:])
}
