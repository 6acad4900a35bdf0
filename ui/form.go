package ui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// A row is one field of a form.
type row struct {
	field   *model.Field
	index   int    // of its hand or lamp
	heading string // of the group it begins, "" inside one
}

// rows are the fields of a form: those of the hand in view, and of every lamp.
func (a *App) rows(pane model.Pane) []row {
	var rows []row
	group := ""
	add := func(f *model.Field, index int, name string) {
		r := row{field: f, index: index}
		if name != "" {
			name = " – " + name
		}
		if g := f.Group + name; g != group {
			group, r.heading = g, g
		}
		rows = append(rows, r)
	}
	var lamps []*model.Field
	for _, f := range model.Fields() {
		switch {
		case f.Pane != pane || f.Of(a.doc.Build) == 0:
		case strings.HasPrefix(f.Path, "hand."):
			name := ""
			if len(a.doc.Build.Hands) > 1 {
				name = a.doc.Build.Hands[a.hand].Name
			}
			add(f, a.hand, name)
		case strings.HasPrefix(f.Path, "lamp."):
			lamps = append(lamps, f)
		default:
			add(f, 0, "")
		}
	}
	for i := range a.doc.Build.Lamps {
		for _, f := range lamps {
			add(f, i, a.doc.Build.Lamps[i].Name)
		}
	}
	return rows
}

// focused is the row that has the keys.
func (a *App) focused() row {
	rows := a.rows(a.pane)
	return rows[min(a.focus[a.pane], len(rows)-1)]
}

// move goes up or down the form, round its ends.
func (a *App) move(by int) {
	a.leave()
	n := len(a.rows(a.pane))
	a.focus[a.pane] = (a.focus[a.pane] + by + n) % n
	a.enter()
}

// turn opens the next form or the one before.
func (a *App) turn(by int) {
	a.leave()
	a.pane = model.Pane((int(a.pane) + by + panes) % panes)
	a.scroll = 0
	a.enter()
}

// nextHand shows the next hand in forms and dial.
func (a *App) nextHand() {
	if n := len(a.doc.Build.Hands); n > 1 {
		a.leave()
		a.hand = (a.hand + 1) % n
		a.enter()
	}
}

// enter begins a visit to the focused field: its text goes into the input.
func (a *App) enter() {
	a.entered = a.doc.Text
	r := a.focused()
	text, _ := a.doc.Given(r.field, r.index)
	a.input.SetValue(text)
	a.input.CursorEnd()
	a.input.Focus()
}

// edit gives a key to the focused field; what is in it is read at once.
func (a *App) edit(msg tea.KeyMsg) {
	if r := a.focused(); r.field.Choices != nil {
		a.choose(r, msg)
		return
	}
	before := a.input.Value()
	a.input, _ = a.input.Update(msg)
	if v := a.input.Value(); v != before {
		a.change(v)
	}
}

