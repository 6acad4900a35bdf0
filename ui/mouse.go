package ui

import (
	"image"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/layout"
)

// mouse takes a click or a turn of the wheel: a click gives the keys to a field
// or opens a form; the wheel steps the focused field over the form, the time
// over the dial, and the results over themselves.
func (a *App) mouse(msg tea.MouseMsg) tea.Cmd {
	if a.front.Mode != front.Editing || a.files.waiting || a.screen.tooSmall() || msg.Action != tea.MouseActionPress {
		return nil
	}
	at, l := image.Pt(msg.X, msg.Y), a.screen.layout()
	a.notice.Clear()
	a.finder.forget()
	switch {
	case a.survey.IsOpen():
		a.pointSurvey(msg.Button, at)
		return nil
	case a.walk.IsOpen():
		return a.pointWalk(msg.Button, at)
	}
	return tea.Batch(a.settle(), a.point(msg.Button, at, &l))
}

// point does what a button of the mouse does at a place.
func (a *App) point(button tea.MouseButton, at image.Point, l *layout.Layout) tea.Cmd {
	turn := 0
	switch button {
	case tea.MouseButtonWheelUp:
		turn = 1
	case tea.MouseButtonWheelDown:
		turn = -1
	case tea.MouseButtonLeft:
		a.click(at, l)
	}
	switch {
	case turn == 0:
	case a.bench.IsOpen():
		if b := a.screen.benchLayout(); at.In(b.Dial) {
			a.side.Preview.MoveTime(turn * 300)
		} else if at.In(b.Points) {
			a.bench.Move(-turn)
		}
	case a.scale.IsOpen():
		if at.In(a.screen.scaleLayout().Rows) {
			a.scale.Move(-turn)
		}
	case at.In(l.Form):
		return a.form.Step(turn > 0)
	case at.In(l.Below):
		a.side.Results.ScrollLines(-turn, a.form.Fields(), l.Below)
	case at.In(l.Side):
		a.side.Preview.MoveTime(turn * 300)
	}
	return nil
}

func (a *App) click(at image.Point, l *layout.Layout) {
	for i, tab := range layout.Tabs(a.screen.width, a.form.Names()) {
		if at.In(tab) {
			a.form.TurnTo(i)
		}
	}
	switch {
	case a.bench.IsOpen():
		a.bench.Click(at, a.screen.benchLayout().Points)
		return
	case a.scale.IsOpen():
		a.scale.Click(at, a.screen.scaleLayout().Rows)
		return
	}
	if in := layout.Inside(l.Form); at.In(in) {
		a.form.Click(at.X-in.Min.X, at.Y-in.Min.Y, in.Dx(), in.Dy())
	}
}

// toggleMouse gives the mouse back to the terminal, or takes it again.
func (a *App) toggleMouse() tea.Cmd {
	a.screen.toggleMouse()
	if a.screen.mouseOff {
		return tea.DisableMouse
	}
	return tea.EnableMouseCellMotion
}

// resumed takes the mouse again after a suspension, in which Bubble Tea has
// given it back.
func (a *App) resumed() tea.Cmd {
	if a.screen.mouseOff {
		return nil
	}
	return tea.EnableMouseCellMotion
}
