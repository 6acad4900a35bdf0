package ui

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// edit gives a key to the focused field; what is in it is read at once.
func (f *form) edit(msg tea.KeyMsg) tea.Cmd {
	r, ok := f.focused()
	switch {
	case !ok, f.s.doc.Broken(), r.isHead(): // the help says why, or its pairs are edited below it
		return nil
	case r.field.Choices != nil:
		return f.choose(r, msg)
	case f.s.doc.TooLong(r.field, r.index) > 0:
		return f.editLong(r, msg)
	}
	changed, says := f.line.press(msg)
	if says != "" {
		f.say.warn(says)
	}
	if changed {
		return f.change(r, f.line.Value())
	}
	return nil
}

// change puts a value into the focused field and recomputes.
func (f *form) change(r row, given string) tea.Cmd {
	f.s.rebase()
	doc := f.s.doc
	if r.cell < 0 {
		f.s.show(doc.Set(r.field, r.index, given))
	} else {
		d := doc.SetPairs(r.field, r.index, withPair(doc.Pairs(r.field, r.index), r.cell, given))
		if d.TooLong(r.field, r.index) > 0 {
			f.say.warn("All pairs together may have " + quantity.Grouped(r.field.Longest()) + " characters, and these are more: take one out first.")
			f.fill()
			return nil
		}
		f.s.show(d)
		f.refocus(r)
	}
	return f.s.changed()
}

// editLong takes a key at a value that is too long to be edited: it stands until
// it is emptied as a whole.
func (f *form) editLong(r row, msg tea.KeyMsg) tea.Cmd {
	doc := f.s.doc
	if !f.line.empties(msg) {
		f.say.warn(fmt.Sprintf("%s has %s characters, too many to be edited here: ctrl+u empties it for a new value, undo gives it back.",
			strings.TrimSpace(r.field.Label), quantity.Grouped(doc.TooLong(r.field, r.index))))
		return nil
	}
	f.s.rebase()
	f.s.show(doc.Set(r.field, r.index, ""))
	f.refocus(r)
	f.line.fill("", r.longest())
	return f.s.changed()
}

// choose goes through a field's choices, or to the next that begins with what
// is typed.
func (f *form) choose(r row, msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, f.keys.ChoiceOn):
		return f.step(true)
	case key.Matches(msg, f.keys.ChoiceBack):
		return f.step(false)
	case msg.Type != tea.KeyRunes:
		return nil
	}
	present, typed := f.text(r), strings.ToLower(string(msg.Runes))
	n, now := len(r.field.Choices), 0
	for i, c := range r.field.Choices {
		if c == present {
			now = i
		}
	}
	for k := 1; k <= n; k++ {
		if c := r.field.Choices[(now+k)%n]; strings.HasPrefix(strings.ToLower(c), typed) {
			return f.put(r, c)
		}
	}
	return nil
}

// step steps the focused value up or down.
func (f *form) step(up bool) tea.Cmd {
	r, focused := f.focused()
	if !focused {
		return nil
	}
	text, ok := "", false
	if r.cell < 0 && !f.s.doc.Broken() {
		text, ok = f.s.doc.Step(r.field, r.index, up)
	}
	if !ok {
		f.say.say(r.field.Label + " takes no further step that way.")
		return nil
	}
	return f.put(r, text)
}

// put gives the focused field a text that was not typed.
func (f *form) put(r row, text string) tea.Cmd {
	cmd := f.change(r, text)
	if now, ok := f.focused(); ok {
		f.line.fill(text, now.longest())
	}
	return cmd
}

// back goes one visit back by undo, or forth again by redo, and to the field that it
// changes.
func (f *form) back(step func() *model.Document, what, done string) tea.Cmd {
	f.leave()
	before := step()
	if before == nil {
		f.say.say("Nothing left to " + what + ".")
		return nil
	}
	f.enter()
	f.say.say(done + ".")
	if field, i, ok := before.FirstChange(f.s.doc); ok && f.goToValue(field, i) {
		f.say.say(done + ": " + changedText(before, f.s.doc, field, i))
	}
	return f.s.changed()
}

// changedText says what became of a field, and how many others changed.
func changedText(before, now *model.Document, field *model.Field, i int) string {
	if field.IsTable() {
		return field.Label + "."
	}
	was, _ := before.Given(field, i)
	is, _ := now.Given(field, i)
	text := field.Label + ", " + cmp.Or(was, "nothing") + " → " + cmp.Or(is, "nothing")
	if more := before.ChangedValues(now) - 1; more > 0 {
		text += fmt.Sprintf(", and %d more", more)
	}
	return text
}

// undo and redo do so.
func (f *form) undo() tea.Cmd { return f.back(f.s.undoVisit, "undo", "Undone") }
func (f *form) redo() tea.Cmd { return f.back(f.s.redoVisit, "redo", "Done again") }
