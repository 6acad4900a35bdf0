package ui

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"

	"example.com/needlewright/ui/bench"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/side"
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
	switch a.front.Mode {
	case front.Helping, front.Paging:
		a.front.DrawPage(whole.In(l.Page))
		a.side.DrawWorst(whole.In(l.Page))
	case front.Asking:
		l = a.promptLayout()
		a.front.Prompt.Draw(whole.In(l.Form))
		if l.Side.Empty() {
			a.side.DrawWorst(whole.In(l.Form))
		} else {
			a.side.Draw(whole, &l)
		}
		a.front.Prompt.DrawMore(whole.In(l.Help))
	default:
		if a.survey.IsOpen() {
			a.drawSurvey(whole, &l)
			return
		}
		if a.walk.IsOpen() {
			a.drawWalk(whole, &l)
			return
		}
		if a.bench.IsOpen() {
			a.drawBench(whole, &l)
			return
		}
		if a.scale.IsOpen() {
			a.drawScale(whole, &l)
			return
		}
		a.form.Draw(whole.In(l.Form))
		a.side.Draw(whole, &l)
		a.form.DrawHelp(a.notice.Draw(whole.In(l.Help)), a.finder.advised())
	}
	draw.KeysLine(whole.In(l.Foot), a.bindings())
}

// bindings are the keys that the bottom line names.
func (a *App) bindings() []key.Binding {
	if a.front.Mode == front.Editing && a.side.Views.At > 0 {
		return a.keys.Viewing()
	}
	return a.front.Bindings()
}

// drawBench draws the pane on which the built clock is compared with its plan.
func (a *App) drawBench(whole cells.Area, l *layout.Layout) {
	at := a.screen.benchLayout()
	a.bench.DrawPoints(whole.In(at.Points))
	var built side.Built
	if hand, code, ok := a.side.Code(); ok {
		built.Place, built.Known = a.bench.NeedleAt(hand, code)
		built.Text = bench.PlaceText(built.Place)
	}
	a.side.DrawBeside(whole.In(at.Dial), built)
	causes := whole.In(at.Causes)
	a.bench.DrawCauses(causes)
	a.side.DrawWorst(causes)
	a.drawBelow(whole, l, a.bench.DrawHelp, a.keys.Bench)
}

// drawScale draws the pane on which a scale is measured.
func (a *App) drawScale(whole cells.Area, l *layout.Layout) {
	at := a.screen.scaleLayout()
	rows := whole.In(at.Rows)
	a.scale.DrawRows(rows)
	a.side.DrawWorst(rows)
	a.scale.DrawLaw(whole.In(at.Law), at.Plot)
	a.drawBelow(whole, l, a.scale.DrawHelp, a.keys.Scale)
}

// drawBelow draws what stands below a pane with rows of its own: what is to be known of the
// row that has the keys, and these.
func (a *App) drawBelow(whole cells.Area, l *layout.Layout, help func(cells.Area), keys []key.Binding) {
	at := a.notice.Draw(whole.In(l.Help))
	if a.session.Homeless() != nil {
		a.form.DrawHelp(at, nil)
	} else {
		help(at)
	}
	if a.front.Mode != front.Editing {
		keys = a.front.Bindings()
	}
	draw.KeysLine(whole.In(l.Foot), keys)
}

// promptLayout is the layout while a prompt is open, whose list may need a wider form.
func (a *App) promptLayout() layout.Layout {
	return layout.WithForm(a.screen.width, a.screen.height, a.front.Prompt.Columns())
}

// drawTooSmall says that the window is too small, or what is asked.
func (a *App) drawTooSmall(at cells.Area) {
	text := fmt.Sprintf("needlewright needs %d x %d cells; here are %d x %d. Nothing is lost: enlarge the window, or %s quits.",
		layout.LeastWidth, layout.LeastHeight, a.screen.width, a.screen.height, a.keys.Quit.Help().Key)
	if a.front.Mode == front.Confirming {
		text = a.notice.Text
	}
	at.Wrap(0, draw.Value, text)
}

// drawHeader names the build and the panes.
func (a *App) drawHeader(whole cells.Area) {
	names := a.form.Names()
	tabs := layout.Tabs(a.screen.width, names)
	for i, tab := range tabs {
		style := draw.Label
		if i == a.form.Pane {
			style = draw.Chosen
		}
		sign := " "
		if a.form.HasProblem(i) {
			sign = "!"
		}
		at := whole.In(tab)
		at.Fill(style, ' ')
		at.Text(0, 0, style, sign+names[i])
	}
	left := whole.Sub(1, 0, tabs[0].Min.X-2, 1)
	s := a.session
	if s.Unsaved() || s.NotSaved && s.Path == "" {
		sign, style := " * unsaved", draw.Caution
		if s.NotSaved && a.front.Mode != front.Confirming { // until it is; a question says so itself
			sign, style = " ! Not saved", draw.Fault
		}
		w, _ := left.Size()
		var end cells.Area
		left, end = left.SplitLeft(w - cells.Width(sign))
		end.Text(0, 0, style, sign)
	}
	left.Text(0, 0, draw.Title, s.Name())
}
