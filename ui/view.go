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
	a.drawHeader(l.header)
	if a.mode == helping {
		a.drawKeys(a.canvas.Area().Sub(0, 1, a.width, a.height-2))
	} else {
		a.drawForm(titled(l.form, paneNames[a.pane]))
		a.drawSide(l.side)
		a.drawHelp(l.help)
	}
	a.drawFoot(l.foot)
}

// drawHeader names the build and the forms.
func (a *App) drawHeader(at cells.Area) {
	tabs := 0
	for _, name := range paneNames {
		tabs += cells.Width(name) + 3
	}
	w, _ := at.Size()
	left, right := at.SplitLeft(w - tabs)
	if a.Unsaved() {
		const sign = " * unsaved "
		var end cells.Area
		left, end = left.SplitLeft(w - tabs - cells.Width(sign))
		end.Text(0, 0, caution, sign)
	}
	left.Text(1, 0, title, a.name())
	x := 0
	for i, name := range paneNames {
		style := label
		if i == int(a.pane) {
			style = chosen
		}
		x += right.Text(x, 0, style, " "+name+" ") + 1
	}
}

// drawHelp says what the focused field is and how to find its value, or what is
// wrong with the file as a whole.
func (a *App) drawHelp(at cells.Area) {
	at = at.Inset(1, 0)
	if p := a.homeless(); p != nil {
		at.Wrap(0, fault, p.String())
		return
	}
	f := a.focused().field
	text := f.Help
	if allowed := f.Allowed(); allowed != "" && f.Choices == nil {
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
	at = at.Sub(1, 0, w-2, 1)
	if a.notice.text != "" {
		style := [...]cells.Style{said: value, warned: caution, failed: fault}[a.notice.tone]
		at.Text(0, 0, style, a.notice.text)
		return
	}
	x := 0
	for _, b := range a.keys.brief() {
		h := b.Help()
		if x+cells.Width(h.Key+" "+h.Desc) > w-2 {
			break
		}
		x += at.Text(x, 0, keyName, h.Key)
		x += at.Text(x+1, 0, dim, h.Desc) + 3
	}
}

// drawKeys lists every key.
func (a *App) drawKeys(at cells.Area) {
	in := titled(at, "Keys")
	w, h := in.Size()
	all := a.keys.all()
	columns := (len(all) + h - 2) / max(1, h-1)
	for i, b := range all {
		column := in.Sub(i/(h-1)*(w/columns), i%(h-1), w/columns-1, 1)
		column.Text(0, 0, keyName, b.Help().Key)
		column.Text(12, 0, label, b.Help().Desc)
	}
	in.Text(0, h-1, dim, "Any key closes this list.")
}
