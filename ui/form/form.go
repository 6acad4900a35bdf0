// Package form is the fields of a document as a person edits them, and what is to be known
// of each.
package form

import (
	"slices"
	"strings"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A Form is the fields of the open pane, one of which has the keys.
type Form struct {
	s    *session.Session
	say  *notice.Notice
	keys *keys.Map

	Panes []Pane
	Pane  int        // that is open
	Focus []int      // row of each pane
	line  input.Line // of the focused field, re-seeded at each move

	typing struct { // in the line
		over model.NewValue // what stood in the field, with its mark
		on   bool           // something was typed since then
		own  bool           // and a ± in it is too: there was none meanwhile
	}
	sought string // what was typed at a choice, one letter after another

	made struct { // last
		of   rowsOf
		rows []Row
	}
	cautions struct { // found last
		of  cautionsOf
		all []caution.Caution
	}
}

// New returns the form of a session, with the panes that it may have open, at the first
// field. It says in say what a key could not do.
func New(s *session.Session, say *notice.Notice, keys *keys.Map, panes []Pane) *Form {
	f := &Form{s: s, say: say, keys: keys, Panes: panes, Focus: make([]int, len(panes)), line: input.New(keys)}
	f.Begin()
	return f
}

// firstField is the one a person comes with: the first reading of a meter.
const firstField = "hand.meter.coil"

// Begin goes to where a person begins in a document.
func (f *Form) Begin() {
	clear(f.Focus)
	f.GoToField(firstField)
	f.Enter()
}

// Names are what the panes are called.
func (f *Form) Names() []string {
	names := make([]string, len(f.Panes))
	for i, p := range f.Panes {
		names[i] = p.Name
	}
	return names
}

// Fields are whose fields the open pane has.
func (f *Form) Fields() model.Pane { return f.Panes[f.Pane].Fields }

// IsOpen says whether the pane of a name is open.
func (f *Form) IsOpen(name string) bool { return f.Panes[f.Pane].Name == name }

// OpenPane opens the pane of a name, where there is one.
func (f *Form) OpenPane(name string) {
	if i := slices.IndexFunc(f.Panes, func(p Pane) bool { return p.Name == name }); i >= 0 && i != f.Pane {
		f.TurnTo(i)
	}
}

// Focused is the row that has the keys; false where the pane has none.
func (f *Form) Focused() (Row, bool) {
	rows := f.Rows(f.Pane)
	if len(rows) == 0 {
		return Row{}, false
	}
	return rows[min(f.Focus[f.Pane], len(rows)-1)], true
}

// refocus keeps the keys at a row where pairs have come or gone above it.
func (f *Form) refocus(r Row) {
	for i, now := range f.Rows(f.Pane) {
		if now.is(r) {
			f.Focus[f.Pane] = i
		}
	}
}

// Move goes up or down the form, round its ends.
func (f *Form) Move(by int) {
	f.Leave()
	if n := len(f.Rows(f.Pane)); n > 0 {
		f.Focus[f.Pane] = (min(f.Focus[f.Pane], n-1) + by + n) % n
	}
	f.Enter()
}

// GoTo gives the keys to a row of a pane.
func (f *Form) GoTo(pane, row int) {
	f.Leave()
	f.Pane, f.Focus[pane] = pane, row
	f.Enter()
}

// Turn opens the next pane or the one before.
func (f *Form) Turn(by int) { f.TurnTo((f.Pane + by + len(f.Panes)) % len(f.Panes)) }

// TurnTo opens a pane, with the keys where they were in it.
func (f *Form) TurnTo(pane int) { f.GoTo(pane, f.Focus[pane]) }

// NextHand shows the next hand in forms and dial.
func (f *Form) NextHand() {
	n := len(f.s.Doc.Build.Hands)
	if n < 2 {
		f.say.Say("There is no other hand; " + f.keys.Menu.Help().Key + " adds one.")
		return
	}
	f.ShowHand((f.s.Hand + 1) % n)
}

// ShowHand shows a hand on the pane that is open.
func (f *Form) ShowHand(hand int) {
	f.Leave()
	f.s.ShowHand(hand)
	f.Enter()
}

// GoToField goes to a field of the hand in view, by its path without a name.
func (f *Form) GoToField(path string) {
	index := 0
	if strings.HasPrefix(path, "hand.") {
		index = f.s.Hand
	}
	f.GoToValue(session.FieldOf(path), index)
}

// GoToValue goes to a value of a hand or lamp; false where no form shows it.
func (f *Form) GoToValue(field *model.Field, index int) bool {
	pane := slices.IndexFunc(f.Panes, func(p Pane) bool { return p.Fields == field.Pane })
	if field.Pane == model.NoPane || pane < 0 || index >= field.Of(f.s.Doc.Build) {
		return false
	}
	f.Leave()
	if field.List() == "hand" {
		f.s.ShowHand(index)
	}
	for i, r := range f.Rows(pane) {
		if r.Cell <= 0 && r.Field == field && r.Index == index {
			f.GoTo(pane, i)
			return true
		}
	}
	return false
}

// Enter begins a visit to the focused field: its text goes into the line.
func (f *Form) Enter() {
	f.s.Enter()
	f.fill()
}

// fill puts the focused field's text into the line.
func (f *Form) fill() {
	f.sought = ""
	r, ok := f.Focused()
	if !ok {
		f.line.Fill("", 0)
		return
	}
	text := f.Text(r)
	f.line.Fill(text, r.longest())
	f.line.Wants(r.Field.Wanted())
	f.typeOver(text, f.s.Doc.Mark(r.Field, r.Index))
	if r.Cell >= 0 { // of a pair the second value, which is read at the first
		_, second, _ := strings.Cut(text, pairSign)
		f.line.Mark(utf8.RuneCountInString(second))
	}
}

// Leave ends the visit to a field: its former text can be had back by undo.
func (f *Form) Leave() {
	f.tidy()
	f.s.Leave()
}

// tidy takes an emptied pair out of its table.
func (f *Form) tidy() {
	r, ok := f.Focused()
	if !ok || r.Cell < 0 {
		return
	}
	pairs := f.s.Doc.Pairs(r.Field, r.Index)
	if r.Cell < len(pairs) && strings.Join(pairs[r.Cell], "") == "" {
		f.s.Show(f.s.Doc.SetPairs(r.Field, r.Index, append(pairs[:r.Cell:r.Cell], pairs[r.Cell+1:]...)))
	}
}

// Replace takes a document in place of the present one, as one visit.
func (f *Form) Replace(d *model.Document) tea.Cmd {
	f.Leave()
	f.s.Replace(d)
	f.Enter()
	return f.s.Changed()
}

// ReplaceUnder does so and keeps the keys at their row.
func (f *Form) ReplaceUnder(d *model.Document) tea.Cmd {
	r, ok := f.Focused()
	cmd := f.Replace(d)
	if ok {
		f.refocus(r)
		f.fill()
	}
	return cmd
}

// Revert gives the focused field back the text it was entered with.
func (f *Form) Revert() tea.Cmd {
	if !f.s.Revert() {
		f.fill() // it counts as marked again
		return nil
	}
	f.Enter()
	f.say.Say("As it was.")
	return f.s.Changed()
}

// HasProblem says whether something on a pane is to be mended.
func (f *Form) HasProblem(pane int) bool {
	fields := f.Panes[pane].Fields
	for i := range f.s.Doc.Problems {
		if field, _, ok := f.s.Doc.Find(f.s.Doc.Problems[i].Path); ok && field.Pane == fields && fields != model.NoPane {
			return true
		}
	}
	return false
}
