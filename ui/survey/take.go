package survey

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/fit"
	engine "example.com/needlewright/model/survey"
	"example.com/needlewright/ui/session"
)

// A Found is a meter that was found out.
type Found struct {
	Origin, Removed, Marked string
	Coil, FullScale         string // as a build takes them over; "": not known
	verdict                 engine.Verdict
}

// Fields that the pages name.
var coilField, fullScaleField = session.FieldOf("hand.meter.coil"), session.FieldOf("hand.meter.full_scale")

// found is what was found; there must be a verdict.
func (v *Survey) found() *Found {
	f := &Found{Origin: v.answered("origin"), Removed: v.answered("removed"), Marked: v.answered("marked"), verdict: *v.verdict}
	if f.Marked == "unknown" {
		f.Marked = ""
	}
	const hand = "hand"
	for _, c := range f.changes(hand) {
		switch c.Path {
		case hand + "." + hand + ".meter.coil":
			f.Coil = c.Value
		case hand + "." + hand + ".meter.full_scale":
			f.FullScale = c.Value
		}
	}
	return f
}

// changes are what a build takes over for the hand of a name.
func (f *Found) changes(hand string) []engine.Change {
	verdict := f.verdict // which is shared
	verdict.Prefix("hand." + hand + ".")
	return verdict.Changes
}

// at is what a build takes over at a path of its hand, "meter.zero_at"; "" for nothing.
func (f *Found) at(path string) string {
	for _, c := range f.changes("hand") {
		if c.Path == "hand.hand."+path {
			return c.Value
		}
	}
	return ""
}

// Make returns a document whose i-th hand has what was found. A path that the schema does
// not have is left out.
func (f *Found) Make(d *model.Document, i int) *model.Document {
	hand := session.ElementName(d.Build, "hand", i)
	d = withoutOther(withoutSteps(d, hand), i)
	for _, c := range f.changes(hand) {
		if field, index, ok := d.Find(c.Path); ok {
			d = d.Set(field, index, c.Value)
			if c.Note != "" {
				d = d.SetMarked(field, index, c.Value, c.Note)
			}
			continue
		}
		if with, problem := model.Set(d.Text, c.Path, c.Value); problem == nil { // one more row
			d = d.Reopen(with)
		}
	}
	return f.unknown(d, i)
}

// withoutOther is a document without what another meter of the hand had inside.
func withoutOther(d *model.Document, i int) *model.Document {
	return d.Set(session.FieldOf("hand.meter.internal"), i, "")
}

// unknown takes out what another meter's movement was, where nothing of this one's is known:
// or, where a build needs it, says that it is to be measured.
func (f *Found) unknown(d *model.Document, i int) *model.Document {
	for field, found := range map[*model.Field]string{coilField: f.Coil, fullScaleField: f.FullScale} {
		given, stands := d.Given(field, i)
		if found != "" || !stands {
			continue
		}
		if without := d.Set(field, i, ""); without.Problem(field, i) == nil {
			d = without
		} else {
			d = d.SetMarked(field, i, given, "measure it")
		}
	}
	return d
}

// withoutSteps is a document without the readings of an earlier survey of a hand: those of
// two meters are not to be mixed.
func withoutSteps(d *model.Document, hand string) *model.Document {
	for {
		_, index, ok := d.Find("hand." + hand + ".survey.step.1.volts")
		if !ok {
			return d
		}
		less, problem := d.Remove("hand.survey.step", index)
		if problem != nil || less.Text == d.Text {
			return d
		}
		d = less
	}
}

// takeOver puts what was found into the i-th hand, as one edit, and goes to it.
func (v *Survey) takeOver(i int) tea.Cmd {
	if v.s.Doc.Broken() {
		v.problem = "The file is no TOML at one line: mend that in an editor first; the answers stay here while the program runs."
		return nil
	}
	name := session.ElementName(v.s.Doc.Build, "hand", i)
	d := v.found().Make(v.s.Doc, i)
	v.taken = true
	v.Close()
	if d.Text == v.s.Doc.Text {
		v.say.Say("Nothing changes: " + name + " has just these values.")
		return nil
	}
	changed := v.s.Doc.ChangedValues(d)
	cmd := v.form.Replace(d)
	v.form.ShowHand(i)
	v.form.GoToField(coilField.Path)
	v.say.Say(fmt.Sprintf("Taken over into %s: values changed: %d, %s takes it back. %s", name, changed, v.keys.Undo.Help().Key, suits(d, name)))
	return cmd
}

// suits says whether the meter of a hand fits the clock, and why; "" where it cannot be told.
func suits(d *model.Document, hand string) string {
	frame, err := fit.NewFrame(d, hand)
	if err != nil {
		return ""
	}
	m := frame.OfHand()
	return strings.ToUpper(m.Verdict[:1]) + m.Verdict[1:] + ": " + m.Why
}
