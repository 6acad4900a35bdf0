package ui

import (
	"fmt"
	"image"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/report"
	engine "example.com/needlewright/model/walk"
	"example.com/needlewright/model/words"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
)

// walked gives a key to the walk, but for those of the program and those that lead deeper.
func (a *App) walked(msg tea.KeyMsg) tea.Cmd {
	k := a.keys
	var settled tea.Cmd
	if key.Matches(msg, k.Save, k.Look, k.Take, k.Unknown, k.Undo, k.Redo, k.Jump, k.Quit) { // they are of what is typed too
		cmd, ok := a.walk.Settle()
		if !ok && !key.Matches(msg, k.Quit) {
			return cmd
		}
		settled = cmd
	}
	return tea.Batch(settled, a.walkedOn(msg))
}

// walkedOn does what a key does on the walk.
func (a *App) walkedOn(msg tea.KeyMsg) tea.Cmd {
	k := a.keys
	switch {
	case key.Matches(msg, k.Save):
		return a.files.save()
	case key.Matches(msg, k.Help):
		a.listKeys()
	case key.Matches(msg, k.Cautions):
		a.front.Open(a.walkWords())
	case key.Matches(msg, k.Look):
		a.showWorking()
	case key.Matches(msg, k.Take):
		return a.mendInWalk()
	case key.Matches(msg, k.Jump):
		a.finder.search()
	case key.Matches(msg, k.Unknown):
		a.survey.OpenOn(a.walk.Seen())
	case key.Matches(msg, k.Undo):
		return undo(a)
	case key.Matches(msg, k.Redo):
		return redo(a)
	case key.Matches(msg, k.Suspend):
		return a.suspend()
	case key.Matches(msg, k.Quit):
		return a.quit()
	case key.Matches(msg, k.Menu, k.Open, k.Finding, k.Choose, k.Kits, k.Plot, k.Budget, k.Differ):
		a.notice.Say("First " + k.Revert.Help().Key + " leaves the walk; " + keys.First(k.Menu) + " comes back to it.")
	default:
		return a.walk.Press(msg)
	}
	return nil
}

// mendInWalk makes what is offered for what keeps the stage from being done.
func (a *App) mendInWalk() tea.Cmd {
	a.session.AdviseNow()
	a.walk.Heed()
	f := a.walk.Against()
	if f == nil || len(f.Changes) == 0 {
		a.notice.Say("Nothing is offered on this page.")
		return nil
	}
	return a.offers.make(f.Changes, a.offers.effect(f))
}

// showWorking shows how a result of the stage comes about, the next one each time; where parts
// are joined it shows the circuit, and where it is written up what is still found.
func (a *App) showWorking() {
	switch model.StageIDs[a.walk.Stage()] {
	case "build":
		a.front.Open(circuitPage(a.session, a.side.Preview.Seconds, a.screen.canvas.ASCII))
		return
	case "write-up":
		a.front.Open(foundPage(a.session.Report))
		return
	}
	row, ok := a.walk.NextResult()
	if !ok {
		a.notice.Say("This stage has no result to be worked out.")
		return
	}
	a.front.Open(workingPage(a.session, row))
}

// foundPage is a page with all that is found, and what is advised.
func foundPage(r *report.Report) front.Page {
	p := front.Page{Title: "What is still found"}
	for _, f := range r.Findings {
		p.Add(draw.SeverityStyles[f.Severity], draw.Signs[f.Severity]+" "+strings.TrimSpace(f.String()))
		p.Add(draw.Value, f.Advice+"\n")
	}
	if r.Findings == nil {
		p.Add(draw.Value, "Nothing.")
	}
	return p
}

// walkWords is a page with the words of the stage, and all that is to be known at the
// question.
func (a *App) walkWords() front.Page {
	var there []*words.Word
	p := a.walk.HelpPage(a.screen.canvas.ASCII, func(p *front.Page) {
		there = explain(p, "The words of this stage", a.walk.StageText(), nil)
		p.Add(draw.Heading, "\nWhat it asks")
	})
	explain(&p, "\nFurther words here", p.Text(), there)
	return p
}

// drawWalk draws the walk in place of form and side.
func (a *App) drawWalk(whole cells.Area, l *layout.Layout) {
	a.walk.Draw(whole, a.screen.width, a.screen.height)
	help := whole.In(l.Help)
	a.walk.DrawHelp(help)
	if a.notice.Text != "" {
		_, h := help.Size()
		row := help.Rows(h-1, 1)
		row.Fill(draw.Dim, ' ')
		a.notice.Draw(row)
	}
	shown := a.front.Bindings()
	if a.front.Mode == front.Editing {
		shown = a.walk.Bindings()
	}
	draw.KeysLine(whole.In(l.Foot), shown)
}

