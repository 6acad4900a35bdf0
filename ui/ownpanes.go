package ui

import (
	"image"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/words"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/layout"
)

// An ownPane is a part that stands in the place of form and side, and has rows of its own:
// the bench with its test points, the scale with its readings.
type ownPane interface {
	IsOpen() bool
	Edit(msg tea.KeyMsg) tea.Cmd
	Settle() tea.Cmd
	Move(by int)
	Step(up bool) tea.Cmd
	Next()
	Take() tea.Cmd
	Follow(before *model.Document)
	HelpPage(ascii bool, words func(*front.Page)) front.Page
}

// ownPanes are all of them.
func (a *App) ownPanes() [2]ownPane { return [...]ownPane{a.bench, a.scale} }

// own is the one that is open, nil where a form is.
func (a *App) own() ownPane {
	for _, p := range a.ownPanes() {
		if p.IsOpen() {
			return p
		}
	}
	return nil
}

// What keys do that mean the pane which is open: its fields, or rows of its own.

// move goes up or down.
func (a *App) move(by int) {
	if p := a.own(); p != nil {
		p.Move(by)
		return
	}
	a.form.Move(by)
}

// step steps the focused value up or down.
func (a *App) step(up bool) tea.Cmd {
	if p := a.own(); p != nil {
		return p.Step(up)
	}
	return a.form.Step(up)
}

// next goes to what is wrong next, or to what is to be measured next.
func (a *App) next() {
	if p := a.own(); p != nil && !a.session.Stale() {
		p.Next()
		return
	}
	a.finder.next()
}

// readCautions opens the page of what is to be known here, and of the words of that.
func (a *App) readCautions() {
	if p := a.own(); p != nil {
		a.openExplained(func(words func(*front.Page)) front.Page { return p.HelpPage(a.screen.canvas.ASCII, words) })
		return
	}
	a.tellMore()
}

// lookInto lists the results to be looked into, or at the bench opens the page of causes.
func (a *App) lookInto() {
	if page, ok := a.bench.CausesPage(); ok && a.bench.IsOpen() {
		a.front.Open(page)
		return
	}
	a.finder.look()
}

// choose lists what may be chosen for a part, or has the code of a scale's row typed.
func (a *App) choose() tea.Cmd {
	if a.scale.IsOpen() {
		a.scale.EditCode()
		return nil
	}
	return a.offers.choosePart()
}

// back goes back or forth in the history, and to what that changes.
func (a *App) back(step func() tea.Cmd) tea.Cmd {
	before := a.session.Doc
	cmd := step()
	for _, p := range a.ownPanes() {
		p.Follow(before)
	}
	return cmd
}

// besideForms shows what stands beside forms alone, or says that it does.
func (a *App) besideForms(show func()) {
	if a.own() != nil {
		a.notice.Say("Plots, the error budget and what differs stand beside the forms: " + a.keys.NextPane.Help().Key + " goes on to one.")
		return
	}
	show()
}

// What a key explains.

// openExplained opens a page that takes its words in its midst, and at its end those of what
// came behind and of what stands on the screen beside.
func (a *App) openExplained(page func(words func(*front.Page)) front.Page) {
	var there []*words.Word
	beside := a.beside()
	p := page(func(p *front.Page) { there = explain(p, "\nThe words here", p.Text(), nil) })
	explain(&p, "\nFurther words, also of what stands beside", p.Text()+".\n"+beside, there)
	a.front.Open(p)
}

// explainPage opens the words of the open page over it.
func (a *App) explainPage() {
	a.front.OpenOver(wordsOf(a.front.Page.Title, a.front.Page.Text()))
}

// explainPrompt opens all that is to be known of what a prompt asks for, or the words of what
// is chosen in it.
func (a *App) explainPrompt() {
	p := a.front.Prompt
	if p.Help != nil {
		a.front.Open(explained(p.Help(a.screen.canvas.ASCII)))
		return
	}
	title, text := p.Title, p.Hint+"\n"+strings.Join(p.Heads, ".\n")
	if e, ok := a.front.Chosen(); ok {
		title = strings.TrimSpace(e.Text)
		text = strings.Join([]string{e.Text, e.Hint, e.Also, e.More, e.Below, p.Title, text}, ".\n")
	}
	a.front.Open(wordsOf(title, text))
}

// beside is what stands on the screen beside what has the keys.
func (a *App) beside() string {
	l := a.screen.layout()
	switch {
	case a.screen.tooSmall():
		return ""
	case a.bench.IsOpen():
		return a.textAt(a.screen.benchLayout().Causes)
	case a.scale.IsOpen():
		return a.textAt(a.screen.scaleLayout().Law)
	}
	return a.textAt(l.Side)
}

// textAt is the text that stands in a frame on the screen, its broken lines joined.
func (a *App) textAt(frame image.Rectangle) string {
	in := layout.Inside(frame)
	var lines []string
	for y, line := range strings.Split(a.Plain(), "\n") {
		row := []rune(line)
		if y >= in.Min.Y && y < in.Max.Y && in.Min.X < len(row) {
			lines = append(lines, strings.TrimSpace(string(row[in.Min.X:min(in.Max.X, len(row))])))
		}
	}
	return strings.Join(lines, " ")
}
