// Package front is what stands before the form and takes the keys while it is open: a
// prompt, a page, the list of keys, or a question.
package front

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/input"
	"example.com/needlewright/ui/keys"
)

// A mode says what keys do at the moment.
type mode uint8

// What is open.
const (
	Editing    mode = iota // keys go to the focused field
	Asking                 // keys go to the prompt
	Helping                // the list of keys is open
	Paging                 // a page of text is open
	Confirming             // something would lose unsaved work
)

// A Front is what stands before the form and takes the keys: a prompt, a page, the
// list of keys or a question, one of them at a time.
type Front struct {
	Mode     mode
	Prompt   *Prompt
	Page     Page
	under    *Page // that the page was opened over; nil: none
	list     keyList
	question question
	line     input.Line // of the prompts
	keys     *keys.Map
}

// A question waits for a key: the same one again goes on, and Save saves first; any
// other leaves things as they are. It is put in words by a notice.
type question struct {
	Again key.Binding
	Then  func() tea.Cmd
}

// New returns a front with nothing open, which goes by these keys.
func New(keys *keys.Map) *Front { return &Front{line: input.New(keys), keys: keys} }

// Ask opens a prompt with a text to begin with.
func (f *Front) Ask(p *Prompt, text string) {
	f.Mode, f.Prompt = Asking, p
	p.begin(&f.line, text)
}

// Open opens a page.
func (f *Front) Open(p Page) { f.Mode, f.Page, f.under = Paging, p, nil }

// OpenOver opens a page over the one that is open, which stands there again, as it stood,
// when this one closes.
func (f *Front) OpenOver(p Page) {
	under := f.Page
	f.Open(p)
	f.under = &under
}

// ListKeys opens the list of all keys that there are.
func (f *Front) ListKeys(all []key.Binding) { f.Mode, f.list = Helping, keyList{all: all} }

// Confirm has a question wait for its answer.
func (f *Front) Confirm(again key.Binding, then func() tea.Cmd) {
	f.Mode, f.question = Confirming, question{again, then}
}

// Close closes what is open, and returns the question, where one was.
func (f *Front) Close() question {
	q := f.question
	f.Mode, f.Prompt, f.question, f.under = Editing, nil, question{}, nil
	return q
}

// Answer gives a key to the prompt, which has w by h inside its frame. When it closes, do
// is what is asked for.
func (f *Front) Answer(msg tea.KeyMsg, w, h int) (do func() tea.Cmd, closed bool) {
	if do, closed = f.Prompt.press(msg, f.keys, w, h); closed {
		f.Close()
	}
	return do, closed
}

// Turn gives a key to the page or the list of keys, which has w by h inside its frame. A
// prompt that it was opened over has the keys again when it closes.
func (f *Front) Turn(msg tea.KeyMsg, w, h int) {
	stays := false
	if f.Mode == Helping {
		stays = f.list.turn(msg, f.keys, w, h)
	} else {
		stays = f.Page.turn(msg, f.keys, w, h)
	}
	switch {
	case stays:
	case f.Mode == Paging && f.under != nil:
		f.Page, f.under = *f.under, nil
	case f.Prompt != nil: // it was opened over that
		f.Mode = Asking
	default:
		f.Close()
	}
}

// Chosen is the entry of an open prompt that is chosen; false where there is none.
func (f *Front) Chosen() (Entry, bool) {
	if f.Mode != Asking {
		return Entry{}, false
	}
	return f.Prompt.at()
}

// Reads says which page a key opens over the prompt: how what is chosen comes about, or what
// is to be read of it; false where it opens none.
func (f *Front) Reads(msg tea.KeyMsg) (Page, bool) {
	if working := f.Prompt.Working; working != nil && key.Matches(msg, f.keys.Look) {
		return working(), true
	}
	if e, ok := f.Prompt.at(); ok && e.Read != nil && key.Matches(msg, f.keys.Accept) {
		return e.Read(), true
	}
	return Page{}, false
}

// DrawPage draws the page, or the list of keys.
func (f *Front) DrawPage(at cells.Area) {
	if f.Mode == Helping {
		f.list.draw(at)
		return
	}
	f.Page.draw(at)
}

// Bindings are the keys there are while something is open.
func (f *Front) Bindings() []key.Binding {
	switch f.Mode {
	case Helping:
		return f.keys.Reading(false)
	case Paging:
		return f.keys.Reading(!f.Page.Explains)
	case Asking:
		p := f.Prompt
		return f.keys.Prompting(keys.Prompt{List: len(p.Entries) > 0, Long: len(p.Entries) > fewEntries, Pins: p.Pin != nil, Reaches: p.Reach != nil, Back: p.Back != nil, Help: p.Help != nil, Words: p.Words, Working: p.Working != nil})
	case Confirming:
		return f.keys.Confirming(f.question.Again)
	}
	return f.keys.Brief
}
