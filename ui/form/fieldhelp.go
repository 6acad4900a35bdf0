package form

import (
	"cmp"
	"fmt"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// DrawHelp says what is wrong with the file as a whole, what to do about a finding, or
// what is to be known of the focused field.
func (f *Form) DrawHelp(at cells.Area, advised *judge.Finding) {
	if p := f.s.Homeless(); p != nil {
		text := p.String() + ". Mend it in an editor, then open the file again (" + f.keys.Open.Help().Key + ")."
		if f.s.Doc.Broken() {
			text += " Until then nothing can be typed."
		}
		draw.Fit(at, draw.Fault, text, "")
		return
	}
	r, ok := f.Focused()
	switch {
	case advised != nil && f.s.Report != nil:
		f.drawAdvice(at, advised)
	case ok:
		f.drawFieldHelp(at, r)
	}
}

// drawAdvice says what to do about a finding that was gone to, and in the room that leaves
// what can be hurt at its field.
func (f *Form) drawAdvice(at cells.Area, advised *judge.Finding) {
	text, tail := f.adviceText(advised), ""
	if len(advised.Changes) > 0 {
		tail = "(" + f.keys.Take.Help().Key + "\u00a0does\u00a0it)"
	}
	draw.Fit(at, draw.Value, text, tail)
	r, ok := f.Focused()
	if !ok {
		return
	}
	if cautions := f.cautionsAt(r); len(cautions) > 0 {
		_, h := at.Size()
		caution, taken := draw.CautionSign(at.ASCII())+cautions[0].Line(), len(at.Lines(text+" "+tail))
		if taken+len(at.Lines(caution)) <= h {
			at.Wrap(taken, draw.Caution, caution)
		}
	}
}

// adviceText is what to do about a finding that was gone to. Of several hands it says whose
// it is, and which of the lines it is that the findings beside the form are.
func (f *Form) adviceText(a *judge.Finding) string {
	hands := f.s.Report.Build.Hands
	text := draw.Signs[a.Severity] + " " + a.Severity.String()
	if place := f.s.Found().Place(a); len(hands) > 1 && place >= 0 {
		text += fmt.Sprintf(" (%d of %d)", place+1, len(f.s.Found().All))
	}
	return text + ": " + f.whose(a) + a.Text + " " + a.Advice
}

// whose names what a finding is about, where it may be another.
func (f *Form) whose(a *judge.Finding) string {
	if hands := f.s.Report.Build.Hands; a.About == "" || len(hands) == 1 && a.About == hands[0].Name {
		return ""
	}
	return a.About + ": "
}

// A helpPart is one thing to be known of a field.
type helpPart struct {
	style cells.Style
	Text  string
	stays stay
}

// A stay is how much of a part stands below the form, whatever else there is.
type stay uint8

const (
	ifRoom     stay = iota
	oneLine         // one line of it
	allOrNone       // all of it: half a caution is none
	onPageOnly      // nothing: it is for the page
)

// HelpParts are what is to be known of a row, the first to be read first: what it is,
// what can be hurt, what would do better, how to find it. Where room is short, what may
// be typed comes last: at what may not, its own message says so.
func (f *Form) HelpParts(r Row, short, ascii bool) []helpPart {
	what, allowed := f.WhatItIs(r), allowedText(r.Field)
	if !short {
		what = strings.TrimSpace(what + " " + allowed)
	}
	parts := []helpPart{{draw.Value, what, oneLine}}
	cautions := f.cautionsAt(r)
	if len(cautions) > 0 {
		parts = append(parts, helpPart{draw.Caution, draw.CautionSign(ascii) + cautions[0].Line(), allOrNone})
	}
	if text := cmp.Or(f.meantHelp(r), f.offerHelp(r)); text != "" {
		parts = append(parts, helpPart{draw.Note, text, oneLine})
	}
	if text := measureText(r.Field); text != "" {
		parts = append(parts, helpPart{draw.Dim, text, ifRoom})
	}
	if short && allowed != "" {
		parts = append(parts, helpPart{draw.Value, allowed, ifRoom})
	}
	for i := range cautions {
		if i > 0 || cautions[i].Line() != cautions[i].Text {
			parts = append(parts, helpPart{draw.Caution, draw.CautionSign(ascii) + cautions[i].Text, onPageOnly})
		}
	}
	return parts
}

// measureText says how to find a field's value, "" where that is not said.
func measureText(f *model.Field) string {
	if f.Measure == "" {
		return ""
	}
	return "Measure: " + f.Measure
}

// WhatItIs says what a field is, and where its value is from.
func (f *Form) WhatItIs(r Row) string {
	switch mark := f.s.Doc.Mark(r.Field, r.Index); {
	case isUnsure(mark):
		return "? " + mark + ". " + r.Field.Help
	case mark != "":
		return strings.ToUpper(mark[:1]) + mark[1:] + ". " + r.Field.Help
	}
	return r.Field.Help
}

// isUnsure says whether the mark behind a value says that nobody measured it.
func isUnsure(mark string) bool { return mark != "" && mark != "from the survey" }

// allowedText says what may be typed in a field, "" where anything may.
func allowedText(f *model.Field) string {
	may := f.Allowed()
	if may == "" {
		return ""
	}
	if unit := f.Unit.Symbol(); unit != "" {
		may += ", bare in " + unit
	}
	return "Allowed: " + may + "."
}

// A helpLine is a line of help as it stands.
type helpLine struct {
	style cells.Style
	text  string
	whole bool // it is not to be cut
}

// drawFieldHelp says what is to be known of a row, and in the room that leaves what to do
// next; where there is no room for all that is to be known, a key is named that shows the
// rest.
func (f *Form) drawFieldHelp(at cells.Area, r Row) {
	w, h := at.Size()
	tail := f.keys.Cautions.Help().Key + " shows all"
	room := w - cells.Width(tail) - 1
	lines, tailAt, whole := helpLines(f.HelpParts(r, false, at.ASCII()), w, h, room)
	if !whole {
		lines, tailAt, _ = helpLines(f.HelpParts(r, true, at.ASCII()), w, h, room)
	}
	for y, l := range lines {
		line := at.Rows(y, 1)
		if y == tailAt {
			line.TextRight(0, l.style, tail)
			line = line.Sub(0, 0, room, 1)
		}
		line.Text(0, 0, l.style, l.text)
	}
	f.drawNext(at.Rows(len(lines), h-len(lines)))
}

// helpLines are the lines of help in w by h, and behind which of them it is said, in what
// is left beside room, that there is more; -1: there is none. whole says whether nothing is
// cut that is not for the page alone.
func helpLines(parts []helpPart, w, h, room int) (lines []helpLine, tailAt int, whole bool) {
	rows, whole := shareRows(parts, w, h)
	for i, p := range parts {
		texts := cells.Lines(p.Text, w)
		for y, text := range texts[:rows[i]] {
			if y == rows[i]-1 { // what has no row is put there, to be cut
				text = strings.Join(texts[y:], " ")
			}
			lines = append(lines, helpLine{p.style, text, p.stays == allOrNone})
		}
	}
	if whole && parts[len(parts)-1].stays != onPageOnly {
		return lines, -1, true
	}
	tailAt, fits := tailLine(lines, room)
	if !fits && len(lines) < h {
		return append(lines, helpLine{draw.Dim, "", false}), len(lines), whole
	}
	return lines, tailAt, whole && fits
}

// tailLine is the line behind which something stands that leaves so much room: the lowest
// that fits there, else the lowest that may be cut.
func tailLine(lines []helpLine, room int) (at int, fits bool) {
	at = -1
	for y := len(lines) - 1; y >= 0; y-- {
		if cells.Fits(lines[y].text, room) {
			return y, true
		}
		if at < 0 && !lines[y].whole {
			at = y
		}
	}
	return at, false
}

// shareRows says how many of h rows each part gets: the first what they need, as long as
// those are left that others must have; fits is whether all gets its rows that is not for
// the page.
func shareRows(parts []helpPart, w, h int) (rows []int, fits bool) {
	rows, fits = make([]int, len(parts)), true
	kept, least := 0, make([]int, len(parts))
	for i, p := range parts {
		switch p.stays {
		case oneLine:
			least[i] = 1
		case allOrNone:
			least[i] = len(cells.Lines(p.Text, w))
		}
		if kept+least[i] > h { // for that there is no room, whatever is left out
			least[i] = 0
		}
		kept += least[i]
	}
	for i, p := range parts {
		kept -= least[i]
		needs, room := len(cells.Lines(p.Text, w)), h-kept
		switch {
		case p.stays == onPageOnly:
			continue
		case p.stays == allOrNone && needs > room:
			room = 0
		}
		rows[i] = max(0, min(needs, room))
		h -= rows[i]
		fits = fits && rows[i] == needs
	}
	return rows, fits
}

// drawNext says what to do next, at the lower end of an area, if it fits.
func (f *Form) drawNext(at cells.Area) {
	w, h := at.Size()
	if h < 1 {
		return
	}
	for _, text := range f.nextSteps() {
		if n := len(cells.Lines(text, w)); n <= h {
			at.Rows(h-n, n).Wrap(0, draw.Note, text)
			return
		}
	}
}

// nextSteps say what to do next, the fullest first: mend what cannot be read, then what
// was found, measure what was assumed, and look at what came of it all.
func (f *Form) nextSteps() []string {
	k := f.keys
	goes := k.Finding.Help().Key
	switch {
	case f.s.Doc.Broken() || f.s.Report == nil && !f.s.Stale():
		return nil
	case f.s.Stale():
		return []string{"Next: " + f.s.ToMend() + "; " + goes + " goes there."}
	case len(f.s.Report.Build.Hands) == 0:
		return []string{"Next: " + k.Menu.Help().Key + ", New build, begins with a meter; Add a hand adds one to this."}
	case f.s.Report.Worst() > judge.Note:
		leads := "Next: " + goes + " leads to the worst finding and what mends it. "
		worst := &f.s.Report.Findings[0]
		return []string{leads + f.whose(worst) + worst.Advice, strings.TrimSpace(leads)}
	}
	if labels := f.toMeasure(); len(labels) > 0 {
		text := "Next: measure what is assumed, marked ?: " + strings.Join(labels[:min(len(labels), mostNamed)], ", ")
		if more := len(labels) - mostNamed; more > 0 {
			text += fmt.Sprintf(" and %d more", more)
		}
		return []string{text + "."}
	}
	return []string{"Next: " + k.Save.Help().Key + " saves it, " + k.Budget.Help().Key + " shows what makes it read wrong, " + k.Kits.Help().Key + " makes many kits of it."}
}

// mostNamed are so many fields in a sentence.
const mostNamed = 3

// toMeasure are the labels of the fields of the hand in view, and of what there is once,
// that can be measured and of which the text says that they were not.
func (f *Form) toMeasure() []string {
	var labels []string
	for _, field := range model.Builds.Fields {
		index := 0
		if field.List() == "hand" {
			index = f.s.Hand
		}
		if mark := f.s.Doc.Mark(field, index); field.Measure != "" && isUnsure(mark) && mark != "suggested" {
			labels = append(labels, strings.TrimSpace(field.Label))
		}
	}
	return labels
}
