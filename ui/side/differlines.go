package side

import (
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
)

// A differLine is a line of what differs: a text, and what stands at its right end.
type differLine struct {
	style       cells.Style
	text, value string
	in          int // columns before it
}

// draw draws as much of what differs as is in the window.
func (d *differ) draw(at cells.Area) {
	w, h := at.Size()
	lines, hint := d.lines(w), d.keysText()
	room := d.room(w, h)
	at.Wrap(room, draw.Dim, hint)
	top := max(0, min(d.top, len(lines)-room))
	for y, l := range lines[top:min(top+room, len(lines))] {
		right := 0
		if len(lines) > room { // the last column is for ↑ and ↓
			right = 2
		}
		row := at.Sub(l.in, y, w-l.in-right, 1)
		row.Text(0, 0, l.style, l.text)
		if l.value != "" {
			row.TextRight(0, draw.Value, l.value)
		}
	}
	if top > 0 {
		at.Text(w-1, 0, draw.Dim, "↑")
	}
	if top+room < len(lines) {
		at.Text(w-1, room-1, draw.Dim, "↓")
	}
}

// room is how many of h rows there are for what differs, above what goes on from there.
func (d *differ) room(w, h int) int {
	if rows := len(cells.Lines(d.keysText(), w)); h-rows >= leastNoted {
		return h - rows
	}
	return h
}

// keysText says what goes on from here.
func (d *differ) keysText() string {
	text := keys.First(d.keys.Differ) + ": from the file"
	switch {
	case d.kept == nil:
		text = d.keys.Menu.Help().Key + " keeps a state"
	case !d.byKept:
		text = keys.First(d.keys.Differ) + ": from the one kept"
	}
	return text + "; " + d.keys.Cautions.Help().Key + " shows all; " + d.keys.Leave.Help().Key + ": the needle."
}

// scroll goes through the lines by pages of a room of w by h.
func (d *differ) scroll(by, w, h int) {
	last := max(0, len(d.lines(w))-d.room(w, h))
	d.top = max(0, min(d.top+by*max(1, h-3), last))
}

// lines are what differs, broken to a width.
func (d *differ) lines(w int) []differLine {
	l := differLines{w: w - 2} // of ↑ and ↓
	l.wrap(draw.Heading, 0, "What differs from "+d.name())
	c, present := d.found()
	from := d.from()
	switch {
	case from == nil:
		l.wrap(draw.Value, 1, "Nothing is saved yet.")
		return l.all
	case len(from.Problems) > 0:
		l.wrap(draw.Caution, 1, "It cannot be compared: "+from.Problems[0].Message()+".")
		return l.all
	case d.s.Stale():
		l.wrap(draw.Caution, 0, "As far as it could be read last: "+d.s.ToMend()+".")
	case !present && c != nil:
		l.dim = true
	}
	switch {
	case c == nil && d.s.Stale():
	case c == nil:
		l.wrap(draw.Dim, 1, "They are being compared.")
	case !c.Differ():
		l.wrap(draw.Value, 1, "Nothing differs: inputs, results and findings are alike.")
	default:
		l.addAll(c, len(d.s.Doc.Build.Hands) > 1)
	}
	return l.all
}

// differLines are lines that are being put together for a width.
type differLines struct {
	w   int
	dim bool // they are of a former text
	all []differLine
}

// wrap adds a text, in as many lines as it takes.
func (l *differLines) wrap(style cells.Style, in int, text string) {
	if l.dim && style != draw.Heading {
		style = draw.Dim
	}
	for _, s := range cells.Lines(text, l.w-in) {
		l.all = append(l.all, differLine{style: style, text: s, in: in})
	}
}

// change adds what became of a value: in one line, in two, or with what it is in a third.
func (l *differLines) change(label, was, is string) {
	value, room := wasAndIs(was, is), l.w-1
	switch {
	case cells.Fits(label+"  "+value, room):
		l.add(label, value)
	case cells.Fits(value, room):
		l.wrap(draw.Label, 1, label)
		l.add("", value)
	default:
		l.wrap(draw.Label, 1, label)
		l.add("", cells.Cut(was, room))
		l.add("", cells.Cut("→ "+is, room))
	}
}

func (l *differLines) add(label, value string) {
	style := draw.Label
	if l.dim {
		style = draw.Dim
	}
	l.all = append(l.all, differLine{style: style, text: label, value: value, in: 1})
}

// addAll adds all that differs.
func (l *differLines) addAll(c *whatif.Comparison, several bool) {
	if len(c.Inputs) > 0 {
		l.wrap(draw.Heading, 0, "Inputs")
	}
	for _, in := range c.Told() {
		l.change(inputName(in, several), model.OrNone(in.A), model.OrNone(in.B))
	}
	if len(c.Likely) > 0 {
		l.wrap(draw.Heading, 0, whatif.LikelyHead)
	}
	for i := range c.Likely {
		was, is := c.Likely[i].Texts()
		l.change(c.Likely[i].Hand, was, is)
	}
	l.found("Findings that come", c.Come)
	l.found("Findings that go", c.Gone)
	if len(c.Results) > 0 {
		l.wrap(draw.Heading, 0, "Results")
	}
	for i := range c.Results {
		was, is := c.Results[i].Texts()
		l.change(resultName(&c.Results[i], several), was, is)
	}
}

// found adds findings under a heading.
func (l *differLines) found(head string, findings []judge.Finding) {
	if len(findings) > 0 {
		l.wrap(draw.Heading, 0, head)
	}
	for _, f := range findings {
		l.wrap(draw.SeverityStyles[f.Severity], 1, draw.Signs[f.Severity]+" "+strings.TrimSpace(f.String()))
	}
}

// resultName is what a result that differs is called away from the others.
func resultName(d *whatif.ResultDiff, several bool) string {
	label, of := strings.TrimSpace(d.Label), ""
	for i := range circuit.Results {
		r := &circuit.Results[i]
		switch {
		case r == d.Result && strings.HasPrefix(r.Label, " "):
			label = of + ", " + label
		case !strings.HasPrefix(r.Label, " "):
			of = r.Label
		}
	}
	owner := d.Of
	if parts := strings.Split(d.ID, "."); owner == "" && len(parts) > 2 {
		owner = parts[1] // of a lamp or a button
	}
	if owner == "" || owner == d.Of && !several {
		return label
	}
	return label + ", " + owner
}

// AddDifferences adds to a page all that differs, where that is in view.
func (d *Side) AddDifferences(p *front.Page) {
	v := d.Views
	if v.At != differView {
		return
	}
	for _, l := range v.Differ.lines(pageColumns) {
		text := strings.Repeat(" ", l.in) + l.text
		if l.value != "" {
			text += strings.Repeat("\u00a0", max(2, pageColumns-2-cells.Width(text)-cells.Width(l.value))) + l.value
		}
		p.Add(l.style, text)
	}
	p.Add(draw.Dim, "")
}

// pageColumns are those of what differs on a page: what every window has room for.
const pageColumns = layout.LeastWidth - 4
