package ui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A row is one line of a form that can have the keys: a field, or one pair of a
// field that holds a table.
type row struct {
	field   *model.Field
	index   int    // of its hand, lamp, drain or button
	heading string // of the group it begins, "" inside one
	cell    int    // the pair of the table, -1 for the field itself
}

// isHead says whether the row only stands above the pairs of a table.
func (r row) isHead() bool { return r.cell < 0 && r.field.IsTable() }

// rows are those of a form: of the hand in view, and of every lamp, drain and
// button.
func (a *App) rows(pane model.Pane) []row {
	if k := (rowsOf{a.doc, pane, a.hand}); a.formRows.of != k {
		a.formRows.of, a.formRows.rows = k, a.makeRows(pane)
	}
	return a.formRows.rows
}

// rowsOf is what rows depend on; a document never changes.
type rowsOf struct {
	doc  *model.Document
	pane model.Pane
	hand int
}

func (a *App) makeRows(pane model.Pane) []row {
	b := a.doc.Build
	f := former{doc: a.doc, rows: make([]row, 0, 64)}
	handName := ""
	if len(b.Hands) > 1 {
		handName = " – " + b.Hands[a.hand].Name
	}
	for _, field := range model.Builds.Fields {
		switch {
		case field.Pane != pane || field.Of(b) == 0:
		case field.List() == "hand":
			f.add(field, a.hand, handName)
		case field.List() == "":
			f.add(field, 0, "")
		}
	}
	for _, k := range kinds {
		if k.list == "hand" {
			continue
		}
		for i := range elements(b, k.list) {
			for _, field := range model.Builds.Fields {
				if field.Pane == pane && field.List() == k.list {
					f.add(field, i, " – "+elementName(b, k.list, i))
				}
			}
		}
	}
	return f.rows
}

// A former puts a form's rows together.
type former struct {
	doc         *model.Document
	rows        []row
	group, name string // last begun
}

// add adds a field, with a heading where its group begins, and a table's pairs
// with one more to add to them.
func (f *former) add(field *model.Field, index int, name string) {
	r := row{field: field, index: index, cell: -1}
	if field.Group != f.group || name != f.name {
		f.group, f.name = field.Group, name
		r.heading = field.Group + name
	}
	if !field.IsTable() {
		f.rows = append(f.rows, r)
		return
	}
	pairs := len(f.doc.Pairs(field, index))
	if pairs > 0 {
		f.rows = append(f.rows, r)
		r.heading = ""
	}
	for i := range min(pairs+1, max(pairs, model.MostPairs)) {
		r.cell = i
		f.rows = append(f.rows, r)
	}
}

// focused is the row that has the keys.
func (a *App) focused() row {
	rows := a.rows(a.pane)
	return rows[min(a.focus[a.pane], len(rows)-1)]
}

// refocus keeps the keys at a row where pairs have come or gone above it.
func (a *App) refocus(r row) {
	for i, now := range a.rows(a.pane) {
		if now.field == r.field && now.index == r.index && now.cell == r.cell {
			a.focus[a.pane] = i
		}
	}
}

// move goes up or down the form, round its ends.
func (a *App) move(by int) {
	a.leave()
	n := len(a.rows(a.pane))
	a.focus[a.pane] = (min(a.focus[a.pane], n-1) + by + n) % n
	a.enter()
}

// goTo gives the keys to a row of a form.
func (a *App) goTo(pane model.Pane, row int) {
	a.leave()
	a.pane, a.focus[pane] = pane, row
	a.enter()
}

// turn opens the next form or the one before.
func (a *App) turn(by int) { a.turnTo(model.Pane((int(a.pane) + by + panes) % panes)) }

func (a *App) turnTo(pane model.Pane) {
	a.scroll = 0
	a.goTo(pane, a.focus[pane])
}

// nextHand shows the next hand in forms and dial.
func (a *App) nextHand() {
	n := len(a.doc.Build.Hands)
	if n < 2 {
		a.notice = notice{said, "There is no other hand; " + a.keys.Menu.Help().Key + " adds one."}
		return
	}
	a.leave()
	a.hand = (a.hand + 1) % n
	a.enter()
}

// enter begins a visit to the focused field: its text goes into the input.
func (a *App) enter() {
	a.entered = a.doc.Text
	r := a.focused()
	a.input.fill(a.text(r), r.longest())
}

// longest is how many characters a row takes.
func (r row) longest() int {
	if r.cell >= 0 {
		return model.LongestPair
	}
	return r.field.Longest()
}

// text is what a row gives, as written.
func (a *App) text(r row) string {
	if r.cell < 0 || a.doc.TooLong(r.field, r.index) > 0 {
		text, _ := a.doc.Given(r.field, r.index)
		return text
	}
	if pairs := a.doc.Pairs(r.field, r.index); r.cell < len(pairs) {
		return strings.TrimSuffix(pairs[r.cell][0]+pairSign+pairs[r.cell][1], pairSign)
	}
	return ""
}

// pairSign stands between the two values of a pair as it is typed.
const pairSign = " : "

// withPair is a table with one pair as typed. An emptied pair stays, to be typed
// anew, until its row is left.
func withPair(pairs [][2]string, at int, typed string) [][2]string {
	first, second, _ := strings.Cut(typed, ":")
	pair := [2]string{strings.TrimSpace(first), strings.TrimSpace(second)}
	changed := append([][2]string{}, pairs...)
	if at < len(changed) {
		changed[at] = pair
		return changed
	}
	return append(changed, pair)
}

