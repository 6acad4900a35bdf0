package ui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

// menu lists everything that can be done, with its key where it has one.
func (a *App) menu() tea.Cmd {
	k, advised := &a.keys, a.advising
	a.advising = nil
	var entries []entry
	add := func(text string, b *key.Binding, do func(*App) tea.Cmd) {
		e := entry{text: text, do: do}
		if b != nil {
			e.hint = b.Help().Key
		}
		entries = append(entries, e)
	}
	add("New build", nil, (*App).newBuild)
	add("Open a build", &k.Open, (*App).openList)
	add("Save", &k.Save, (*App).save)
	add("Save under another name", nil, (*App).saveAs)
	add("Jump to a field", &k.Jump, (*App).jump)
	add("Go to the next finding", &k.Finding, (*App).nextFinding)
	add("Take what is offered", &k.Take, func(a *App) tea.Cmd { return a.takeOffer(advised) })
	add("Choose a part", &k.Choose, (*App).choosePart)
	add("Take all that is offered", nil, (*App).takeAll)
	add("Cautions, and help on this field", &k.Cautions, (*App).readCautions)
	add("Look into a result", &k.Look, (*App).look)
	add("Make many kits", &k.Kits, (*App).makeMany)
	add("Follow the clock", &k.Follow, (*App).follow)
	add("Run a fast day", &k.FastDay, (*App).fastDay)
	add("Show the next plot", &k.Plot, (*App).nextPlot)
	add("Error budget; again: longer after it was set", &k.Budget, (*App).errorBudget)
	add(either(a.large, "All dials", "One large dial"), &k.Large, (*App).toggleLarge)
	add(either(a.bare, "Results with bands", "More results, without bands"), nil, func(a *App) tea.Cmd { a.toggleBands(); return nil })
	entries = append(entries, a.structureEntries()...)
	add(either(a.canvas.ASCII, "Draw in braille", "Draw in plain characters"), nil, (*App).toggleASCII)
	add(either(a.light, "Dark colours", "Light colours"), nil, (*App).toggleTheme)
	add(either(a.mouseOff, "Mouse on", "Mouse off"), nil, (*App).toggleMouse)
	add("Undo", &k.Undo, (*App).undoVisit)
	add("Redo", &k.Redo, (*App).redoVisit)
	if a.suspendable {
		add("Suspend", &k.Suspend, (*App).suspend)
	}
	add("Quit", &k.Quit, (*App).quit)
	return a.ask(&prompt{title: "Do", hint: "Type a part; enter does what is chosen.", entries: entries}, "")
}

// either is one of two texts.
func either(first bool, one, other string) string {
	if first {
		return one
	}
	return other
}

// jump lists every field; typing narrows the list.
func (a *App) jump() tea.Cmd {
	var entries []entry
	for pane := range model.Pane(panes) {
		for i, r := range a.rows(pane) {
			if r.cell > 0 {
				continue
			}
			text := r.field.Label
			if kind := r.field.List(); kind != "" && kind != "hand" {
				text += ", " + elementName(a.doc.Build, kind, r.index)
			}
			entries = append(entries, entry{text: text, hint: paneNames[pane], do: func(a *App) tea.Cmd {
				a.goTo(pane, i)
				return nil
			}})
		}
	}
	return a.ask(&prompt{title: "Jump to", hint: "Type a part of the field's label.", entries: entries}, "")
}

// goToField goes to a field of the hand in view, by its path without a name.
func (a *App) goToField(path string) {
	index := 0
	if strings.HasPrefix(path, "hand.") {
		index = a.hand
	}
	a.goToValue(fieldOf(path), index)
}

// goToValue goes to a value of a hand or lamp; false where no form shows it.
func (a *App) goToValue(f *model.Field, index int) bool {
	if f.Pane == model.NoPane || index >= f.Of(a.doc.Build) {
		return false
	}
	a.leave()
	if f.List() == "hand" {
		a.hand = index
	}
	for i, r := range a.rows(f.Pane) {
		if r.cell <= 0 && r.field == f && r.index == index {
			a.goTo(f.Pane, i)
			return true
		}
	}
	return false
}

// nextFinding goes to what is wrong next, and what to do about it: the problems
// first, for without their end nothing is judged.
func (a *App) nextFinding() tea.Cmd {
	type wrong struct {
		key, path string
		finding   *judge.Finding // nil: a problem
	}
	var all []wrong
	for i := range a.doc.Problems {
		if p := &a.doc.Problems[i]; a.hasHome(p) {
			all = append(all, wrong{p.Path, p.Path, nil})
		}
	}
	if !a.stale() {
		for i := range a.report.Findings {
			f := &a.report.Findings[i]
			all = append(all, wrong{f.ID + " " + f.About, f.Field, f})
		}
	}
	if len(all) == 0 {
		if !a.stale() {
			a.notice = notice{said, "Nothing to remark."}
		}
		return nil
	}
	next := slices.IndexFunc(all, func(w wrong) bool { return !slices.Contains(a.seen, w.key) })
	if next < 0 { // round again
		a.seen, next = nil, 0
	}
	a.seen = append(a.seen, all[next].key)
	if f, index, ok := a.doc.Find(all[next].path); ok {
		a.goToValue(f, index)
	}
	a.advising = all[next].finding
	return nil
}
