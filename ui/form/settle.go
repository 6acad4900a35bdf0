package form

import (
	"slices"
	"strings"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// Settle makes of what was typed what is to stand in the file, when a key does anything
// but type: with its unit, and with the tolerance of what it was typed over. Who types
// a value anew seldom knows it less well.
func (f *Form) Settle() tea.Cmd {
	r, ok := f.Focused()
	if !ok || r.Cell >= 0 || f.s.Untouched() || f.s.Doc.Broken() {
		return nil
	}
	if !isQuantity(f, r) {
		return nil
	}
	was, _ := f.s.Entered().Given(r.Field, r.Index)
	typed, _ := f.s.Doc.Given(r.Field, r.Index)
	text := quantity.Complete(typed, was, r.Field.Unit)
	if text == typed || utf8.RuneCountInString(text) > r.Field.Longest() {
		return nil
	}
	settled := f.s.Doc.Set(r.Field, r.Index, text)
	if settled.Problem(r.Field, r.Index) != nil {
		return nil
	}
	f.s.Show(settled)
	f.line.Amend(text)
	if strings.Contains(text, "±") && !strings.Contains(typed, "±") {
		f.say.Say(strings.TrimSpace(r.Field.Label) + ": " + text + ". The ± is kept; ±0 drops it.")
	}
	return f.s.Changed()
}

func isQuantity(f *Form, r Row) bool {
	if r.Index >= r.Field.Of(f.s.Doc.Build) {
		return false
	}
	_, ok := r.Field.At(f.s.Doc.Build, r.Index).(*quantity.Value)
	return ok
}

// Meant is what else the text of the focused field may mean, and why: three digits may be
// read off a part, a comma may part thousands, and a word may be half the name of a choice.
// It is "" where nothing else is meant.
func (f *Form) Meant(r Row) (text, why string) {
	if r.Cell >= 0 || f.s.Doc.Broken() {
		return "", ""
	}
	given, _ := f.s.Doc.Given(r.Field, r.Index)
	switch {
	case r.Field.Choices != nil:
		return meantChoice(r.Field, given)
	case !isQuantity(f, r):
		return "", ""
	}
	if meant, ok := quantity.Thousands(given); ok {
		text, why = quantity.Complete(meant, "", r.Field.Unit), "The comma is the decimal sign; if it parts thousands"
	}
	if meant, ok := quantity.Marking(given, r.Field.Unit); ok && r.Field.Series != nil {
		text, why = meant, "If "+strings.TrimSpace(given)+" is the marking of a part"
	}
	if text == "" || f.s.Doc.Set(r.Field, r.Index, text).Problem(r.Field, r.Index) != nil {
		return "", ""
	}
	return text, why
}

// meantChoice is the first of the choices that a text may mean which is none itself.
func meantChoice(field *model.Field, given string) (text, why string) {
	if fitting := field.Fitting(given); len(fitting) > 0 && !slices.Contains(field.Choices, given) {
		return fitting[0], "The first that fits " + given
	}
	return "", ""
}

// meantHelp says so, behind the key that takes it.
func (f *Form) meantHelp(r Row) string {
	text, why := f.Meant(r)
	if text == "" {
		return ""
	}
	return f.keys.Take.Help().Key + " " + OfferSign + " " + why + ": " + text + "."
}

// TakeMeant puts into the focused field what else its text may mean; false where nothing
// is.
func (f *Form) TakeMeant() (tea.Cmd, bool) {
	r, ok := f.Focused()
	if !ok {
		return nil, false
	}
	text, _ := f.Meant(r)
	if text == "" {
		return nil, false
	}
	cmd := f.put(r, text)
	f.say.Say(strings.TrimSpace(r.Field.Label) + ": " + text + ".")
	return cmd, true
}
