package ui

import (
	"image"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// mouse takes a click or a turn of the wheel: a click gives the keys to a field
// or opens a form; the wheel steps the focused field over the form, the time
// over the dial, and the results over themselves.
func (a *App) mouse(msg tea.MouseMsg) tea.Cmd {
	if a.mode != editing || a.waiting || a.tooSmall() || msg.Action != tea.MouseActionPress {
		return nil
	}
	at, l := image.Pt(msg.X, msg.Y), a.layout()
	a.notice, a.advising = notice{}, nil
	turn := 0
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		turn = 1
	case tea.MouseButtonWheelDown:
		turn = -1
	case tea.MouseButtonLeft:
		return a.click(at, l)
	}
	switch {
	case turn == 0:
	case at.In(l.form):
		return a.stepField(turn > 0)
	case at.In(l.below):
		a.scrollLines(-turn)
	case at.In(l.side):
		a.moveTime(turn * 300)
	}
	return nil
}

func (a *App) click(at image.Point, l layout) tea.Cmd {
	for i, tab := range a.tabs() {
		if at.In(tab) {
			a.turnTo(model.Pane(i))
		}
	}
	in := inside(l.form)
	if !at.In(in) {
		return nil
	}
	lines, start := a.formLines(a.rows(a.pane), in.Dx(), in.Dy())
	if i := start + at.Y - in.Min.Y; i < len(lines) && lines[i].heading == "" && !lines[i].blank {
		a.goTo(a.pane, lines[i].row)
	}
	return nil
}

// toggleMouse gives the mouse back to the terminal, or takes it again.
func (a *App) toggleMouse() tea.Cmd {
	a.mouseOff = !a.mouseOff
	if a.mouseOff {
		return tea.DisableMouse
	}
	return tea.EnableMouseCellMotion
}

// resumed takes the mouse again after a suspension, in which Bubble Tea has
// given it back.
func (a *App) resumed() tea.Cmd {
	if a.mouseOff {
		return nil
	}
	return tea.EnableMouseCellMotion
}
