// Package uitest is what the tests of several parts of the dashboard need.
package uitest

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// namedKeys are those that Key knows by their Bubble Tea names.
var namedKeys = map[string]tea.KeyMsg{
	"up": {Type: tea.KeyUp}, "down": {Type: tea.KeyDown}, "left": {Type: tea.KeyLeft}, "right": {Type: tea.KeyRight},
	"tab": {Type: tea.KeyTab}, "shift+tab": {Type: tea.KeyShiftTab}, "enter": {Type: tea.KeyEnter}, "esc": {Type: tea.KeyEsc},
	"backspace": {Type: tea.KeyBackspace}, "delete": {Type: tea.KeyDelete}, "home": {Type: tea.KeyHome}, "end": {Type: tea.KeyEnd},
	"shift+left": {Type: tea.KeyShiftLeft}, "shift+right": {Type: tea.KeyShiftRight},
	"shift+up": {Type: tea.KeyShiftUp}, "shift+down": {Type: tea.KeyShiftDown},
	"alt+left": {Type: tea.KeyLeft, Alt: true}, "alt+right": {Type: tea.KeyRight, Alt: true},
	"ctrl+u": {Type: tea.KeyCtrlU}, "ctrl+s": {Type: tea.KeyCtrlS}, "ctrl+q": {Type: tea.KeyCtrlQ}, "ctrl+n": {Type: tea.KeyCtrlN},
	"ctrl+f": {Type: tea.KeyCtrlF}, "ctrl+g": {Type: tea.KeyCtrlG}, "ctrl+o": {Type: tea.KeyCtrlO}, "ctrl+t": {Type: tea.KeyCtrlT},
	"ctrl+d": {Type: tea.KeyCtrlD}, "ctrl+p": {Type: tea.KeyCtrlP}, "ctrl+l": {Type: tea.KeyCtrlL}, "ctrl+r": {Type: tea.KeyCtrlR}, "f2": {Type: tea.KeyF2},
	"alt+c": {Type: tea.KeyRunes, Runes: []rune{'c'}, Alt: true},
	"alt+s": {Type: tea.KeyRunes, Runes: []rune{'s'}, Alt: true}, "alt+up": {Type: tea.KeyUp, Alt: true}, "alt+down": {Type: tea.KeyDown, Alt: true},
	"ctrl+z": {Type: tea.KeyCtrlZ}, "ctrl+y": {Type: tea.KeyCtrlY}, "f1": {Type: tea.KeyF1}, "f3": {Type: tea.KeyF3}, "f4": {Type: tea.KeyF4}, "f5": {Type: tea.KeyF5}, "f6": {Type: tea.KeyF6}, "f9": {Type: tea.KeyF9},
	"pgup": {Type: tea.KeyPgUp}, "pgdown": {Type: tea.KeyPgDown}, " ": {Type: tea.KeySpace, Runes: []rune{' '}},
}

// Key returns a key by its Bubble Tea name, and anything else as typed text.
func Key(k string) tea.KeyMsg {
	if msg, ok := namedKeys[k]; ok {
		return msg
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
}

// Pressed returns the key of a name as bindings have it.
func Pressed(name string) tea.KeyMsg {
	rest, alt := strings.CutPrefix(name, "alt+")
	if rest == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}, Alt: alt}
	}
	for k := tea.KeyType(-200); k <= 200; k++ { // all there are
		if k != tea.KeyRunes && k.String() == rest {
			return tea.KeyMsg{Type: k, Alt: alt}
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(rest), Alt: alt}
}

// Pasted returns a text from the clipboard.
func Pasted(text string) tea.KeyMsg {
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}
}
