package ui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/ui/cells"
)

// The longest texts that prompts take, in characters; those of fields are in
// the fields table.
const (
	longestAnswer = 200
	longestPath   = 1024 // macOS takes no longer one (PATH_MAX, from memory)
)

// A prompt asks for a line of text, for an entry of a list, or for either; it
// stands where the form stood, so that the needle stays in view.
type prompt struct {
	title    string
	hint     string  // what to do
	entries  []entry // to choose from; typing narrows them
	fixed    bool    // the list is short: nothing is typed
	most     int     // characters that may be typed; 0: longestAnswer
	replaced bool    // what stands there at first goes with the first letter typed

	// accept takes what is typed: problem says why not, and the prompt stays; else do
	// is done when it is closed.
	accept func(text string) (problem string, do func() tea.Cmd)
	other  func(text string) tea.Cmd // takes a text that no entry holds

	line    *input
	chosen  int    // among the entries that match
	problem string // why the last answer, or what was typed last, was not taken
}

// An entry is one line of a prompt's list.
type entry struct {
	text, hint string
	mark       string    // before the text, of the one that is in force
	effect     string    // in figures between commas, of which as many as fit stand behind the text
	more       string    // all of it, below the form while the entry is chosen
	of         resultKey // that is looked into while the entry is chosen
	do         func() tea.Cmd
}

// A resultKey names a result, whichever report has its value.
type resultKey struct {
	result *circuit.Result
	index  int
}

// begin begins it with a text in its line.
func (p *prompt) begin(line *input, text string) {
	if p.most == 0 {
		p.most = longestAnswer
	}
	p.line = line
	line.fill(text, p.most)
}

// matching are the entries that hold what is typed, those that begin with it
// first.
func (p *prompt) matching() []entry {
	if len(p.entries) == 0 {
		return nil
	}
	typed := strings.ToLower(p.line.Value())
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
func (p *prompt) at() (entry, bool) {
	found := p.matching()
	if p.chosen >= len(found) {
		return entry{}, false
	}
	return found[p.chosen], true
}

// press takes a key. It says whether that closes the prompt, and what is to be done
// then; nil: nothing.
func (p *prompt) press(msg tea.KeyMsg, k *keyMap) (do func() tea.Cmd, closed bool) {
	switch {
	case key.Matches(msg, k.Revert):
		return nil, true
	case key.Matches(msg, k.Up):
		p.chosen = max(0, p.chosen-1)
	case key.Matches(msg, k.Accept):
		return p.take()
	case key.Matches(msg, k.Down):
		p.chosen = min(p.chosen+1, max(0, len(p.matching())-1))
	case p.fixed:
	default:
		p.typed(msg)
	}
	return nil, false
}

// typed gives a key to the line.
func (p *prompt) typed(msg tea.KeyMsg) {
	first := p.line.Value()
	replaces := p.replaced && msg.Type == tea.KeyRunes
	if replaces {
		p.line.fill("", p.most)
	}
	changed, says := p.line.press(msg)
	switch {
	case changed:
		p.chosen, p.problem, p.replaced = 0, says, false
	case replaces: // nothing came in its place
		p.line.fill(first, p.most)
		p.problem = says
	case says != "":
		p.problem = says
	default:
		p.replaced = false
	}
}

// take takes the chosen entry, or the text where it may be free.
func (p *prompt) take() (do func() tea.Cmd, closed bool) {
	text, found := p.line.Value(), p.matching()
	if p.accept != nil {
		p.problem, do = p.accept(text)
		return do, do != nil
	}
	if p.chosen >= len(found) && p.other != nil && strings.TrimSpace(text) != "" {
		return func() tea.Cmd { return p.other(text) }, true
	}
	if p.chosen >= len(found) {
		p.problem = "Nothing in the list holds " + cells.Cut(strings.TrimSpace(text), mostNamed) + "."
		return nil, false
	}
	return found[p.chosen].do, true
}

// mostNamed are the columns of a typed text that is named in a sentence.
const mostNamed = 40

// draw draws the prompt in the form's place.
func (p *prompt) draw(frame cells.Area) {
	at := titled(frame, p.title)
	w, h := at.Size()
	y := at.Wrap(0, label, p.hint)
	if !p.fixed {
		line := at.Rows(y, 1)
		line.Fill(focusValue, ' ')
		p.line.draw(line, "", false)
		y++
	}
	if p.problem != "" {
		y += at.Sub(0, y, w, h-y).Wrap(0, fault, p.problem)
	}
	list := at.Rows(y+1, h-y-1)
	found := p.matching()
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
func (p *prompt) drawMore(at cells.Area) {
	if e, ok := p.at(); ok {
		at.Wrap(0, value, e.more)
	}
}
