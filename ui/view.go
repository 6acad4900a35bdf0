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
	if a.width < leastWidth || a.height < leastHeight {
		a.canvas.Area().Wrap(0, value, fmt.Sprintf(
			"needlewright needs %d x %d cells; here are %d x %d. Your work is kept: enlarge the window, or %s quits.",
			leastWidth, leastHeight, a.width, a.height, a.keys.Quit.Help().Key))
		return
	}
	l := a.layout()
	a.drawHeader()
	switch a.mode {
	case helping:
		a.drawKeys()
	case asking:
		a.drawPrompt(a.titled(l.form, a.prompt.title))
		a.drawSide(l)
	default:
		a.drawForm(a.titled(l.form, paneNames[a.pane]))
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
		a.area(tab).Text(0, 0, style, " "+paneNames[i]+" ")
	}
	left := a.canvas.Area().Sub(1, 0, tabs[0].Min.X-2, 1)
	if a.Unsaved() {
		const sign = " * unsaved"
		w, _ := left.Size()
		var end cells.Area
		left, end = left.SplitLeft(w - cells.Width(sign))
		end.Text(0, 0, caution, sign)
	}
	left.Text(0, 0, title, a.name())
}

// drawHelp says what the focused field is and how to find its value, what to do
// about a finding, or what is wrong with the file as a whole.
func (a *App) drawHelp(at cells.Area) {
	if p := a.homeless(); p != nil {
		at.Wrap(0, fault, p.String())
		return
	}
	if a.advising != "" {
		at.Wrap(0, value, a.advising)
		return
	}
	f := a.focused().field
	text := f.Help
	if allowed := f.Allowed(); allowed != "" {
		text += " Allowed: " + allowed
		if unit := f.Unit.Symbol(); unit != "" {
			text += ", bare in " + unit
		}
		text += "."
	}
	y := at.Wrap(0, value, text)
	if f.Measure != "" {
		at.Wrap(y, dim, "Measure: "+f.Measure)
	}
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
	for _, f := range model.Fields() {
		for i := range f.Of(a.doc.Build) {
			if f.Pane != model.NoPane && f.PathOf(a.doc.Build, i) == p.Path {
				return true
			}
		}
	}
	return false
}

// drawFoot says what just happened, or which keys there are.
func (a *App) drawFoot(at cells.Area) {
	w, _ := at.Size()
	if a.notice.text != "" {
		style := [...]cells.Style{said: value, warned: caution, failed: fault}[a.notice.tone]
		at.Text(0, 0, style, a.notice.text)
		return
	}
	keys := a.keys.brief()
	if a.mode == asking {
		keys = a.keys.prompting()
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
