package ui

import (
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// toneStyles are how notices look.
var toneStyles = [...]cells.Style{said: title, warned: caution, failed: fault}

// drawHelp says what was asked or went wrong, what is wrong with the file as a
// whole, what to do about a finding, or what is to be known of the focused field.
func (a *App) drawHelp(at cells.Area) {
	if a.notice.text != "" {
		fit(at, toneStyles[a.notice.tone], a.notice.text, "")
		return
	}
	if p := a.homeless(); p != nil {
		text := p.String() + ". Mend it in an editor, then open the file again (" + a.keys.Open.Help().Key + ")."
		if a.doc.Broken() {
			text += " Until then nothing can be typed."
		}
		fit(at, fault, text, "")
		return
	}
	if a.advising != nil {
		tail := ""
		if len(a.advising.Changes) > 0 {
			tail = "(" + a.keys.Take.Help().Key + " does it)"
		}
		fit(at, value, a.advice(a.advising), tail)
		return
	}
	a.drawFieldHelp(at, a.focused())
}

// fit writes a text and its tail in an area. What does not fit is cut with …, but
// the tail stands.
func fit(at cells.Area, style cells.Style, text, tail string) {
	_, h := at.Size()
	if whole := strings.TrimSpace(text + " " + tail); len(at.Lines(whole)) <= h {
		at.Wrap(0, style, whole)
		return
	}
	cut(at, style, text, tail)
}

// cut writes a text in an area, as much of it as fits, and the tail at its end.
func cut(at cells.Area, style cells.Style, text, tail string) {
	w, h := at.Size()
	lines := at.Lines(text)
	for y, s := range lines[:min(len(lines), h)] {
		if y < h-1 {
			at.Text(0, y, style, s)
			continue
		}
		room := w
		if tail != "" {
			room -= cells.Width(tail) + 1
		}
		at.Sub(0, y, room, 1).Text(0, 0, style, strings.Join(lines[y:], " "))
	}
	at.Rows(h-1, 1).TextRight(0, style, tail)
}

// A helpPart is one thing to be known of a field.
type helpPart struct {
	style cells.Style
	text  string
	must  bool // a line of it stands, whatever else there is
}

// helpParts are what is to be known of a row, the first to be read first: what
// can be hurt, what would do better, what it is, how to find it. Where room is
// short, what may be typed comes last: at what may not, its own message says so.
func (a *App) helpParts(r row, short bool) []helpPart {
	var parts []helpPart
	cautions := a.cautionsAt(r.field, r.index)
	if len(cautions) > 0 {
		parts = append(parts, helpPart{caution, a.cautionText(cautions[0]), true})
		cautions = cautions[1:]
	}
	if text := a.offerHelp(r); text != "" {
		parts = append(parts, helpPart{note, text, true})
	}
	what, allowed := a.whatItIs(r), allowedText(r.field)
	if !short {
		what = strings.TrimSpace(what + " " + allowed)
	}
	parts = append(parts, helpPart{value, what, true})
	if text := measureText(r.field); text != "" {
		parts = append(parts, helpPart{dim, text, false})
	}
	for _, c := range cautions {
		parts = append(parts, helpPart{caution, a.cautionText(c), false})
	}
	if short && allowed != "" {
		parts = append(parts, helpPart{value, allowed, false})
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

// whatItIs says what a field is, and where its value is from.
func (a *App) whatItIs(r row) string {
	if mark := a.doc.Mark(r.field, r.index); mark != "" {
		return "? " + mark + ". " + r.field.Help
	}
	return r.field.Help
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
func (a *App) drawFieldHelp(at cells.Area, r row) {
	w, h := at.Size()
	parts := a.helpParts(r, false)
	rows, whole := shareRows(parts, w, h)
	if !whole {
		parts = a.helpParts(r, true)
		rows, _ = shareRows(parts, w, h)
	}
	y := 0
	for i, p := range parts {
		if rows[i] == 0 {
			continue
		}
		tail := ""
		if y+rows[i] == h && !whole {
			tail = a.keys.Cautions.Help().Key + " shows all"
		}
		cut(at.Rows(y, rows[i]), p.style, p.text, tail)
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
		needs := len(cells.Lines(p.text, w))
		rows[i] = max(0, min(needs, h-kept))
		h -= rows[i]
		whole = whole && rows[i] == needs
	}
	return rows, whole
}
