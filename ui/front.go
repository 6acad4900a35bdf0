package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
)

// A mode says what keys do at the moment.
type mode uint8

const (
	editing    mode = iota // keys go to the focused field
	asking                 // keys go to the prompt
	helping                // the list of keys is open
	paging                 // a page of text is open
	confirming             // something would lose unsaved work
)

// A front is what stands before the form and takes the keys: a prompt, a page, the
// list of keys or a question, one of them at a time.
type front struct {
	mode     mode
	prompt   *prompt
	page     page
	list     keyList
	question question
	line     input // of the prompts
	keys     *keyMap
}

// A question waits for a key: the same one again goes on, and Save saves first; any
// other leaves things as they are. It is put in words by a notice.
type question struct {
	again key.Binding
	then  func() tea.Cmd
}

func newFront(keys *keyMap) *front { return &front{line: newInput(), keys: keys} }

// ask opens a prompt with a text to begin with.
func (f *front) ask(p *prompt, text string) {
	f.mode, f.prompt = asking, p
	p.begin(&f.line, text)
}

// open opens a page.
func (f *front) open(p page) { f.mode, f.page = paging, p }

// listKeys opens the list of keys.
func (f *front) listKeys() { f.mode, f.list = helping, keyList{} }

// confirm has a question wait for its answer.
func (f *front) confirm(again key.Binding, then func() tea.Cmd) {
	f.mode, f.question = confirming, question{again, then}
}

// close closes what is open, and returns the question, where one was.
func (f *front) close() question {
	q := f.question
	f.mode, f.prompt, f.question = editing, nil, question{}
	return q
}

// answer gives a key to the prompt. When it closes, do is what is asked for.
func (f *front) answer(msg tea.KeyMsg) (do func() tea.Cmd, closed bool) {
	if do, closed = f.prompt.press(msg, f.keys); closed {
		f.close()
	}
	return do, closed
}

// turn gives a key to the page or the list of keys, whose frame is w by h.
func (f *front) turn(msg tea.KeyMsg, w, h int) {
	stays := false
	if f.mode == helping {
		stays = f.list.turn(msg, f.keys, w, h)
	} else {
		stays = f.page.turn(msg, f.keys, w, h)
	}
	if !stays {
		f.close()
	}
}

// chosen is the entry of an open prompt that is chosen; false where there is none.
func (f *front) chosen() (entry, bool) {
	if f.mode != asking {
		return entry{}, false
	}
	return f.prompt.at()
}

// drawPage draws the page, or the list of keys.
func (f *front) drawPage(at cells.Area) {
	if f.mode == helping {
		f.list.draw(at, f.keys)
		return
	}
	f.page.draw(at)
}

// bindings are the keys there are while something is open.
func (f *front) bindings() []key.Binding {
	switch f.mode {
	case helping, paging:
		return f.keys.reading()
	case asking:
		return f.keys.prompting(len(f.prompt.entries) > 0)
	case confirming:
		return f.keys.confirming(f.question.again)
	}
	return f.keys.brief
}
