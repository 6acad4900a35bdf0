package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/front"
)

// menu lists everything that can be done, with its key where it has one.
func (a *App) menu() tea.Cmd {
	k, advised := a.keys, a.finder.advised()
	a.finder.forget()
	var entries []front.Entry
	var none key.Binding
	add := func(text string, b key.Binding, do func(*App) tea.Cmd) {
		entries = append(entries, front.Entry{Text: text, Hint: b.Help().Key, Do: func() tea.Cmd { return do(a) }})
	}
	walk := func() { add("The walk: this build, stage by stage", none, quietly(func(a *App) { a.walk.Open() })) }
	if a.walk.IsLeft() { // who left it comes back by one key more
		walk()
	}
	add("New build", none, func(a *App) tea.Cmd { return a.files.newBuild() })
	if !a.walk.IsLeft() {
		walk()
	}
	add("The walk: a new build, from nothing", none, func(a *App) tea.Cmd {
		return a.files.unlessUnsaved(k.Lose, "begins a new build", func() tea.Cmd { return a.walkFromNothing("") })
	})
	add("Open a build", k.Open, openList)
	add(either(a.survey.IsBegun(), "Go on with the survey of a meter", "Survey an unknown meter"), k.Unknown, surveyMeter)
	if a.survey.IsBegun() {
		add("Survey another meter", none, quietly(func(a *App) { a.survey.OpenAnew() }))
	}
	add("Compare a drawer of meters", none, func(a *App) tea.Cmd { return a.fit.Open() })
	add("Starter file for a class", none, func(a *App) tea.Cmd { return a.teach.kit() })
	add("A class's builds", none, func(a *App) tea.Cmd { return a.teach.askFolder() })
	add("Save", k.Save, save)
	add("Save under another name", none, func(a *App) tea.Cmd { return a.files.saveAs() })
	add("Search all there is", k.Jump, jump)
	add("Go to the next finding", k.Finding, nextFinding)
	add("Take what is offered", k.Take, func(a *App) tea.Cmd { return a.offers.take(advised) })
	add("Choose a part", k.Choose, choosePart)
	add("Take all that is offered", none, func(a *App) tea.Cmd { return a.offers.takeAll() })
	add("Help, cautions and words here", k.Cautions, readCautions)
	add("Look into a result, its working", k.Look, lookInto)
	add("Reach a value of a result: what does it", none, quietly(func(a *App) { a.finder.reachOne() }))
	add("Make many kits", k.Kits, makeKits)
	add("Codes for the firmware", none, solved("There are no codes", func(a *App) front.Page { return codesPage(a.session) }))
	add("It is mended: readings were before", k.Mended, mended)
	add("Follow the clock", k.Follow, follow)
	add("Run a fast day", k.FastDay, fastDay)
	add("Show the next plot", k.Plot, nextPlot)
	add("Circuit, at the time of the preview", none, solved("There is no circuit", func(a *App) front.Page {
		return circuitPage(a.session, a.side.Preview.Seconds, a.screen.canvas.ASCII)
	}))
	add("Connections, one after another", none, solved("There are no connections", func(a *App) front.Page {
		return listPage(a.session, a.screen.canvas.ASCII)
	}))
	add("Parts list", none, solved("There is no parts list", func(a *App) front.Page { return partsPage(a.session) }))
	add("Papers: sheet, dials, codes, parts", none, func(a *App) tea.Cmd { return newPapers(a.files).choose() })
	add("Error budget; again: longer after it was set", k.Budget, errorBudget)
	add("What differs from the file", k.Differ, differFrom(false))
	add("What differs from what you kept", none, differFrom(true))
	add("Keep this state to compare", none, quietly(func(a *App) { a.side.Views.Differ.Keep() }))
	add(either(a.side.Preview.Large, "All dials", "One large dial"), k.Large, toggleLarge)
	add(either(a.side.Results.Bare, "Results with bands", "More results, without bands"), none, quietly(func(a *App) { a.side.Results.ToggleBands() }))
	entries = append(entries, a.lists.entries()...)
	add(either(a.screen.canvas.ASCII, "Draw in braille", "Draw in plain characters"), none, quietly(func(a *App) { a.screen.toggleASCII() }))
	add(either(a.screen.light, "Dark colours", "Light colours"), none, quietly(func(a *App) { a.screen.toggleTheme() }))
	add(either(a.screen.mouseOff, "Mouse on", "Mouse off"), none, (*App).toggleMouse)
	add("Undo", k.Undo, undo)
	add("Redo", k.Redo, redo)
	if a.suspendable {
		add("Suspend", k.Suspend, (*App).suspend)
	}
	add("Quit", k.Quit, (*App).quit)
	a.form.Leave()
	a.front.Ask(&front.Prompt{Title: "Do", Hint: "Type a few letters: the list gets shorter. Enter does the chosen line.", Entries: entries}, "")
	return nil
}

// either is one of two texts.
func either(first bool, one, other string) string {
	if first {
		return one
	}
	return other
}

// solved opens a page of what follows from the build; while a value of it cannot be read it says
// what there is not: "There are no codes".
func solved(lack string, page func(a *App) front.Page) func(a *App) tea.Cmd {
	return quietly(func(a *App) {
		if a.session.Stale() {
			a.notice.Say(lack + " until every value can be read: " + a.session.ToMend() + ".")
			return
		}
		a.front.Open(page(a))
	})
}
