package form

import (
	"cmp"
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
	if advised != nil {
		tail := ""
		if len(advised.Changes) > 0 {
			tail = "(" + f.keys.Take.Help().Key + "\u00a0does\u00a0it)"
		}
		draw.Fit(at, draw.Value, adviceText(advised), tail)
		return
	}
	if r, ok := f.Focused(); ok {
		f.drawFieldHelp(at, r)
	}
}

// adviceText is what to do about a finding that was gone to.
func adviceText(f *judge.Finding) string {
	return draw.Signs[f.Severity] + " " + f.Severity.String() + ": " + f.Text + " " + f.Advice
}

// A helpPart is one thing to be known of a field.
type helpPart struct {
	style cells.Style
	Text  string
	must  bool // a line of it stands, whatever else there is
}

// HelpParts are what is to be known of a row, the first to be read first: what
// can be hurt, what would do better, what it is, how to find it. Where room is
// short, what may be typed comes last: at what may not, its own message says so.
func (f *Form) HelpParts(r Row, short, ascii bool) []helpPart {
	var parts []helpPart
	cautions := f.cautionsAt(r)
	if len(cautions) > 0 {
		parts = append(parts, helpPart{draw.Caution, cautionText(cautions[0], ascii), true})
		cautions = cautions[1:]
	}
	if text := cmp.Or(f.meantHelp(r), f.offerHelp(r)); text != "" {
		parts = append(parts, helpPart{draw.Note, text, true})
	}
	what, allowed := f.WhatItIs(r), allowedText(r.Field)
	if !short {
		what = strings.TrimSpace(what + " " + allowed)
	}
	parts = append(parts, helpPart{draw.Value, what, true})
	if text := measureText(r.Field); text != "" {
		parts = append(parts, helpPart{draw.Dim, text, false})
	}
	for _, c := range cautions {
		parts = append(parts, helpPart{draw.Caution, cautionText(c, ascii), false})
	}
	if short && allowed != "" {
		parts = append(parts, helpPart{draw.Value, allowed, false})
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
	if mark := f.s.Doc.Mark(r.Field, r.Index); mark != "" {
		return "? " + mark + ". " + r.Field.Help
	}
	return r.Field.Help
}

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

// drawFieldHelp says what is to be known of a row; where there is no room for all
// of it, a key is named that shows the rest.
func (f *Form) drawFieldHelp(at cells.Area, r Row) {
	w, h := at.Size()
	parts := f.HelpParts(r, false, at.ASCII())
	rows, whole := shareRows(parts, w, h)
	if !whole {
		parts = f.HelpParts(r, true, at.ASCII())
		rows, _ = shareRows(parts, w, h)
	}
	y := 0
	for i, p := range parts {
		if rows[i] == 0 {
			continue
		}
		tail := ""
		if y+rows[i] == h && !whole {
			tail = f.keys.Cautions.Help().Key + " shows all"
		}
		draw.Cut(at.Rows(y, rows[i]), p.style, p.Text, tail)
		y += rows[i]
	}
}

// shareRows says how many of h rows each part gets: the first what they need, as
// long as a line is left for each that must have one; whole is whether all is
// shown.
func shareRows(parts []helpPart, w, h int) (rows []int, whole bool) {
	rows, whole = make([]int, len(parts)), true
	kept := 0
	for _, p := range parts {
		if p.must {
			kept++
		}
	}
	for i, p := range parts {
		if p.must {
			kept--
		}
		if h == kept && !p.must { // there is no room left for it, however short
			whole = false
			continue
		}
		needs := len(cells.Lines(p.Text, w))
		rows[i] = max(0, min(needs, h-kept))
		h -= rows[i]
		whole = whole && rows[i] == needs
	}
	return rows, whole
}
