package ui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
)

// A prompt asks for a line of text, for an entry of a list, or for either; it
// stands where the form stood, so that the needle stays in view.
type prompt struct {
	title    string
	hint     string  // what to do
	entries  []entry // to choose from; typing narrows them
	chosen   int     // among the entries that match
	fixed    bool    // the list is short: nothing is typed
	most     int     // characters that may be typed; 0: longestAnswer
	replaced bool    // what stands there at first goes with the first letter typed
	accept   func(a *App, text string) tea.Cmd
	other    func(a *App, text string) tea.Cmd // takes a text that no entry holds
	problem  string                            // why the last answer, or what was typed last, was not taken
}

// An entry is one line of a prompt's list.
type entry struct {
	text, hint string
	mark       string    // before the text, of the one that is in force
	effect     string    // in figures between commas, of which as many as fit stand behind the text
	more       string    // all of it, below the form while the entry is chosen
	of         resultKey // that is looked into while the entry is chosen
	do         func(a *App) tea.Cmd
}

// ask opens a prompt with a text to begin with.
func (a *App) ask(p *prompt, text string) tea.Cmd {
	a.leave()
	a.mode, a.prompt = asking, p
	if p.most == 0 {
		p.most = longestAnswer
	}
	a.input.fill(text, p.most)
	return nil
}

// close ends a prompt and gives the keys back to the form.
func (a *App) close() {
	a.mode, a.prompt = editing, nil
	a.enter()
}

// matching are the entries that hold what is typed, those that begin with it
// first.
func (p *prompt) matching(typed string) []entry {
	if len(p.entries) == 0 {
		return nil
	}
	typed = strings.ToLower(typed)
	var first, then []entry
	for _, e := range p.entries {
		switch at := strings.Index(strings.ToLower(e.text), typed); {
		case at == 0:
			first = append(first, e)
		case at > 0:
			then = append(then, e)
		}
	}
	return append(first, then...)
}

// at is the entry that is chosen of those that match; false where none does.
func (p *prompt) at(typed string) (entry, bool) {
	found := p.matching(typed)
	if p.chosen >= len(found) {
		return entry{}, false
	}
	return found[p.chosen], true
}

// answer takes a key while a prompt is open.
func (a *App) answer(msg tea.KeyMsg) tea.Cmd {
	p, k := a.prompt, &a.keys
	found := p.matching(a.input.Value())
	switch {
	case key.Matches(msg, k.Quit):
		a.close()
		return a.quit()
	case key.Matches(msg, k.Revert):
		a.close()
	case key.Matches(msg, k.Up):
		p.chosen = max(0, p.chosen-1)
	case key.Matches(msg, k.Accept):
		return a.accept(found)
	case key.Matches(msg, k.Down):
		p.chosen = min(p.chosen+1, max(0, len(found)-1))
	case p.fixed:
	default:
		a.typeAnswer(msg)
	}
	a.sense()
	return nil
}

// typeAnswer gives a key to the line of a prompt.
func (a *App) typeAnswer(msg tea.KeyMsg) {
	p, first := a.prompt, a.input.Value()
	replaces := p.replaced && msg.Type == tea.KeyRunes
	if replaces {
		a.input.fill("", p.most)
	}
	changed, says := a.input.press(msg)
	switch {
	case changed:
		p.chosen, p.problem, p.replaced = 0, says, false
	case replaces: // nothing came in its place
		a.input.fill(first, p.most)
		p.problem = says
	case says != "":
		p.problem = says
	default:
		p.replaced = false
	}
}

// accept takes the chosen entry, or the text where it may be free.
func (a *App) accept(found []entry) tea.Cmd {
	p, text := a.prompt, a.input.Value()
	if p.accept != nil {
		return p.accept(a, text)
	}
	if p.chosen >= len(found) && p.other != nil && strings.TrimSpace(text) != "" {
		a.close()
		return p.other(a, text)
	}
	if p.chosen >= len(found) {
		p.problem = "Nothing in the list holds " + cells.Cut(strings.TrimSpace(text), mostNamed) + "."
		return nil
	}
	a.close()
	return found[p.chosen].do(a)
}

// mostNamed are the columns of a typed text that is named in a sentence.
const mostNamed = 40

// drawPrompt draws the prompt in the form's place.
func (a *App) drawPrompt(at cells.Area) {
	p := a.prompt
	w, h := at.Size()
	y := at.Wrap(0, label, p.hint)
	if !p.fixed {
		line := at.Rows(y, 1)
		line.Fill(focusValue, ' ')
		a.drawInput(line, "")
		y++
	}
	if p.problem != "" {
		y += at.Sub(0, y, w, h-y).Wrap(0, fault, p.problem)
	}
	list := at.Rows(y+1, h-y-1)
	found := p.matching(a.input.Value())
	_, rows := list.Size()
	start := max(0, min(p.chosen-rows/2, len(found)-rows))
	for i := 0; i < rows && start+i < len(found); i++ {
		e, row := found[start+i], list.Rows(i, 1)
		style, hintStyle := value, dim
		if start+i == p.chosen {
			style, hintStyle = focusValue, focusDim
			row.Fill(focusValue, ' ')
		}
		e.draw(row, style, hintStyle)
	}
}

// draw draws an entry in its line, and as much of what is said of it as fits.
func (e *entry) draw(row cells.Area, style, hintStyle cells.Style) {
	w, _ := row.Size()
	x := row.Text(0, 0, style, e.mark+e.text)
	behind := row.Sub(x+2, 0, w-x-2, 1)
	room, _ := behind.Size()
	if cells.Fits(e.hint, room) {
		behind.TextRight(0, hintStyle, e.hint)
	}
	effect := e.effect
	for !cells.Fits(effect, max(room, 0)) {
		effect = effect[:max(0, strings.LastIndex(effect, ", "))]
	}
	behind.TextRight(0, hintStyle, effect)
}

// drawMore draws all that is said of the chosen entry.
func (a *App) drawMore(at cells.Area) {
	if e, ok := a.prompt.at(a.input.Value()); ok {
		at.Wrap(0, value, e.more)
	}
}
