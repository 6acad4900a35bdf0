package ui

import (
	"image"

	tea "github.com/charmbracelet/bubbletea"
)

// mouse takes a click or a turn of the wheel: a click gives the keys to a field
// or opens a form; the wheel steps the focused field over the form, the time
// over the dial, and the results over themselves.
func (a *App) mouse(msg tea.MouseMsg) tea.Cmd {
	if a.front.mode != editing || a.files.waiting || a.screen.tooSmall() || msg.Action != tea.MouseActionPress {
		return nil
	}
	at, l := image.Pt(msg.X, msg.Y), a.screen.layout()
	a.notice.clear()
	a.finder.forget()
	turn := 0
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		turn = 1
	case tea.MouseButtonWheelDown:
		turn = -1
	case tea.MouseButtonLeft:
		a.click(at, &l)
	}
	switch {
	case turn == 0:
	case at.In(l.form):
		return a.form.step(turn > 0)
	case at.In(l.below):
		a.side.results.scrollLines(-turn, a.form.fields(), l.below)
	case at.In(l.side):
		a.side.preview.moveTime(turn * 300)
	}
	return nil
}

func (a *App) click(at image.Point, l *layout) {
	for i, tab := range tabsOf(a.screen.width, a.form.names()) {
		if at.In(tab) {
			a.side.results.begin()
			a.form.turnTo(i)
		}
	}
	if in := inside(l.form); at.In(in) {
		a.form.click(at.Y-in.Min.Y, in.Dx(), in.Dy())
	}
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