// tidy takes an emptied pair out of its table.
func (a *App) tidy() {
	r := a.focused()
	pairs := a.doc.Pairs(r.field, r.index)
	if r.cell < 0 || r.cell >= len(pairs) || pairs[r.cell] != [2]string{} {
		return
	}
	a.show(a.doc.SetPairs(r.field, r.index, append(pairs[:r.cell:r.cell], pairs[r.cell+1:]...)))
}

// edit gives a key to the focused field; what is in it is read at once.
func (a *App) edit(msg tea.KeyMsg) tea.Cmd {
	r := a.focused()
	switch {
	case a.doc.Broken(), r.isHead(): // the help says why, or its pairs are edited below it
		return nil
	case r.field.Choices != nil:
		return a.choose(r, msg)
	case a.doc.TooLong(r.field, r.index) > 0:
		return a.editLong(r, msg)
	}
	changed, says := a.input.press(msg)
	if says != "" {
		a.notice = notice{warned, says}
	}
	if changed {
		return a.change(a.input.Value())
	}
	return nil
}

// change puts a value into the focused field and recomputes.
func (a *App) change(given string) tea.Cmd {
	a.rebase()
	r := a.focused()
	if r.cell < 0 {
		a.show(a.doc.Set(r.field, r.index, given))
	} else {
		d := a.doc.SetPairs(r.field, r.index, withPair(a.doc.Pairs(r.field, r.index), r.cell, given))
		if d.TooLong(r.field, r.index) > 0 {
			a.notice = notice{warned, "All pairs together may have " + quantity.Grouped(r.field.Longest()) + " characters, and these are more: take one out first."}
			a.input.fill(a.text(r), r.longest())
			return nil
		}
		a.show(d)
		a.refocus(r)
	}
	return a.changed()
}

// editLong takes a key at a value that is too long to be edited: it stands until
// it is emptied as a whole.
func (a *App) editLong(r row, msg tea.KeyMsg) tea.Cmd {
	if !key.Matches(msg, a.input.line.KeyMap.DeleteBeforeCursor) {
		a.notice = notice{warned, fmt.Sprintf("%s has %s characters, too many to be edited here: ctrl+u empties it for a new value, undo gives it back.",
			strings.TrimSpace(r.field.Label), quantity.Grouped(a.doc.TooLong(r.field, r.index)))}
		return nil
	}
	a.rebase()
	a.show(a.doc.Set(r.field, r.index, ""))
	a.refocus(r)
	a.input.fill("", r.longest())
	return a.changed()
}

// choose goes through a field's choices, or to the next that begins with what
// is typed.
func (a *App) choose(r row, msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, a.keys.ChoiceOn):
		return a.stepField(true)
	case key.Matches(msg, a.keys.ChoiceBack):
		return a.stepField(false)
	case msg.Type != tea.KeyRunes:
		return nil
	}
	present, typed := a.text(r), strings.ToLower(string(msg.Runes))
	n, now := len(r.field.Choices), 0
	for i, c := range r.field.Choices {
		if c == present {
			now = i
		}
	}
	for k := 1; k <= n; k++ {
		if c := r.field.Choices[(now+k)%n]; strings.HasPrefix(strings.ToLower(c), typed) {
			return a.put(c)
		}
	}
	return nil
}

// stepField steps the focused value up or down.
func (a *App) stepField(up bool) tea.Cmd {
	r := a.focused()
	text, ok := "", false
	if r.cell < 0 && !a.doc.Broken() {
		text, ok = a.doc.Step(r.field, r.index, up)
	}
	if !ok {
		a.notice = notice{said, r.field.Label + " takes no further step that way."}
		return nil
	}
	return a.put(text)
}

// put gives the focused field a text that was not typed.
func (a *App) put(text string) tea.Cmd {
	cmd := a.change(text)
	a.input.fill(text, a.focused().longest())
	return cmd
}

// problem is that of a row's field; a table's stands at the pair that has the
// keys, else at its head.
func (a *App) problem(r row) *model.Problem {
	if len(a.doc.Problems) == 0 {
		return nil
	}
	if r.field.IsTable() {
		focus := a.focused()
		within := focus.field == r.field && focus.index == r.index
		head := r.cell < 0 || len(a.doc.Pairs(r.field, r.index)) == 0
		if within && focus.cell != r.cell || !within && !head {
			return nil
		}
	}
	return a.doc.Problem(r.field, r.index)
}

// label is what a row is called: a pair by its number, but for a first one.
func (a *App) label(r row) string {
	if r.cell > 0 || r.cell == 0 && len(a.doc.Pairs(r.field, r.index)) > 0 {
		return fmt.Sprintf("%*d", labelColumns-3, r.cell+1)
	}
	return r.field.Label
}

// assumed is what stands in a row that is not given: what that means, in
// brackets.
func (a *App) assumed(r row) string {
	if r.cell >= 0 {
		n, built := len(a.doc.Pairs(r.field, r.index)), r.field.PairsOf(a.doc.Build, r.index)
		switch {
		case n > 0:
			return "(one more)"
		case built > 0:
			return fmt.Sprintf("(%d pairs)", built)
		}
	}
	if s := a.doc.Assumed(r.field, r.index); s != "" {
		return "(" + s + ")"
	}
	if r.field.Must {
		return "needed"
	}
	return "–"
}
