package ui

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// menu lists everything that can be done, with its key where it has one.
func (a *App) menu() tea.Cmd {
	k := &a.keys
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
	add("Follow the clock", &k.Follow, (*App).follow)
	add("Run a fast day", &k.FastDay, (*App).fastDay)
	add("Show the next plot", &k.Plot, (*App).nextPlot)
	add("One large dial, or all", &k.Large, (*App).toggleLarge)
	entries = append(entries, a.structureEntries()...)
	add("Plain characters, or braille", nil, (*App).toggleASCII)
	add("Light colours, or dark", nil, (*App).toggleTheme)
	add("Mouse off, or on", nil, (*App).toggleMouse)
	add("Undo", &k.Undo, (*App).undoVisit)
	add("Redo", &k.Redo, (*App).redoVisit)
	if a.suspendable {
		add("Suspend", &k.Suspend, (*App).suspend)
	}
	add("Quit", &k.Quit, (*App).quit)
	return a.ask(&prompt{title: "Do", hint: "Type a part; enter does what is chosen.", entries: entries}, "")
}

// structureEntries are what can be done to hands and lamps.
func (a *App) structureEntries() []entry {
	var entries []entry
	add := func(text string, do func(*App) tea.Cmd) { entries = append(entries, entry{text: text, do: do}) }
	b := a.doc.Build
	add("Add a hand", func(a *App) tea.Cmd {
		return a.askName("hand", func(d *model.Document, name string) (*model.Document, *model.Problem) { return d.AddHand(name, -1) })
	})
	if a.hand < len(b.Hands) {
		hand, name := a.hand, b.Hands[a.hand].Name
		add("Copy the hand "+name, func(a *App) tea.Cmd {
			return a.askName("hand", func(d *model.Document, name string) (*model.Document, *model.Problem) { return d.AddHand(name, hand) })
		})
		add("Rename the hand "+name, func(a *App) tea.Cmd { return a.goToField("hand.name") })
		add("Remove the hand "+name, func(a *App) tea.Cmd { return a.restructure(a.doc.RemoveHand(hand)) })
	}
	add("Add a lamp", func(a *App) tea.Cmd {
		return a.askName("lamp", func(d *model.Document, name string) (*model.Document, *model.Problem) { return d.AddLamp(name, -1) })
	})
	for i, l := range b.Lamps {
		add("Copy the lamp "+l.Name, func(a *App) tea.Cmd {
			return a.askName("lamp", func(d *model.Document, name string) (*model.Document, *model.Problem) { return d.AddLamp(name, i) })
		})
		add("Remove the lamp "+l.Name, func(a *App) tea.Cmd { return a.restructure(a.doc.RemoveLamp(i)) })
	}
	return entries
}

// askName asks for the name of a new hand or lamp and adds it.
func (a *App) askName(what string, add func(*model.Document, string) (*model.Document, *model.Problem)) tea.Cmd {
	return a.ask(&prompt{
		title: "A name for the " + what,
		hint:  "Small letters, digits and -, such as minutes. Enter adds it, esc leaves.",
		accept: func(a *App, name string) tea.Cmd {
			d, problem := add(a.doc, name)
			if problem != nil {
				a.prompt.problem = problem.Message()
				return nil
			}
			a.close()
			cmd := a.restructure(d, nil)
			if what == "hand" {
				a.leave()
				a.hand = len(d.Build.Hands) - 1
				a.enter()
			}
			return cmd
		},
	}, "")
}

// restructure takes a document with a hand or lamp more or less, as one visit.
func (a *App) restructure(d *model.Document, problem *model.Problem) tea.Cmd {
	if problem != nil {
		a.notice = notice{warned, problem.Message()}
		return nil
	}
	a.leave()
	a.rebase()
	a.undo, a.redo = append(a.undo, a.doc.Text), nil
	a.show(d)
	a.enter()
	return a.changed()
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
			if len(a.doc.Build.Lamps) > 1 && r.field.Group == "Lamp" {
				text += ", " + a.doc.Build.Lamps[r.index].Name
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
func (a *App) goToField(path string) tea.Cmd {
	for pane := range model.Pane(panes) {
		for i, r := range a.rows(pane) {
			if r.cell <= 0 && r.field.Path == path {
				a.goTo(pane, i)
				return nil
			}
		}
	}
	return nil
}

// nextFinding goes to the field that mends the next finding, and shows what to
// do about it.
func (a *App) nextFinding() tea.Cmd {
	if a.report == nil || len(a.report.Findings) == 0 {
		a.notice = notice{said, "Nothing to remark."}
		return nil
	}
	next := a.finding % len(a.report.Findings)
	f := a.report.Findings[next]
	for i, h := range a.doc.Build.Hands {
		if h.Name == f.About {
			a.leave()
			a.hand = i
		}
	}
	for pane := range model.Pane(panes) {
		for i, r := range a.rows(pane) {
			if r.cell <= 0 && r.field.PathOf(a.doc.Build, r.index) == f.Field {
				a.goTo(pane, i)
			}
		}
	}
	a.finding, a.advising = next+1, fmt.Sprintf("%s %s: %s %s", signs[f.Severity], f.Severity, f.Text, f.Advice)
	return nil
}
