package form

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// Edit gives a key to the focused field; what is in it is read at once.
func (f *Form) Edit(msg tea.KeyMsg) tea.Cmd {
	r, ok := f.Focused()
	switch {
	case !ok, f.s.Doc.Broken(), r.isHead(): // the help says why, or its pairs are edited below it
		return nil
	case r.Field.Choices != nil:
		return f.choose(r, msg)
	case f.s.Doc.TooLong(r.Field, r.Index) > 0:
		return f.editLong(r, msg)
	}
	changed, says := f.line.Press(msg)
	if says != "" {
		f.say.Warn(says)
	}
	if !changed {
		return nil
	}
	f.typing.on = true
	if _, given := quantity.Tolerance(f.line.Value()); !given {
		f.typing.own = true
	}
	if r.Cell >= 0 {
		return f.changePair(r, f.line.Value())
	}
	return f.show(f.completed(r, f.line.Value()))
}

// Typed is what stands in the line of the focused field.
func (f *Form) Typed() string { return f.line.Value() }

// show takes a document in which the focused field has another value, and recomputes.
func (f *Form) show(d *model.Document) tea.Cmd {
	f.s.Rebase()
	f.s.Show(d)
	return f.s.Changed()
}

// changePair puts a pair into the focused row of a table.
func (f *Form) changePair(r Row, given string) tea.Cmd {
	doc := f.s.Doc
	d := doc.SetPairs(r.Field, r.Index, withPair(doc.Pairs(r.Field, r.Index), r.Cell, given, r.Field.Cells()))
	if d.TooLong(r.Field, r.Index) > 0 {
		f.say.Warn("All pairs together may have " + quantity.Grouped(r.Field.Longest()) + " characters, and these are more: take one out first.")
		f.line.Amend(f.Text(r))
		return nil
	}
	cmd := f.show(d)
	f.refocus(r)
	return cmd
}

// editLong takes a key at a value that is too long to be edited: it stands until
// it is emptied as a whole.
func (f *Form) editLong(r Row, msg tea.KeyMsg) tea.Cmd {
	doc := f.s.Doc
	if !f.line.Empties(msg) {
		f.say.Warn(fmt.Sprintf("%s has %s characters, too many to be edited here: %s empties it for a new value, undo gives it back.",
			strings.TrimSpace(r.Field.Label), quantity.Grouped(doc.TooLong(r.Field, r.Index)), f.keys.Empty.Help().Key))
		return nil
	}
	cmd := f.show(doc.Set(r.Field, r.Index, ""))
	f.refocus(r)
	f.fill()
	return cmd
}

// choose goes through a field's choices, or to one that is meant by what is typed: letters
// typed one after another are a word, as long as that means something.
func (f *Form) choose(r Row, msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, f.keys.ChoiceOn):
		return f.Step(true)
	case key.Matches(msg, f.keys.ChoiceBack):
		return f.Step(false)
	case msg.Type != tea.KeyRunes:
		return nil
	}
	typed := string(msg.Runes)
	for _, sought := range []string{f.sought + typed, typed} {
		fitting := r.Field.Fitting(sought)
		found := fitting
		if found == nil {
			found = r.Field.Beginning(sought)
		}
		if len(found) == 0 {
			continue
		}
		word := utf8.RuneCountInString(sought) > 1
		chosen := chosenOf(found, r.Field.Choices, f.Text(r), word)
		cmd := f.put(f.s.Doc.Set(r.Field, r.Index, chosen))
		f.sought = sought
		if len(fitting) > 1 && word {
			f.say.Say(sought + ": " + chosen + "; " + f.keys.ChoiceOn.Help().Key + " goes on. It may be " + strings.Join(fitting, ", ") + ".")
		}
		return cmd
	}
	f.say.Say("No choice begins with " + typed + "; " + f.keys.ChoiceOn.Help().Key + " goes through them.")
	return nil
}

// chosenOf is which of the choices that were found is meant: by a word the present one or
// the first; by a letter the next after the present one, in the order of all.
func chosenOf(found, all []string, present string, word bool) string {
	switch at := slices.Index(all, present); {
	case word && slices.Contains(found, present):
		return present
	case !word:
		for _, c := range slices.Concat(all[at+1:], all[:at+1]) {
			if slices.Contains(found, c) {
				return c
			}
		}
	}
	return found[0]
}

// Step steps the focused value up or down.
func (f *Form) Step(up bool) tea.Cmd {
	r, focused := f.Focused()
	if !focused {
		return nil
	}
	text, ok := "", false
	if r.Cell < 0 && !f.s.Doc.Broken() {
		text, ok = f.s.Doc.Step(r.Field, r.Index, up)
	}
	if !ok {
		f.say.Say(r.Field.Label + " takes no further step that way.")
		return nil
	}
	mark := ""
	if isQuantity(f, r) && f.s.Doc.Mark(r.Field, r.Index) == "± assumed" { // a step keeps the ±
		mark = "± assumed"
	}
	return f.put(f.s.Doc.SetMarked(r.Field, r.Index, text, mark))
}

// put shows a document in which the focused field has a text that was not typed.
func (f *Form) put(d *model.Document) tea.Cmd {
	cmd := f.show(d)
	f.fill()
	return cmd
}

// back goes one visit back by undo, or forth again by redo, and to the field that it
// changes.
func (f *Form) back(step func() *model.Document, what, done string) tea.Cmd {
	f.Leave()
	before := step()
	if before == nil {
		f.say.Say("Nothing left to " + what + ".")
		return nil
	}
	f.Enter()
	f.say.Say(done + ".")
	if field, i, ok := before.FirstChange(f.s.Doc); ok && f.GoToValue(field, i) {
		f.say.Say(done + ": " + changedText(before, f.s.Doc, field, i))
	}
	return f.s.Changed()
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

// Undo goes one visit back, and to the field that it changes.
func (f *Form) Undo() tea.Cmd { return f.back(f.s.UndoVisit, "undo", "Undone") }

// Redo goes one visit forth again.
func (f *Form) Redo() tea.Cmd { return f.back(f.s.RedoVisit, "redo", "Done again") }
