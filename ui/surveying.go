package ui

import (
	"image"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/survey"
)

// surveyed gives a key to the survey, but for those of the program.
func (a *App) surveyed(msg tea.KeyMsg) tea.Cmd {
	k := a.keys
	switch {
	case key.Matches(msg, k.Save):
		return a.files.save()
	case key.Matches(msg, k.Help):
		a.listKeys()
	case key.Matches(msg, k.Cautions):
		a.front.Open(explained(a.survey.HelpPage(a.screen.canvas.ASCII)))
	case key.Matches(msg, k.Suspend):
		return a.suspend()
	case key.Matches(msg, k.Quit):
		return a.quit()
	case key.Matches(msg, k.Menu, k.Open, k.Undo, k.Redo, k.Jump, k.Finding, k.Take, k.Choose, k.Look, k.Kits, k.Plot, k.Budget, k.Differ):
		a.notice.Say("First " + k.Revert.Help().Key + " leaves the survey; " + keys.First(k.Unknown) + " comes back to it, and your answers stay.")
	default:
		cmd := a.survey.Press(msg)
		if !a.survey.IsOpen() && a.walk.IsOpen() {
			return tea.Batch(cmd, a.walk.Take(a.survey.Looked()))
		}
		return cmd
	}
	return nil
}

// drawSurvey draws the survey in place of form and side.
func (a *App) drawSurvey(whole cells.Area, l *layout.Layout) {
	a.survey.Draw(whole, a.screen.width, a.screen.height)
	a.survey.DrawHelp(a.notice.Draw(whole.In(l.Help)))
	shown := a.front.Bindings()
	if a.front.Mode == front.Editing {
		shown = a.survey.Bindings()
	}
	draw.KeysLine(whole.In(l.Foot), shown)
}

// pointSurvey does what a button of the mouse does at a place of the survey.
func (a *App) pointSurvey(button tea.MouseButton, at image.Point) {
	switch button {
	case tea.MouseButtonWheelUp:
		a.survey.Move(-1)
	case tea.MouseButtonWheelDown:
		a.survey.Move(1)
	case tea.MouseButtonLeft:
		for i, tab := range layout.Tabs(a.screen.width, a.form.Names()) {
			if at.In(tab) {
				a.survey.Close()
				a.form.TurnTo(i)
				return
			}
		}
		a.survey.Click(at, a.screen.width, a.screen.height)
	}
}

// addSurveyed asks what a further hand shows, and its name; its meter is one that was found
// out.
func (l *lists) addSurveyed(found *survey.Found) tea.Cmd {
	if problem := l.s.Doc.NoRoomFor("hand"); problem != nil {
		l.say.Warn(problem.Message())
		return nil
	}
	known := func(text string) string {
		if text == "" {
			return judge.NotKnown
		}
		return text
	}
	said := furtherHand(l.s.Doc.Build)
	said.Meter = judge.Meter{
		Origin: found.Origin, Removed: found.Removed, Marked: found.Marked, Coil: known(found.Coil), FullScale: known(found.FullScale),
	}
	const whatAndName = 2 // the first questions of a hand
	return l.askHand(handQuestions(l.s.Doc)[:whatAndName], said, found.Make)
}
