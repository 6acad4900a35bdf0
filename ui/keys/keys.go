// Package keys is every key of the dashboard, with what it does in a word or two.
package keys

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
)

// A Map is every key of the dashboard; the help and the README's table are
// made from it.
type Map struct {
	Fields
	Line
	Advice
	Time
	Views
	Survey
	Program

	Accept, Pin, Reach key.Binding // of a prompt
	Lose               key.Binding // of a question: the work that is not saved is lost

	Bench []key.Binding // what the bottom line shows at the bench
	Scale []key.Binding // and where a scale is measured
	Brief []key.Binding // what the bottom line shows; the first stand longest when it is short of room
}

// The keys by what they do.
type (
	// Fields go through panes and fields, and change what is in them.
	Fields struct {
		Up, Down, NextPane, PreviousPane, NextHand   key.Binding
		ChoiceBack, ChoiceOn, StepUp, StepDown, Jump key.Binding
		Revert, Undo, Redo                           key.Binding
	}
	// Line go through the text of a field or a prompt, and delete from it. Some have
	// a second key, for keyboards and terminals that lack the first.
	Line struct {
		Left, Right, WordLeft, WordRight, Start, End key.Binding
		DeleteLeft, DeleteRight, DeleteWord          key.Binding
		DeleteWordRight, DeleteRest, Empty           key.Binding
	}
	// Advice lead to what is wrong or offered, and into results.
	Advice struct {
		Finding, Take, Choose, Cautions, Look key.Binding
		Kits, Mended                          key.Binding
	}
	// Time move the time of day on the dial.
	Time struct {
		MinuteBack, MinuteOn, FiveBack, FiveOn, HourBack key.Binding
		HourOn, Follow, FastDay                          key.Binding
	}
	// Views choose what stands beside the form.
	Views struct {
		Plot, Budget, Differ, Leave, Large key.Binding
		ResultsUp, ResultsDown             key.Binding
	}
	// Survey finds out what an unknown meter is.
	Survey struct {
		Unknown, AnswerBefore, Skip key.Binding
	}
	// Program are of files and of the program.
	Program struct {
		Open, Save, Menu, Help, Quit key.Binding
		Suspend                      key.Binding
	}
)

func bind(help, does string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(help, does))
}

// First is what the first key of a binding is called.
func First(b key.Binding) string {
	name, _, _ := strings.Cut(b.Help().Key, " ")
	return name
}

