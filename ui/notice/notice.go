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
	said tone = iota
	warned
	Failed
)

// Say says a text in place of what was said.
func (n *Notice) Say(text string) { *n = Notice{said, text} }

// Warn says what is to be heeded.
func (n *Notice) Warn(text string) { *n = Notice{warned, text} }

// Fail says what went wrong.
func (n *Notice) Fail(text string) { *n = Notice{Failed, text} }

// Clear says nothing any more.
func (n *Notice) Clear() { *n = Notice{} }

// toneStyles are how notices look.
var toneStyles = [...]cells.Style{said: draw.Title, warned: draw.Caution, Failed: draw.Fault}

// Draw writes it, where there is one.
func (n *Notice) Draw(at cells.Area) bool {
	if n.Text != "" {
		draw.Fit(at, toneStyles[n.Tone], n.Text, "")
	}
	return n.Text != ""
}
