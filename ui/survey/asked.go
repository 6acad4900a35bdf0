package survey

import (
	"image"
	"strings"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// A block is a stretch of text of one kind, which may have a label before it.
type block struct {
	style       cells.Style
	label, text string
}

// lines are those of a block in so many columns.
func (b *block) lines(w int) []string {
	if b.label != "" {
		w -= labelColumns
	}
	return cells.Lines(b.text, w)
}

// texts are what is asked, or what was found; where the connection is drawn, it is not told
// besides.
func (v *Survey) texts(drawn bool) []block {
	if v.ask == nil {
		return v.told()
	}
	text := v.ask.Text
	if first, rest, ok := strings.Cut(text, ". "); ok && drawn && strings.Contains(first, "──") {
		text = v.changed() + rest
	}
	return []block{{style: draw.Value, text: text}}
}

// changed says what of the connection is another one than before, "" where it is the first or
// the same.
func (v *Survey) changed() string {
	now := v.ask.Of
	for i := len(v.steps) - 1; i >= 0; i-- {
		was := v.steps[i].ask.Of
		switch {
		case was == nil || was.Series == 0: // a source by itself
			continue
		case was.Volts != now.Volts:
			return "Now " + exactly(now.Volts, quantity.Volts) + ", " + exactly(now.Series, quantity.Ohms) + ". "
		case was.Series != now.Series:
			return "Now " + exactly(now.Series, quantity.Ohms) + ". "
		}
		return ""
	}
	return ""
}

// options are what can be chosen now.
func (v *Survey) options() []option {
	if v.ask == nil {
		return v.endings()
	}
	w := words[v.ask.Kind]
	switch {
	case v.isLoaded():
		return []option{{value: skip, text: skip, hint: "I cannot measure it"}}
	case v.ask.Choices == nil:
		return w.options
	}
	all := make([]option, len(v.ask.Choices))
	for i, c := range v.ask.Choices {
		all[i] = option{value: c, text: c, hint: w.hints[c]}
	}
	return all
}

// isLoaded says whether a source is to be measured with the meter on it.
func (v *Survey) isLoaded() bool {
	return v.ask.Kind == "source" && v.ask.Of != nil && v.ask.Of.Series > 0
}

// places are the rows of what is asked.
type places struct {
	texts         []block
	textRows      int // for them, all together
	line, problem int // where they begin
	list, rows    int // where the options begin, and how many of them are in view
}

// leastOptions are in view, whatever else there is.
const leastOptions = 3

// placed shares a room of w by h: the problem and the line stand whole, and some options;
// what is asked has the rest, and what it leaves is air between them.
func (v *Survey) placed(w, h int, drawn bool) places {
	p := places{texts: v.texts(drawn)}
	for _, b := range p.texts {
		p.textRows += len(b.lines(w))
	}
	problem, line := len(cells.Lines(v.problem, w)), 0
	if v.hasLine() {
		line = 1
	}
	options := len(v.options())
	p.rows = min(options, max(h-p.textRows-line-problem, leastOptions))
	p.textRows = min(p.textRows, max(0, h-p.rows-line-problem))
	air := h - p.textRows - line - problem - p.rows
	gap := func(rows int) int { // so many where there is room
		rows = max(0, min(rows, air))
		air -= rows
		return rows
	}
	p.line = p.textRows + gap(1)
	p.problem = p.line + line
	p.list = p.problem + problem
	if line+problem > 0 {
		p.list += gap(1)
	}
	return p
}

// drawAsked draws the question and its answers, or what was found; marked is the same room
// with a column at either side.
func (v *Survey) drawAsked(at, marked cells.Area, drawn bool) {
	w, h := at.Size()
	p := v.placed(w, h, drawn)
	v.drawTexts(at.Rows(0, p.textRows), p.texts)
	if v.hasLine() {
		v.drawLine(at.Rows(p.line, 1), marked.Rows(p.line, 1))
	}
	at.Rows(p.problem, h-p.problem).Wrap(0, draw.Fault, v.problem)
	v.drawOptions(at.Rows(p.list, p.rows), marked.Rows(p.list, p.rows))
}

// drawTexts draws texts below each other. What does not fit ends in …; the page of the help
// has all of it.
func (v *Survey) drawTexts(at cells.Area, texts []block) {
	w, h := at.Size()
	y := 0
	for _, b := range texts {
		n := min(len(b.lines(w)), h-y)
		if n < 1 {
			return
		}
		row := at.Rows(y, n)
		if b.label != "" {
			row.Text(0, 0, draw.Label, b.label)
			row = row.Sub(labelColumns, 0, w-labelColumns, n)
		}
		draw.Cut(row, b.style, b.text, "")
		y += n
	}
}

// typedColumns is how much room an answer has at least.
const typedColumns = 11

// drawLine draws what is typed, and what is wanted behind it.
func (v *Survey) drawLine(at, marked cells.Area) {
	w, _ := at.Size()
	hint := wanted(v.ask)
	room := max(typedColumns, min(w-cells.Width(hint)-1, 2*typedColumns))
	cell := at.Sub(0, 0, room, 1)
	if v.chosen == noOption {
		cell.Fill(draw.FocusValue, ' ')
		v.line.Draw(cell, "", false)
		draw.Here(marked)
	} else {
		cell.Text(0, 0, draw.Dim, v.line.Value()+strings.Repeat("_", max(0, room-cells.Width(v.line.Value()))))
	}
	at.Sub(room+1, 0, w-room-1, 1).Text(0, 0, draw.Dim, hint)
}

// first is the option at the top of so many rows: what is chosen is in view.
func (v *Survey) first(rows int) int {
	return max(0, min(v.chosen-rows/2, len(v.options())-rows))
}

// drawOptions draws the list of them.
func (v *Survey) drawOptions(at, marked cells.Area) {
	options := v.options()
	w, h := at.Size()
	start, column := v.first(h), 0
	for _, o := range options {
		column = max(column, cells.Width(o.text))
	}
	for y := 0; y < h && start+y < len(options); y++ {
		o, row := options[start+y], at.Rows(y, 1)
		style, hint := draw.Value, draw.Dim
		if start+y == v.chosen {
			style, hint = draw.FocusValue, draw.FocusDim
			row.Fill(draw.FocusValue, ' ')
			draw.Here(marked.Rows(y, 1))
		}
		row.Text(0, 0, style, o.text)
		row.Sub(column+2, 0, w-column-2, 1).Text(0, 0, hint, o.hint)
	}
	right := marked.Sub(w+1, 0, 1, h)
	if start > 0 {
		right.Text(0, 0, draw.Dim, "↑")
	}
	if start+h < len(options) {
		right.Text(0, h-1, draw.Dim, "↓")
	}
}

// Click chooses the option or the line at a place of a window of w by h.
func (v *Survey) Click(at image.Point, w, h int) {
	drawn := sketchOf(v.ask, v.isTurned()) != nil
	l := layout.OfSurvey(w, h, drawn)
	if !at.In(l.Left) {
		return
	}
	p := v.placed(l.Left.Dx(), l.Left.Dy(), drawn && !l.Right.Empty())
	y := at.Y - l.Left.Min.Y
	switch {
	case v.hasLine() && y == p.line:
		v.chosen = noOption
		v.line.Point(at.X-l.Left.Min.X, typedColumns)
	case y >= p.list && y < p.list+p.rows:
		v.chosen = v.first(p.rows) + y - p.list
	}
}
