package ui

import "example.com/needlewright/ui/cells"

// A notice is what the dashboard says of itself, until the next key.
type notice struct {
	tone tone
	text string
}

// A tone is how a notice is meant.
type tone uint8

const (
	said tone = iota
	warned
	failed
)

// say, warn and fail put a text in place of what was said, clear nothing.
func (n *notice) say(text string)  { *n = notice{said, text} }
func (n *notice) warn(text string) { *n = notice{warned, text} }
func (n *notice) fail(text string) { *n = notice{failed, text} }
func (n *notice) clear()           { *n = notice{} }

// toneStyles are how notices look.
var toneStyles = [...]cells.Style{said: title, warned: caution, failed: fault}

// draw writes it, where there is one.
func (n *notice) draw(at cells.Area) bool {
	if n.text != "" {
		fit(at, toneStyles[n.tone], n.text, "")
	}
	return n.text != ""
}
