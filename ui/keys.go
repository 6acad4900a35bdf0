package ui

import "github.com/charmbracelet/bubbles/key"

// A keyMap is every key of the dashboard; the help is made from it.
type keyMap struct {
	Up, Down, NextPane, PreviousPane, NextHand key.Binding
	ChoiceBack, ChoiceOn                       key.Binding
	MinuteBack, MinuteOn, FiveBack, FiveOn     key.Binding
	HourBack, HourOn                           key.Binding
	ResultsUp, ResultsDown, Revert, Undo, Redo key.Binding
	Save, Help, Quit                           key.Binding
}

func bind(help, does string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(help, does))
}

func newKeyMap() keyMap {
	return keyMap{
		Up:           bind("↑", "field above", "up"),
		Down:         bind("↓ enter", "field below", "down", "enter"),
		NextPane:     bind("tab", "next form", "tab"),
		PreviousPane: bind("shift+tab", "form before", "shift+tab"),
		NextHand:     bind("ctrl+n", "next hand", "ctrl+n"),
		ChoiceBack:   bind("←", "choice before", "left"),
		ChoiceOn:     bind("→ space", "next choice", "right", " "),
		MinuteBack:   bind("shift+←", "a minute back", "shift+left"),
		MinuteOn:     bind("shift+→", "a minute on", "shift+right"),
		FiveBack:     bind("alt+←", "5 minutes back", "alt+left", "f7"),
		FiveOn:       bind("alt+→", "5 minutes on", "alt+right", "f8"),
		HourBack:     bind("shift+↓", "an hour back", "shift+down"),
		HourOn:       bind("shift+↑", "an hour on", "shift+up"),
		ResultsUp:    bind("page up", "results up", "pgup"),
		ResultsDown:  bind("page down", "results down", "pgdown"),
		Revert:       bind("esc", "field as it was", "esc"),
		Undo:         bind("ctrl+z", "undo", "ctrl+z"),
		Redo:         bind("ctrl+y", "redo", "ctrl+y"),
		Save:         bind("ctrl+s", "save", "ctrl+s"),
		Help:         bind("F1", "all keys", "f1"),
		Quit:         bind("ctrl+q", "quit", "ctrl+q", "ctrl+c"),
	}
}

// all is every binding, in the order of the help.
func (k *keyMap) all() []key.Binding {
	return []key.Binding{
		k.Up, k.Down, k.NextPane, k.PreviousPane, k.NextHand, k.ChoiceBack, k.ChoiceOn,
		k.MinuteBack, k.MinuteOn, k.FiveBack, k.FiveOn, k.HourBack, k.HourOn,
		k.ResultsUp, k.ResultsDown, k.Revert, k.Undo, k.Redo, k.Save, k.Help, k.Quit,
	}
}

// brief is what the bottom line shows; the first stand longest when it is short
// of room.
func (k *keyMap) brief() []key.Binding {
	return []key.Binding{
		bind("↑↓", "field"), bind("tab", "form"), k.Help, k.Quit, k.Save,
		bind("shift+←→↑↓", "time"), k.Undo,
	}
}
