package ui

import (
	"fmt"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// paneNames are the forms as the header calls them.
var paneNames = [panes]string{"Meter", "Filter", "Crystal", "Battery"}

// View draws the frame.
func (a *App) View() string {
	a.draw()
	return a.canvas.String(a.palette)
}

// Plain is the frame as text without colours.
func (a *App) Plain() string {
	a.draw()
	return a.canvas.Plain()
}

func (a *App) draw() {
	a.canvas.Clear()
	if a.tooSmall() {
		text := fmt.Sprintf("needlewright needs %d x %d cells; here are %d x %d. Nothing is lost: enlarge the window, or %s quits.",
			leastWidth, leastHeight, a.width, a.height, a.keys.Quit.Help().Key)
		if a.mode == confirming {
			text = a.notice.text
		}
		a.canvas.Area().Wrap(0, value, text)
		return
	}
	l := a.layout()
	a.drawHeader()
	switch a.mode {
	case helping:
		a.drawKeys()
	case paging:
		a.drawPage()
	case asking:
		a.drawPrompt(a.titled(l.form, a.prompt.title))
		a.drawSide(l)
		a.drawMore(a.area(l.help))
	default:
		a.drawForm(l)
		a.drawSide(l)
		a.drawHelp(a.area(l.help))
	}
	a.drawFoot(a.area(l.foot))
}

// drawHeader names the build and the forms.
func (a *App) drawHeader() {
	tabs := a.tabs()
	for i, tab := range tabs {
		style := label
		if i == int(a.pane) {
			style = chosen
		}
		sign := " "
		if a.hasProblem(model.Pane(i)) {
			sign = "!"
		}
		a.area(tab).Text(0, 0, style, sign+paneNames[i]+" ")
	}
	left := a.canvas.Area().Sub(1, 0, tabs[0].Min.X-2, 1)
	if a.Unsaved() || a.notSaved && a.path == "" {
		sign, style := " * unsaved", caution
		if a.notSaved && a.mode != confirming { // until it is; a question says so itself
			sign, style = " ! Not saved", fault
		}
		w, _ := left.Size()
		var end cells.Area
		left, end = left.SplitLeft(w - cells.Width(sign))
		end.Text(0, 0, style, sign)
	}
	left.Text(0, 0, title, a.name())
}

// homeless is the first problem that no field on any form shows.
func (a *App) homeless() *model.Problem {
	for i := range a.doc.Problems {
		if p := &a.doc.Problems[i]; !a.hasHome(p) {
			return p
		}
	}
	return nil
}

func (a *App) hasHome(p *model.Problem) bool {
	f, _, ok := a.doc.Find(p.Path)
	return ok && f.Pane != model.NoPane
}

// hasProblem says whether something on a form is to be mended.
func (a *App) hasProblem(pane model.Pane) bool {
	for i := range a.doc.Problems {
		if f, _, ok := a.doc.Find(a.doc.Problems[i].Path); ok && f.Pane == pane {
			return true
		}
	}
	return false
}

// drawFoot says which keys there are.
func (a *App) drawFoot(at cells.Area) {
	w, _ := at.Size()
	keys := a.keys.brief
	switch a.mode {
	case helping, paging:
		keys = a.keys.reading()
	case asking:
		keys = a.keys.prompting(len(a.prompt.entries) > 0)
	case confirming:
		keys = a.keys.confirming(a.confirm.key)
	}
	x := 0
	for _, b := range keys {
		h := b.Help()
		if x+cells.Width(h.Key+" "+h.Desc) > w-1 {
			break
		}
		x += at.Text(x, 0, keyName, h.Key)
		x += at.Text(x+1, 0, dim, h.Desc) + 3
	}
}