// pointWalk does what a button of the mouse does at a place of the walk.
func (a *App) pointWalk(button tea.MouseButton, at image.Point) tea.Cmd {
	switch button {
	case tea.MouseButtonWheelUp:
		return a.walk.Wheel(-1)
	case tea.MouseButtonWheelDown:
		return a.walk.Wheel(1)
	case tea.MouseButtonLeft:
		cmd, ok := a.walk.Settle()
		if ok {
			a.clickWalk(at)
		}
		return cmd
	}
	return nil
}

// clickWalk opens the form of a tab, or gives the keys to a question.
func (a *App) clickWalk(at image.Point) {
	for i, tab := range layout.Tabs(a.screen.width, a.form.Names()) {
		if at.In(tab) {
			a.walk.Close()
			a.form.TurnTo(i)
			return
		}
	}
	a.walk.Click(at, a.screen.width, a.screen.height)
}

// walkFromNothing begins a build of which nothing is known, for a file that is not there yet
// or for none, and opens the walk on it.
func (a *App) walkFromNothing(path string) tea.Cmd {
	cmd := a.files.begin(path, engine.Begin().Text)
	a.notice.Clear()
	a.walk.Open()
	return cmd
}

// first offers what to begin with, on the example's needle: the walk, a look at what the
// program does, a clock that is finished, a kit for a class, a file. Esc goes to the example.
func (a *App) first(finished string) {
	entry := func(text, hint, more string, do func() tea.Cmd) front.Entry {
		return front.Entry{Text: text, Hint: hint, More: more, Do: do}
	}
	a.form.Leave()
	a.front.Ask(&front.Prompt{
		Title: "needlewright", Fixed: true, Alone: true,
		Hint: "A meter's needle becomes the hand of your clock. Nothing is powered yet.",
		Entries: []front.Entry{
			entry("I have a meter", "the walk", "New to this: ten stages from an unknown meter to a clock that runs, a page at a time; stop when you like.", func() tea.Cmd { return a.walkFromNothing("") }),
			entry(either(a.survey.IsBegun(), "Go on surveying", "What is it?"), "the survey", "What an unknown meter is, without hurting it: a multimeter, a 1.5 V cell, a 9 V block, resistors from 10 MΩ to 15 Ω.", a.surveyFirst),
			entry("Show me", "a minute", "This example's needle runs through a day; change any value, and needle, results and findings follow. Ctrl+z takes it back, nothing is saved.", fastDayOf(a)),
			entry("A finished clock", "all done", "Look and play: a baker's clock, of which every stage is done. Change a part, and what rested on it wants to be looked at again.", func() tea.Cmd { return a.showFinished(finished) }),
			entry("I teach", "a kit", "One kit for a class: makes the starter file that each goes on with, the parts given, the own meter left open.", func() tea.Cmd { return a.teach.kit() }),
			entry("Open a build", "a file", "One of yours, or of the examples.", func() tea.Cmd { return openList(a) }),
			entry("New build", "questions", "For who knows the readings: a few questions, then the whole build with its parts.", func() tea.Cmd { return a.files.newBuild() }),
		},
	}, "")
}

// surveyFirst opens the survey on a build of which nothing is known, for its meter.
func (a *App) surveyFirst() tea.Cmd {
	cmd := a.files.begin("", engine.Begin().Text)
	a.notice.Clear()
	a.survey.Open()
	return cmd
}

// fastDayOf runs the needle through a day, and says what else to try.
func fastDayOf(a *App) func() tea.Cmd {
	return func() tea.Cmd {
		cmd := a.side.Preview.FastDay()
		a.notice.Say("The needle runs through a day. Type over a value, go on with ↓, and see what it changes; " + a.keys.Menu.Help().Key + " has all there is.")
		return cmd
	}
}

// sayWalk says where the walk of a build stands that was begun and is not done.
func (a *App) sayWalk() {
	if a.notice.Tone != notice.Said || a.front.Mode != front.Editing || a.session.Stale() || len(a.session.Doc.Build.Walk) == 0 {
		return
	}
	on := a.session.Report.Walk()
	if next := on.Next(); next != nil {
		a.notice.Say(fmt.Sprintf("The walk stands at “%s”, %d of %d done: %s, The walk, goes on there.", next.Title, on.Count(), len(on.States), a.keys.Menu.Help().Key))
	}
}

// showFinished opens a clock of which all stages are done.
func (a *App) showFinished(text string) tea.Cmd {
	cmd := a.files.open("", text, file.Stamp{})
	a.notice.Clear()
	a.walk.Open()
	return cmd
}
