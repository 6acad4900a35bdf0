package form

import (
	"fmt"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
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
func (f *Form) lines(rows []Row, width int, airy bool) []line {
	lines := make([]line, 0, 2*len(rows))
	for i, r := range rows {
		if r.heading != "" {
			if airy && i > 0 {
				lines = append(lines, line{row: i - 1, blank: true})
			}
			lines = append(lines, line{row: i, heading: r.heading})
		}
		lines = append(lines, line{row: i})
		if p := f.problem(r); p != nil {
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

// window is the lines of the open pane, and which of them is at the top of a window
// of w by h: the focused field with its problem is always in view.
func (f *Form) window(rows []Row, w, h int) (lines []line, start int) {
	lines = f.lines(rows, w, true)
	if len(lines) > h {
		lines = f.lines(rows, w, false)
	}
	focus := min(f.Focus[f.Pane], len(rows)-1)
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

// Click gives the keys to the row that stands in a line of a window of w by h; in the text
// of the one that has them it begins to edit at that column.
func (f *Form) Click(x, y, w, h int) {
	rows := f.Rows(f.Pane)
	lines, start := f.window(rows, w, h)
	i := start + y
	if i >= len(lines) || lines[i].heading != "" || lines[i].blank {
		return
	}
	row := lines[i].row
	if row == min(f.Focus[f.Pane], len(rows)-1) && rows[row].isTyped() && x >= layout.LabelColumns {
		f.line.Point(x-layout.LabelColumns, w-layout.LabelColumns)
		return
	}
	f.GoTo(f.Pane, row)
}

// Draw draws the open pane in its frame.
func (f *Form) Draw(frame cells.Area) {
	area := draw.Titled(frame, f.Panes[f.Pane].Name)
	rows := f.Rows(f.Pane)
	focus := min(f.Focus[f.Pane], len(rows)-1)
	w, h := area.Size()
	wide, _ := frame.Size()
	before, behind := frame.Sub(1, 1, 1, h), frame.Sub(wide-2, 1, 1, h) // columns of air beside the fields
	lines, start := f.window(rows, w, h)
	for y := 0; y < h && start+y < len(lines); y++ {
		l, at := lines[start+y], area.Rows(y, 1)
		switch {
		case l.blank:
		case l.heading != "":
			at.Text(0, 0, draw.Heading, l.heading)
		case l.problem != "":
			at.Text(2, 0, draw.Fault, l.problem)
		default:
			f.drawField(at, rows[l.row], l.row == focus)
			if l.row == focus {
				draw.Here(before.Rows(y, 1))
			}
		}
	}
	if start > 0 {
		behind.Text(0, 0, draw.Dim, "↑")
	}
	if start+h < len(lines) {
		behind.Text(0, h-1, draw.Dim, "↓")
	}
}

// drawField draws one field: its label, its value and the unit of a bare number.
func (f *Form) drawField(at cells.Area, r Row, focused bool) {
	labelStyle, valueStyle, dimStyle := draw.Label, draw.Value, draw.Dim
	if focused {
		labelStyle, valueStyle, dimStyle = draw.FocusLabel, draw.FocusValue, draw.FocusDim
		at.Fill(draw.FocusValue, ' ')
	}
	sign := " "
	if f.problem(r) != nil {
		sign, labelStyle = "!", draw.Fault
		if focused {
			labelStyle = draw.FocusFault
		}
	}
	at.Text(0, 0, labelStyle, sign+f.label(r))
	if r.Cell < 0 && isUnsure(f.s.Doc.Mark(r.Field, r.Index)) {
		at.Text(layout.LabelColumns-1, 0, dimStyle, "?")
	}
	_, middle := at.SplitLeft(layout.LabelColumns)
	text, typed := f.Text(r), focused && r.isTyped()
	if typed {
		text = f.line.Value()
	}
	unit := bareUnit(r, text)
	switch {
	case r.isHead():
		text, valueStyle = fmt.Sprintf("%d pairs", len(f.s.Doc.Pairs(r.Field, r.Index))), dimStyle
	case text == "":
		text, valueStyle = f.assumed(r), dimStyle
	}
	if focused && r.Field.Choices != nil {
		text = "‹ " + text + " ›"
	}
	there := text + " " + unit
	if typed {
		there += "[]" // what is marked stands between them
	}
	middle = f.drawOffer(middle, there, r, dimStyle)
	x := 0
	if r.Field.Choices != nil {
		text = choiceText(text, middle)
	}
	if typed {
		x = f.line.Draw(middle, f.assumed(r), f.s.Doc.TooLong(r.Field, r.Index) > 0)
	} else {
		x = middle.Text(0, 0, valueStyle, text)
	}
	middle.Text(x+1, 0, dimStyle, unit)
}

// tighter moves the arrows about a choice up to it.
var tighter = strings.NewReplacer("‹ ", "‹", " ›", "›")

// choiceText is a choice in the room it has: the arrows about it go first, then its
// beginning, for choices differ at their ends.
func choiceText(text string, room cells.Area) string {
	w, _ := room.Size()
	if cells.Fits(text, w) {
		return text
	}
	if tight := tighter.Replace(text); cells.Fits(tight, w) {
		return tight
	}
	return cells.CutFront(strings.Trim(text, "‹ ›"), w)
}

// bareUnit is the unit of a bare number in a row, which stands behind it; "" of any other
// text.
func bareUnit(r Row, text string) string {
	text = strings.TrimSpace(text)
	if text != "" && r.Cell < 0 && strings.Trim(text, "0123456789.,+-−eE") == "" {
		return r.Field.Unit.Symbol()
	}
	return ""
}

// drawOffer draws what is offered for a row at the right end of its line, and
// returns the room that is left for the text that stands there.
func (f *Form) drawOffer(at cells.Area, there string, r Row, style cells.Style) cells.Area {
	s, c := f.Offered(r)
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
