package ui

import (
	"fmt"

	"example.com/needlewright/ui/cells"
)

// View draws the frame.
func (a *App) View() string {
	a.draw()
	return a.screen.canvas.String(a.screen.palette)
}

// Plain is the frame as text without colours.
func (a *App) Plain() string {
	a.draw()
	return a.screen.canvas.Plain()
}

// draw has each part draw itself in its place.
func (a *App) draw() {
	a.screen.canvas.Clear()
	whole := a.screen.canvas.Area()
	if a.screen.tooSmall() {
		a.drawTooSmall(whole)
		return
	}
	l := a.screen.layout()
	a.drawHeader(whole)
	switch a.front.mode {
	case helping, paging:
		a.front.drawPage(whole.In(l.page))
	case asking:
		a.front.prompt.draw(whole.In(l.form))
		a.side.draw(whole, &l)
		a.front.prompt.drawMore(whole.In(l.help))
	default:
		a.form.draw(whole.In(l.form))
		a.side.draw(whole, &l)
		if help := whole.In(l.help); !a.notice.draw(help) {
			a.form.drawHelp(help, a.finder.advised())
		}
	}
	drawKeysLine(whole.In(l.foot), a.front.bindings())
}

// drawTooSmall says that the window is too small, or what is asked.
func (a *App) drawTooSmall(at cells.Area) {
	text := fmt.Sprintf("needlewright needs %d x %d cells; here are %d x %d. Nothing is lost: enlarge the window, or %s quits.",
		leastWidth, leastHeight, a.screen.width, a.screen.height, a.keys.Quit.Help().Key)
	if a.front.mode == confirming {
		text = a.notice.text
	}
	at.Wrap(0, value, text)
}

// drawHeader names the build and the panes.
func (a *App) drawHeader(whole cells.Area) {
	names := a.form.names()
	tabs := tabsOf(a.screen.width, names)
	for i, tab := range tabs {
		style := label
		if i == a.form.pane {
			style = chosen
		}
		sign := " "
		if a.form.hasProblem(i) {
			sign = "!"
		}
		whole.In(tab).Text(0, 0, style, sign+names[i]+" ")
	}
	left := whole.Sub(1, 0, tabs[0].Min.X-2, 1)
	s := a.session
	if s.Unsaved() || s.notSaved && s.path == "" {
		sign, style := " * unsaved", caution
		if s.notSaved && a.front.mode != confirming { // until it is; a question says so itself
			sign, style = " ! Not saved", fault
		}
		w, _ := left.Size()
		var end cells.Area
		left, end = left.SplitLeft(w - cells.Width(sign))
		end.Text(0, 0, style, sign)
	}
	left.Text(0, 0, title, s.name())
}
