package ui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

// A form is the fields of the open pane, one of which has the keys.
type form struct {
	s    *session
	say  *notice
	keys *keyMap

	panes []pane
	pane  int   // that is open
	focus []int // row of each pane
	line  input // of the focused field, re-seeded at each move

	made struct { // last
		of   rowsOf
		rows []row
	}
	cautions struct { // found last
		of  cautionsOf
		all []judge.Danger
	}
}

func newForm(s *session, say *notice, keys *keyMap, panes []pane) *form {
	f := &form{s: s, say: say, keys: keys, panes: panes, focus: make([]int, len(panes)), line: newInput()}
	f.begin()
	return f
}

// firstField is the one a person comes with: the first reading of a meter.
const firstField = "hand.meter.coil"

// begin goes to where a person begins in a document.
func (f *form) begin() {
	clear(f.focus)
	f.goToField(firstField)
	f.enter()
}

// names are what the panes are called.
func (f *form) names() []string {
	names := make([]string, len(f.panes))
	for i, p := range f.panes {
		names[i] = p.name
	}
	return names
}

// fields are whose fields the open pane has.
func (f *form) fields() model.Pane { return f.panes[f.pane].fields }

// focused is the row that has the keys; false where the pane has none.
func (f *form) focused() (row, bool) {
	rows := f.rows(f.pane)
	if len(rows) == 0 {
		return row{}, false
	}
	return rows[min(f.focus[f.pane], len(rows)-1)], true
}

// refocus keeps the keys at a row where pairs have come or gone above it.
func (f *form) refocus(r row) {
	for i, now := range f.rows(f.pane) {
		if now.is(r) {
			f.focus[f.pane] = i
		}
	}
}

// move goes up or down the form, round its ends.
func (f *form) move(by int) {
	f.leave()
	if n := len(f.rows(f.pane)); n > 0 {
		f.focus[f.pane] = (min(f.focus[f.pane], n-1) + by + n) % n
	}
	f.enter()
}

// goTo gives the keys to a row of a pane.
func (f *form) goTo(pane, row int) {
	f.leave()
	f.pane, f.focus[pane] = pane, row
	f.enter()
}

// turn opens the next pane or the one before.
func (f *form) turn(by int) { f.turnTo((f.pane + by + len(f.panes)) % len(f.panes)) }

// turnTo opens a pane, with the keys where they were in it.
func (f *form) turnTo(pane int) { f.goTo(pane, f.focus[pane]) }

// nextHand shows the next hand in forms and dial.
func (f *form) nextHand() {
	n := len(f.s.doc.Build.Hands)
	if n < 2 {
		f.say.say("There is no other hand; " + f.keys.Menu.Help().Key + " adds one.")
		return
	}
	f.showHand((f.s.hand + 1) % n)
}

// showHand shows a hand on the pane that is open.
func (f *form) showHand(hand int) {
	f.leave()
	f.s.showHand(hand)
	f.enter()
}

// goToField goes to a field of the hand in view, by its path without a name.
func (f *form) goToField(path string) {
	index := 0
	if strings.HasPrefix(path, "hand.") {
		index = f.s.hand
	}
	f.goToValue(fieldOf(path), index)
}

// goToValue goes to a value of a hand or lamp; false where no form shows it.
func (f *form) goToValue(field *model.Field, index int) bool {
	pane := slices.IndexFunc(f.panes, func(p pane) bool { return p.fields == field.Pane })
	if field.Pane == model.NoPane || pane < 0 || index >= field.Of(f.s.doc.Build) {
		return false
	}
	f.leave()
	if field.List() == "hand" {
		f.s.showHand(index)
	}
	for i, r := range f.rows(pane) {
		if r.cell <= 0 && r.field == field && r.index == index {
			f.goTo(pane, i)
			return true
		}
	}
	return false
}

// enter begins a visit to the focused field: its text goes into the line.
func (f *form) enter() {
	f.s.enter()
	f.fill()
}

// fill puts the focused field's text into the line.
func (f *form) fill() {
	if r, ok := f.focused(); ok {
		f.line.fill(f.text(r), r.longest())
		return
	}
	f.line.fill("", 0)
}

// leave ends the visit to a field: its former text can be had back by undo.
func (f *form) leave() {
	f.tidy()
	f.s.leave()
}

// tidy takes an emptied pair out of its table.
func (f *form) tidy() {
	r, ok := f.focused()
	if !ok || r.cell < 0 {
		return
	}
	pairs := f.s.doc.Pairs(r.field, r.index)
	if r.cell < len(pairs) && pairs[r.cell] == [2]string{} {
		f.s.show(f.s.doc.SetPairs(r.field, r.index, append(pairs[:r.cell:r.cell], pairs[r.cell+1:]...)))
	}
}

// replace takes a document in place of the present one, as one visit.
func (f *form) replace(d *model.Document) tea.Cmd {
	f.leave()
	f.s.replace(d)
	f.enter()
	return f.s.changed()
}

// replaceUnder does so and keeps the keys at their row.
func (f *form) replaceUnder(d *model.Document) tea.Cmd {
	r, ok := f.focused()
	cmd := f.replace(d)
	if ok {
		f.refocus(r)
		f.fill()
	}
	return cmd
}

// revert gives the focused field back the text it was entered with.
func (f *form) revert() tea.Cmd {
	if !f.s.revert() {
		return nil
	}
	f.enter()
	f.say.say("As it was.")
	return f.s.changed()
}

// hasProblem says whether something on a pane is to be mended.
func (f *form) hasProblem(pane int) bool {
	fields := f.panes[pane].fields
	for i := range f.s.doc.Problems {
		if field, _, ok := f.s.doc.Find(f.s.doc.Problems[i].Path); ok && field.Pane == fields && fields != model.NoPane {
			return true
		}
	}
	return false
}
