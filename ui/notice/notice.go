// Package notice is what the dashboard says of itself.
package notice

import (
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// A Notice is what the dashboard says of itself, until the next key.
type Notice struct {
	Tone tone
	Text string
}

// A tone is how a notice is meant.
type tone uint8

// How a notice is meant.
const (
	Said   tone = iota
	Warned      // is to be heeded
	Failed      // went wrong
	Asked       // is a question: it stays until it is answered
)

// Say says a text in place of what was said.
func (n *Notice) Say(text string) { n.put(Said, text) }

// Warn says what is to be heeded.
func (n *Notice) Warn(text string) { n.put(Warned, text) }

// Fail says what went wrong.
func (n *Notice) Fail(text string) { n.put(Failed, text) }

// Ask puts a question, which stays whatever else is said, until Clear.
func (n *Notice) Ask(text string) { *n = Notice{Asked, text} }

// put puts a text in place of what was said.
func (n *Notice) put(meant tone, text string) {
	if n.Tone != Asked {
		*n = Notice{meant, text}
	}
}

// Clear says nothing any more.
func (n *Notice) Clear() { *n = Notice{} }

// toneStyles are how notices look.
var toneStyles = [...]cells.Style{Said: draw.Title, Warned: draw.Caution, Failed: draw.Fault, Asked: draw.Caution}

// Draw writes it, where there is one, and returns the room that it leaves for what else is
// to be known: none where an answer is waited for.
func (n *Notice) Draw(at cells.Area) (below cells.Area) {
	if n.Text == "" {
		return at
	}
	draw.Fit(at, toneStyles[n.Tone], n.Text, "")
	_, h := at.Size()
	if n.Tone == Asked {
		return at.Rows(h, 0)
	}
	rows := min(len(at.Lines(n.Text)), h)
	return at.Rows(rows, h-rows)
}
