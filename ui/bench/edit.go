package bench

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/form"
)

// Edit gives a key to the reading that has the keys; it is judged at once.
func (b *Bench) Edit(msg tea.KeyMsg) tea.Cmd {
	r, ok := b.focused()
	switch {
	case !ok || b.s.Doc.Broken():
		return nil
	case r.point != nil && r.point.Words != nil:
		return b.choose(r, msg)
	}
	changed, says := b.line.Press(msg)
	if says != "" {
		b.say.Warn(says)
	}
	if changed || r.isBefore() && msg.Type == tea.KeyRunes { // what was read before may be read again
		return b.put(r, b.line.Value())
	}
	return nil
}

// choose goes through the words of a point, with nothing before the first, or to the next
// that begins with what is typed.
func (b *Bench) choose(r row, msg tea.KeyMsg) tea.Cmd {
	words := append([]string{""}, r.point.Words...)
	now, n := max(0, slices.Index(words, b.given(r))), len(words)
	if r.isBefore() { // nothing is seen since
		now = 0
	}
	switch {
	case key.Matches(msg, b.keys.ChoiceOn):
		return b.put(r, words[(now+1)%n])
	case key.Matches(msg, b.keys.ChoiceBack):
		return b.put(r, words[(now+n-1)%n])
	case key.Matches(msg, b.keys.Deletes()...):
		return b.put(r, "")
	case msg.Type != tea.KeyRunes:
		return nil
	}
	typed := strings.ToLower(string(msg.Runes))
	for k := 1; k <= n; k++ {
		if w := words[(now+k)%n]; strings.HasPrefix(w, typed) {
			return b.put(r, w)
		}
	}
	b.say.Say("What was seen is one of: " + strings.Join(r.point.Words, ", ") + ".")
	return nil
}

// Step goes through the words of a point.
func (b *Bench) Step(up bool) tea.Cmd {
	r, ok := b.focused()
	if !ok || r.point == nil || r.point.Words == nil {
		b.say.Say("A reading is typed as the multimeter says it.")
		return nil
	}
	if up {
		return b.choose(r, tea.KeyMsg{Type: tea.KeyRight})
	}
	return b.choose(r, tea.KeyMsg{Type: tea.KeyLeft})
}

// put puts a reading into the file: a new one where the point has none, and one from
// before a repair counts from now on.
func (b *Bench) put(r row, text string) tea.Cmd {
	if text == b.given(r) && !r.isBefore() {
		return nil
	}
	doc := b.s.Doc
	index := len(doc.Build.Readings)
	switch {
	case r.isInFile():
		index = r.read.Index
	default:
		var problem *model.Problem
		if doc, problem = doc.Add("reading", r.point.ID, -1); problem != nil {
			b.say.Warn(problem.Message())
			b.line.Fill("", valueField.Longest())
			return nil
		}
	}
	doc = doc.Set(valueField, index, text)
	if r.isBefore() {
		doc = doc.Set(beforeField, index, "no")
	}
	b.s.Rebase()
	b.s.Show(doc)
	return b.s.Changed()
}

// tidy takes a reading out of the file that was emptied in this visit.
func (b *Bench) tidy() {
	r, ok := b.focused()
	if !ok || !r.isInFile() || b.s.Untouched() || strings.TrimSpace(b.given(r)) != "" {
		return
	}
	if doc, problem := b.s.Doc.Remove("reading", r.read.Index); problem == nil {
		b.s.Show(doc)
	}
}

// Settle ends the typing, when a key does anything else.
func (b *Bench) Settle() tea.Cmd {
	if !b.IsOpen() || b.s.Untouched() {
		return nil
	}
	b.tidy()
	return b.s.Changed()
}

// Next goes to the point that is to be measured next.
func (b *Bench) Next() {
	b.weighNow()
	report := b.Report()
	switch {
	case report == nil:
		b.say.Say("What to measure is being worked out.")
		return
	case len(report.Next) == 0:
		b.say.Say("Nothing more is worth measuring.")
		return
	}
	if at := report.Next[0].At; at != b.focus {
		b.GoToPoint(at)
		return
	}
	b.say.Say("It is this one. " + b.keys.Look.Help().Key + " lists what else is worth measuring.")
}

// Take takes the reading over into the plan, with the multimeter's ±, as one step of undo.
func (b *Bench) Take() tea.Cmd {
	r, ok := b.focused()
	switch {
	case !ok:
		return nil
	case !b.isPresent():
		b.say.Say("The plan is being worked out; a moment.")
		return nil
	case r.read == nil:
		b.say.Say("There is no reading here yet that could be taken over.")
		return nil
	}
	change, why := b.prepared.Got().Planned(r.read)
	if why != "" {
		b.say.Warn(why)
		return nil
	}
	label := strings.TrimSpace(change.Field.Label)
	was, _ := b.s.Doc.Given(change.Field, change.Index)
	cmd := b.replace(b.s.Doc.Make([]model.Change{change}))
	b.say.Say(fmt.Sprintf("Taken into the plan: %s %s → %s. %s gives it back.", label, cmp.Or(was, "none"), change.Text, b.keys.Undo.Help().Key))
	return cmd
}

// replace takes a document in place of the present one, as one visit.
func (b *Bench) replace(d *model.Document) tea.Cmd {
	b.s.Leave()
	b.s.Replace(d)
	b.filled = ""
	b.s.Enter()
	b.Heed()
	return b.s.Changed()
}

// Mended marks all readings as taken before the repair, as one step of undo, and goes to
// the one that is to be taken again first.
func (b *Bench) Mended() tea.Cmd {
	doc, marked := b.s.Doc, 0
	if doc.Broken() {
		return nil
	}
	b.again = nil
	for i := range doc.Build.Readings {
		b.again = append(b.again, doc.Build.Readings[i].At)
		if doc.Build.Readings[i].Before != "yes" {
			doc = doc.Set(beforeField, i, "yes")
			marked++
		}
	}
	if marked == 0 {
		b.say.Say("There is no reading since the last repair: nothing is to be marked.")
		return nil
	}
	b.form.OpenPane(form.BenchName)
	cmd := b.replace(doc)
	b.weighNow()
	text := quantity.Counted(marked, "reading") + " marked as before the repair."
	if report := b.Report(); report != nil {
		var again []string
		for _, step := range report.Next {
			if at := readingAt(report, step.At); at != nil && at.Before && len(again) < 3 {
				again = append(again, b.prepared.Got().CalledOf(step.At))
			}
		}
		if len(again) > 0 {
			text += " Take again first: " + strings.Join(again, "; ") + "."
			b.GoToPoint(report.Next[0].At)
		}
	}
	b.say.Say(text)
	return cmd
}

// Follow goes to the reading that undo or redo has changed, where one was.
func (b *Bench) Follow(before *model.Document) {
	was, now := before.Build.Readings, b.s.Doc.Build.Readings
	if before == b.s.Doc || before.TextWithout("reading") != b.s.Doc.TextWithout("reading") {
		return
	}
	for i := range max(len(was), len(now)) {
		switch {
		case i >= len(now):
			b.GoToPoint(was[i].At)
		case i >= len(was) || was[i] != now[i]:
			b.GoToPoint(now[i].At)
		default:
			continue
		}
		return
	}
}