// New returns all keys.
func New() *Map {
	k := Map{
		Fields: Fields{
			Up:           bind("↑", "field above", "up"),
			Down:         bind("↓ enter", "field below", "down", "enter"),
			NextPane:     bind("tab", "next form", "tab"),
			PreviousPane: bind("shift+tab", "form before", "shift+tab"),
			NextHand:     bind("ctrl+n", "next hand", "ctrl+n"),
			ChoiceBack:   bind("←", "choice before", "left"),
			ChoiceOn:     bind("→ space", "next choice", "right", " "),
			StepUp:       bind("alt+↑", "value up", "alt+up", "ctrl+up"),
			StepDown:     bind("alt+↓", "value down", "alt+down", "ctrl+down"),
			Jump:         bind("ctrl+f", "search all", "ctrl+f"),
			Revert:       bind("esc", "former value", "esc"),
			Undo:         bind("ctrl+z", "undo", "ctrl+z"),
			Redo:         bind("ctrl+y", "redo", "ctrl+y"),
		},
		Line: Line{
			Left:            bind("←", "letter back", "left"),
			Right:           bind("→", "letter on", "right"),
			WordLeft:        bind("ctrl+←", "word back", "ctrl+left", "alt+b"),
			WordRight:       bind("ctrl+→", "word on", "ctrl+right", "alt+f"),
			Start:           bind("home", "to the start", "home", "ctrl+a"),
			End:             bind("end", "to the end", "end", "ctrl+e"),
			DeleteLeft:      bind("backspace", "delete back", "backspace", "ctrl+h"),
			DeleteRight:     bind("delete", "delete on", "delete"),
			DeleteWord:      bind("ctrl+w", "delete word", "ctrl+w", "alt+backspace"),
			DeleteWordRight: bind("alt+d", "delete word on", "alt+d", "alt+delete"),
			DeleteRest:      bind("ctrl+k", "delete rest", "ctrl+k"),
			Empty:           bind("ctrl+u", "empty it", "ctrl+u"),
		},
		Advice: Advice{
			Finding:  bind("ctrl+g", "next finding", "ctrl+g"),
			Take:     bind("F3", "take the offer", "f3"),
			Choose:   bind("F4", "choose a part", "f4"),
			Cautions: bind("F5", "help and words", "f5"),
			Look:     bind("F6", "look, working", "f6"),
			Kits:     bind("F9", "make many kits", "f9"),
			Mended:   bind("ctrl+x", "it is mended", "ctrl+x"),
		},
		Time: Time{
			MinuteBack: bind("shift+←", "a minute back", "shift+left"),
			MinuteOn:   bind("shift+→", "a minute on", "shift+right"),
			FiveBack:   bind("alt+← F7", "5 minutes back", "alt+left", "f7"),
			FiveOn:     bind("alt+→ F8", "5 minutes on", "alt+right", "f8"),
			HourBack:   bind("shift+↓", "an hour back", "shift+down"),
			HourOn:     bind("shift+↑", "an hour on", "shift+up"),
			Follow:     bind("ctrl+t", "follow clock", "ctrl+t"),
			FastDay:    bind("ctrl+d", "a fast day", "ctrl+d"),
		},
		Views: Views{
			Plot:        bind("ctrl+p", "next plot", "ctrl+p"),
			Budget:      bind("ctrl+r", "error budget", "ctrl+r"),
			Differ:      bind("alt+c F12", "what differs", "alt+c", "f12"),
			Leave:       bind("esc", "leave the view", "esc"),
			Large:       bind("ctrl+l", "one dial / all", "ctrl+l"),
			ResultsUp:   bind("page up", "results up", "pgup"),
			ResultsDown: bind("page down", "results down", "pgdown"),
		},
		Survey: Survey{
			Unknown:      bind("alt+s F10", "survey a meter", "alt+s", "f10"),
			AnswerBefore: bind("shift+tab", "answer before", "shift+tab"),
			Skip:         bind("tab", "skip question", "tab"),
		},
		Program: Program{
			Open:    bind("ctrl+o", "open a build", "ctrl+o"),
			Save:    bind("ctrl+s", "save", "ctrl+s"),
			Menu:    bind("F2", "menu", "f2"),
			Help:    bind("F1", "all keys", "f1"),
			Quit:    bind("ctrl+q", "quit", "ctrl+q", "ctrl+c"),
			Suspend: bind("alt+z", "suspend", "alt+z"),
		},
		Accept: bind("enter", "take it", "enter"),
		Pin:    bind("F3", "pin a result", "f3"),
		Reach:  bind("F4", "reach", "f4"),
		Lose:   bind("delete", "lose it", "delete"), // no key that is pressed twice by a nervous hand
	}
	k.Brief = []key.Binding{
		bind("↑↓", "field"), bind("tab", "form"), bind("F1", "keys"), k.Menu, k.Quit, k.Save,
		bind("ctrl+g", "finding"), bind("alt+↑↓", "step"), bind("shift+←→↑↓", "time"),
	}
	k.Bench = []key.Binding{
		bind("↑↓", "point"), bind("ctrl+g", "next"), bind("F6", "causes"), k.Menu, k.Quit,
		bind("F3", "to plan"), bind("ctrl+x", "mended"), k.Save, bind("tab", "form"), bind("F1", "keys"), bind("F5", "words"),
	}
	k.Scale = []key.Binding{
		bind("↑↓", "place"), bind("ctrl+g", "next"), bind("F3", "straighten"), k.Menu, k.Quit,
		bind("alt+↑↓", "came from"), bind("F4", "code"), k.Save, bind("tab", "form"), bind("F1", "keys"), bind("F5", "words"),
	}
	return &k
}

// Viewing is what it shows while a view stands in place of the results.
func (k *Map) Viewing() []key.Binding {
	return append([]key.Binding{bind("↑↓", "field"), bind(k.Leave.Help().Key, "needle"), bind("F1", "keys"), k.Menu, k.Quit, bind("tab", "form")}, k.Brief[5:]...)
}

// Moves are the keys that go through a line.
func (k *Line) Moves() []key.Binding {
	return []key.Binding{k.Left, k.Right, k.WordLeft, k.WordRight, k.Start, k.End}
}

