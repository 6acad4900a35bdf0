package form

import (
	"slices"
	"strings"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
)

// completed is the document with what is typed into a row as it is to stand in the file:
// with its unit, and with the tolerance of what it is typed over. Who types a value anew
// seldom knows it less well. A tolerance that is only assumed says so in a comment, that of
// a multimeter too, which a reading in the place of an assumed value gets.
func (f *Form) completed(r Row, typed string) *model.Document {
	text, mark := f.complete(r, typed)
	d := f.s.Doc.SetMarked(r.Field, r.Index, text, mark)
	if text != typed && d.Problem(r.Field, r.Index) != nil {
		return f.s.Doc.Set(r.Field, r.Index, typed)
	}
	if slices.Contains(saidByDial, r.Field.Path) && d.Problem(r.Field, r.Index) == nil {
		return measure.Propose(d, r.Index)
	}
	return d
}

// saidByDial are the fields from which something follows for a meter's terminals.
var saidByDial = []string{
	"hand.meter.marked", "hand.meter.ohms_per_volt", "hand.meter.shunt_drop", "hand.meter.terminal_resistance", "hand.meter.terminal_full_scale",
}

// complete is that text, and what the comment says.
func (f *Form) complete(r Row, typed string) (text, mark string) {
	if !isQuantity(f, r) {
		return typed, ""
	}
	over, was := f.typing.over.Text, f.typing.over.Comment
	if was == measure.FromDial { // what is measured is known better
		over, was = model.NominalText(over), "assumed"
	}
	kept, had := quantity.Tolerance(over)
	if within := judge.AssumedTolerance(r.Field.Path); was == "assumed" && within != "" && !had {
		over += " ±" + within
	}
	text = quantity.Complete(typed, over, r.Field.Unit)
	given, gives := quantity.Tolerance(typed)
	own := gives && (f.typing.own || given != kept)
	switch _, has := quantity.Tolerance(text); {
	case utf8.RuneCountInString(text) > r.Field.Longest():
		return typed, ""
	case has && !own && strings.HasSuffix(was, "assumed"):
		return text, "± assumed"
	}
	return text, ""
}

// Settle shows in the line what was made of what was typed, when a key does anything but
// type, and says what a person may not expect of it.
func (f *Form) Settle() {
	r, ok := f.Focused()
	if !ok || !f.typing.on || r.Cell >= 0 || !isQuantity(f, r) {
		return
	}
	f.typing.on = false
	typed, text := f.line.Value(), f.Text(r)
	if text != typed {
		f.line.Amend(text)
		f.typeOver(text, f.s.Doc.Mark(r.Field, r.Index))
	}
	f.sayWhatStands(r, typed, text)
}

// sayWhatStands says what a person may not expect of the text that stands for what was
// typed into a row.
func (f *Form) sayWhatStands(r Row, typed, text string) {
	label := strings.TrimSpace(r.Field.Label) + ": "
	comma := quantity.Comma(typed, r.Field.Unit)
	meant, _ := f.Meant(r)
	_, given := quantity.Tolerance(typed)
	_, stands := quantity.Tolerance(text)
	switch {
	case comma != "" && meant != "":
		f.say.Say(label + comma + ". " + f.keys.Take.Help().Key + " at the field makes it " + model.NominalText(meant) + ".")
	case given || !stands:
	case f.s.Doc.Mark(r.Field, r.Index) != "":
		f.say.Say(label + text + ". The ± is assumed; type your own behind the value, ±0 drops it.")
	default:
		f.say.Say(label + text + ". The ± is kept; ±0 drops it.")
	}
}

// typeOver notes what stands in the line, with its mark, to be typed over.
func (f *Form) typeOver(text, mark string) {
	f.typing.over, f.typing.on, f.typing.own = model.NewValue{Text: text, Comment: mark}, false, false
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
	given := f.Text(r)
	switch {
	case r.Field.Choices != nil:
		return meantChoice(r.Field, given)
	case !isQuantity(f, r):
		return "", ""
	}
	given = f.line.Value()
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
	cmd := f.put(f.completed(r, text))
	f.say.Say(strings.TrimSpace(r.Field.Label) + ": " + f.Text(r) + ".")
	return cmd, true
}