// choose goes through a field's choices, or to the next that begins with the
// letter typed.
func (a *App) choose(r row, msg tea.KeyMsg) {
	choices := r.field.Choices
	now := -1
	present, _ := a.doc.Given(r.field, r.index)
	if present == "" {
		present = a.doc.Assumed(r.field, r.index)
	}
	for i, c := range choices {
		if c == present {
			now = i
		}
	}
	n := len(choices)
	switch {
	case key.Matches(msg, a.keys.ChoiceOn):
		now = (now + 1) % n
	case key.Matches(msg, a.keys.ChoiceBack):
		now = (max(now, 0) - 1 + n) % n
	case msg.Type == tea.KeyRunes:
		for k := 1; k <= n; k++ {
			if c := choices[(now+k+n)%n]; strings.HasPrefix(strings.ToLower(c), strings.ToLower(string(msg.Runes))) {
				now = (now + k + n) % n
				break
			}
		}
	default:
		return
	}
	if now >= 0 {
		a.change(choices[now])
		a.input.SetValue(choices[now])
	}
}

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
	var lines []line
	for i, r := range rows {
		if r.heading != "" {
			if airy && i > 0 {
				lines = append(lines, line{row: i - 1, blank: true})
			}
			lines = append(lines, line{row: i, heading: r.heading})
		}
		lines = append(lines, line{row: i})
		if p := a.doc.Problem(r.field, r.index); p != nil {
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

// first is the line a form's window begins with: the focused field with its
// problem in view, the rest as high as it goes.
func first(lines []line, focus, height int) int {
	from, to := 0, 0
	for i, l := range lines {
		if l.row == focus {
			if to == 0 {
				from = i
			}
			to = i + 1
		}
	}
	start := max(0, min(from-height/3, len(lines)-height))
	if to-start > height {
		start = min(from, to-height)
	}
	return start
}

// drawForm draws the open form.
func (a *App) drawForm(area cells.Area) {
	rows := a.rows(a.pane)
	focus := min(a.focus[a.pane], len(rows)-1)
	w, h := area.Size()
	lines := a.lines(rows, w, true)
	if len(lines) > h {
		lines = a.lines(rows, w, false)
	}
	start := first(lines, focus, h)
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
	if start > 0 {
		area.Rows(0, 1).TextRight(0, dim, "↑")
	}
	if start+h < len(lines) {
		area.Rows(h-1, 1).TextRight(0, dim, "↓")
	}
}

// Columns of a form.
const (
	labelColumns = 19
	unitColumns  = 8
	unitsFrom    = 40 // columns of a form from which units have a column of their own
)

// drawField draws one field: its label, its value and the unit of a bare number.
func (a *App) drawField(at cells.Area, r row, focused bool) {
	w, _ := at.Size()
	labelStyle, valueStyle, dimStyle := label, value, dim
	if focused {
		labelStyle, valueStyle, dimStyle = focusLabel, focusValue, focusDim
		at.Fill(focusValue, ' ')
	}
	sign := " "
	if a.doc.Problem(r.field, r.index) != nil {
		sign, labelStyle = "!", fault
	}
	at.Text(0, 0, labelStyle, sign+r.field.Label)
	_, middle := at.SplitLeft(labelColumns)
	if w >= unitsFrom && r.field.Unit.Symbol() != "" {
		var unit cells.Area
		middle, unit = middle.SplitLeft(w - labelColumns - unitColumns)
		unit.Text(1, 0, dimStyle, r.field.Unit.Symbol())
	}
	text, given := a.doc.Given(r.field, r.index)
	switch {
	case focused && r.field.Choices == nil:
		a.drawInput(middle, a.assumed(r))
		return
	case !given:
		text, valueStyle = a.assumed(r), dimStyle
	}
	if focused {
		text = "‹ " + text + " ›"
	}
	middle.Text(0, 0, valueStyle, text)
}

// assumed is what stands in a field that is not given: what that means, in
// brackets.
func (a *App) assumed(r row) string {
	if s := a.doc.Assumed(r.field, r.index); s != "" {
		return "(" + s + ")"
	}
	if r.field.Must {
		return "needed"
	}
	return "–"
}

// drawInput draws the text being typed, with its cursor always in view.
func (a *App) drawInput(at cells.Area, assumed string) {
	w, _ := at.Size()
	text, position := []rune(a.input.Value()), a.input.Position()
	if len(text) == 0 {
		at.Text(1, 0, focusDim, assumed)
	}
	from, head := 0, string(text[:position])
	for cells.Width(head) > w-1 {
		from++
		head = "…" + string(text[from:position])
	}
	x := at.Text(0, 0, focusValue, head)
	under := " "
	if position < len(text) {
		under = string(text[position])
	}
	x += at.Text(x, 0, cursorCell, under)
	if position < len(text) {
		at.Text(x, 0, focusValue, string(text[position+1:]))
	}
}