// Deletes are the keys that delete from a line.
func (k *Line) Deletes() []key.Binding {
	return []key.Binding{k.DeleteLeft, k.DeleteRight, k.DeleteWord, k.DeleteWordRight, k.DeleteRest, k.Empty}
}

// A Prompt says of one what it has besides its line: a list, something to pin in it or to be
// reached, a question that it goes back to, help, words to be explained, and workings.
type Prompt struct {
	List, Long, Pins, Reaches, Back, Help, Words, Working bool
}

// Prompting is what the bottom line shows while such a prompt is open.
func (k *Map) Prompting(p Prompt) []key.Binding {
	shown := []key.Binding{k.Accept}
	if p.List {
		shown = append(shown, bind("↑↓", "choose"))
	}
	if p.Working {
		shown = append(shown, bind(k.Look.Help().Key, "working"))
	}
	if p.Words {
		shown = append(shown, bind(k.Cautions.Help().Key, "words"))
	}
	if p.Pins {
		shown = append(shown, bind(k.Pin.Help().Key, "pin"))
	}
	if p.Reaches {
		shown = append(shown, k.Reach)
	}
	if p.Back {
		shown = append(shown, bind("esc", "back"))
	} else {
		shown = append(shown, bind("esc", "leave"))
	}
	if p.Help {
		shown = append(shown, bind(k.Cautions.Help().Key, "how, dangers"), bind(k.Help.Help().Key, "keys"))
	}
	if shown = append(shown, k.Quit); p.Long && !p.Help {
		shown = append(shown, bind("page up, page down", "page"))
	}
	return shown
}

// Surveying is what it shows while the survey asks, or has nothing more to ask.
func (k *Map) Surveying(asks bool) []key.Binding {
	shown := []key.Binding{bind("enter", "take it")}
	if back := bind(k.AnswerBefore.Help().Key, "back"); asks {
		shown = append(shown, back, bind(k.Skip.Help().Key, "skip"))
	} else {
		shown = append(shown, back)
	}
	return append(shown, bind("esc", "leave"), bind("↑↓", "choose"), bind(k.Cautions.Help().Key, "more"), bind(k.Help.Help().Key, "keys"), k.Quit)
}

// Walking is what it shows while a page of the walk is open: where an answer is chosen, not
// typed, and where the survey leads further.
func (k *Map) Walking(chosen, survey bool) []key.Binding {
	shown := []key.Binding{bind("enter", "on"), bind(k.ResultsUp.Help().Key, "back")}
	if survey {
		shown = append(shown, bind(First(k.Unknown), "survey"))
	}
	if chosen {
		shown = append(shown, bind("←→", "choose"))
	}
	return append(shown, bind(k.Skip.Help().Key, "don't know"), bind(k.Cautions.Help().Key, "words"), bind("esc", "leave"), bind("↑↓", "question"),
		bind("F6", "working"), k.Save, bind(k.Help.Help().Key, "keys"), k.Quit)
}

// Ticking is what it shows while connections are ticked there, one after another.
func (k *Map) Ticking() []key.Binding {
	return []key.Binding{bind("enter", "joined and measured"), bind("↑↓", "another"), bind("backspace", "not yet"), bind("F6", "circuit"), bind("esc", "leave"),
		bind(k.ResultsUp.Help().Key, "back"), bind("y", "all are"), bind(k.Cautions.Help().Key, "words"), k.Save, bind(k.Help.Help().Key, "keys"), k.Quit}
}

// Reading is what it shows while a page or the list of keys is open, with words to be
// explained or without.
func (k *Map) Reading(words bool) []key.Binding {
	shown := []key.Binding{bind("↑↓", "line")}
	if words {
		shown = append(shown, bind(k.Cautions.Help().Key, "words"))
	}
	return append(shown, bind("any other key", "closes it"), k.Quit, bind("page up, page down", "page"))
}

// Confirming is what it shows while a question waits for its answer.
func (k *Map) Confirming(again key.Binding) []key.Binding {
	if again.Help() == k.Save.Help() {
		return []key.Binding{bind(again.Help().Key, "overwrites"), bind("any other key", "leaves it")}
	}
	return []key.Binding{bind(k.Save.Help().Key, "saves changes"), bind(again.Help().Key, "loses them"), bind("any other key", "stays")}
}
