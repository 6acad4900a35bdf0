package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
)

// A command is what a key does whatever field is focused.
type command struct {
	key key.Binding
	do  func(*App) tea.Cmd
}

// quietly is a command that asks for nothing more.
func quietly(f func(*App)) func(*App) tea.Cmd {
	return func(a *App) tea.Cmd { f(a); return nil }
}

// newCommands are all of them.
func newCommands(k *keys.Map) []command {
	minutes := func(n int) func(*App) tea.Cmd {
		return quietly(func(a *App) { a.side.Preview.MoveTime(n * 60) })
	}
	return []command{
		{k.Up, quietly(func(a *App) { a.move(-1) })},
		{k.Down, quietly(func(a *App) { a.move(1) })},
		{k.NextPane, quietly(func(a *App) { a.form.Turn(1) })},
		{k.PreviousPane, quietly(func(a *App) { a.form.Turn(-1) })},
		{k.NextHand, quietly(func(a *App) { a.form.NextHand() })},
		{k.StepUp, func(a *App) tea.Cmd { return a.step(true) }},
		{k.StepDown, func(a *App) tea.Cmd { return a.step(false) }},
		{k.MinuteBack, minutes(-1)},
		{k.MinuteOn, minutes(1)},
		{k.FiveBack, minutes(-5)},
		{k.FiveOn, minutes(5)},
		{k.HourBack, minutes(-60)},
		{k.HourOn, minutes(60)},
		{k.Follow, follow},
		{k.FastDay, fastDay},
		{k.Plot, nextPlot},
		{k.Budget, errorBudget},
		{k.Differ, differences},
		{k.Large, toggleLarge},
		{k.ResultsUp, quietly(func(a *App) { a.page(-1) })},
		{k.ResultsDown, quietly(func(a *App) { a.page(1) })},
		{k.Jump, jump},
		{k.Finding, nextFinding},
		{k.Take, (*App).take},
		{k.Choose, choosePart},
		{k.Cautions, readCautions},
		{k.Look, lookInto},
		{k.Kits, makeKits},
		{k.Mended, mended},
		{k.Unknown, surveyMeter},
		{k.Revert, (*App).escape},
		{k.Undo, undo},
		{k.Redo, redo},
		{k.Open, openList},
		{k.Save, save},
		{k.Menu, (*App).menu},
		{k.Help, quietly((*App).listKeys)},
		{k.Suspend, (*App).suspend},
		{k.Quit, (*App).quit},
	}
}

// What both keys and the menu do.
var (
	follow       = func(a *App) tea.Cmd { return a.side.Preview.Follow() }
	fastDay      = func(a *App) tea.Cmd { return a.side.Preview.FastDay() }
	nextPlot     = quietly(func(a *App) { a.besideForms(a.side.Views.Next) })
	errorBudget  = quietly(func(a *App) { a.besideForms(a.side.Views.ErrorBudget) })
	differences  = quietly(func(a *App) { a.besideForms(a.side.Views.Differences) })
	toggleLarge  = quietly(func(a *App) { l := a.screen.layout(); a.side.Preview.ToggleLarge(l.Dial.Dx()) })
	jump         = quietly(func(a *App) { a.finder.search() })
	nextFinding  = quietly((*App).next)
	choosePart   = (*App).choose
	readCautions = quietly((*App).readCautions)
	lookInto     = quietly((*App).lookInto)
	makeKits     = func(a *App) tea.Cmd { return a.kits.begin() }
	mended       = func(a *App) tea.Cmd { return a.bench.Mended() }
	surveyMeter  = quietly(func(a *App) { a.survey.Open() })
	undo         = func(a *App) tea.Cmd { return a.back(a.form.Undo) }
	redo         = func(a *App) tea.Cmd { return a.back(a.form.Redo) }
	openList     = func(a *App) tea.Cmd { return a.files.openList() }
	save         = func(a *App) tea.Cmd { return a.files.save() }
)

// listKeys opens the list of the keys that there are here.
func (a *App) listKeys() {
	all := a.keys.All()
	switch {
	case a.survey.IsOpen():
		all = a.keys.AllSurveying()
	case a.walk.IsOpen():
		all = a.keys.AllWalking()
	case a.bench.IsOpen():
		all = a.keys.AllAt(a.keys.Bench)
	case a.scale.IsOpen():
		all = a.keys.AllAt(a.keys.Scale)
	}
	a.front.ListKeys(all)
}

// tellMore opens a page with the finding that was gone to, and the error budget or what
// differs where it is in view, whole, with all that is to be known of the focused field, and
// with all words of that.
func (a *App) tellMore() {
	first := func(p *front.Page) {
		if f := a.finder.advised(); f != nil {
			p.Add(draw.Heading, f.String())
			p.Add(draw.Value, f.Advice+"\n")
		}
		a.side.AddBudget(p)
		a.side.AddDifferences(p)
	}
	a.openExplained(func(words func(*front.Page)) front.Page {
		return a.form.HelpPage(a.screen.canvas.ASCII, first, words)
	})
}

// differFrom shows what differs from the state that was kept, or from the file as saved.
func differFrom(kept bool) func(*App) tea.Cmd {
	return quietly(func(a *App) { a.besideForms(func() { a.side.Views.DifferFrom(kept) }) })
}

// escape gives the focused field its former text; where it has that, it brings the needle
// back in place of a view.
func (a *App) escape() tea.Cmd {
	if a.scale.Forget() || a.session.Untouched() && a.side.Views.Leave() {
		return nil
	}
	return a.form.Revert()
}

// page scrolls what stands beside the form by pages.
func (a *App) page(by int) {
	if a.screen.tooSmall() {
		return
	}
	switch {
	case a.bench.IsOpen():
		a.bench.Move(by * max(1, layout.Inside(a.screen.benchLayout().Points).Dy()-2))
		return
	case a.scale.IsOpen():
		a.scale.Move(by * max(1, layout.Inside(a.screen.scaleLayout().Rows).Dy()-2))
		return
	}
	l := a.screen.layout()
	a.side.Page(by, &l)
}

// take takes over what is offered: for the finding whose advice is in view, or
// for the focused field.
func (a *App) take() tea.Cmd {
	if p := a.own(); p != nil {
		return p.Take()
	}
	a.session.AdviseNow()
	advised := a.finder.advised()
	a.finder.forget()
	return a.offers.take(advised)
}

// quit ends, or asks where changes are not saved. What was answered of a survey is kept.
func (a *App) quit() tea.Cmd {
	return a.files.unlessUnsaved(a.keys.Quit, "quits", func() tea.Cmd { return tea.Sequence(a.session.GiveUp(), tea.Quit) })
}

// suspend hands the terminal to the shell until it calls back.
func (a *App) suspend() tea.Cmd {
	if !a.suspendable {
		a.notice.Warn("No shell waits to take over: there is nothing to suspend to.")
		return nil
	}
	return tea.Suspend
}
