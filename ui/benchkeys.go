package ui

import (
	tea "github.com/charmbracelet/bubbletea"
)

// What keys do that mean the pane which is open: its fields, or at the bench its test
// points.

// move goes up or down.
func (a *App) move(by int) {
	if a.bench.IsOpen() {
		a.bench.Move(by)
		return
	}
	a.form.Move(by)
}

// step steps the focused value up or down.
func (a *App) step(up bool) tea.Cmd {
	if a.bench.IsOpen() {
		return a.bench.Step(up)
	}
	return a.form.Step(up)
}

// next goes to what is wrong next, or at the bench to what is to be measured next.
func (a *App) next() {
	if a.bench.IsOpen() && !a.session.Stale() {
		a.bench.Next()
		return
	}
	a.finder.next()
}

// readCautions opens the page of what is to be known here.
func (a *App) readCautions() {
	if a.bench.IsOpen() {
		a.front.Open(a.bench.HelpPage(a.screen.canvas.ASCII))
		return
	}
	a.tellMore()
}

// lookInto lists the results to be looked into, or at the bench opens the page of causes.
func (a *App) lookInto() {
	if page, ok := a.bench.CausesPage(); ok && a.bench.IsOpen() {
		a.front.Open(page)
		return
	}
	a.finder.look()
}

// back goes back or forth in the history, and to what that changes.
func (a *App) back(step func() tea.Cmd) tea.Cmd {
	before := a.session.Doc
	cmd := step()
	a.bench.Follow(before)
	return cmd
}

// besideForms shows what stands beside forms alone, or says that it does.
func (a *App) besideForms(show func()) {
	if a.bench.IsOpen() {
		a.notice.Say("Plots and the error budget stand beside the forms: " + a.keys.NextPane.Help().Key + " goes on to one.")
		return
	}
	show()
}
