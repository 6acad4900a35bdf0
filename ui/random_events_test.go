package ui

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/uitest"
)

// everyKey is every key that Bubble Tea knows, with and without alt.
var everyKey = func() []tea.KeyMsg {
	var keys []tea.KeyMsg
	for k := tea.KeyType(-200); k <= 200; k++ { // all there are
		if k == tea.KeyRunes || k.String() == "" {
			continue
		}
		msg := tea.KeyMsg{Type: k}
		if k == tea.KeySpace {
			msg.Runes = []rune{' '}
		}
		alt := msg
		alt.Alt = true
		keys = append(keys, msg, alt)
	}
	return keys
}()

// boundKeys are those that do something.
var boundKeys = allKeys()

// values are texts that fields and prompts make something of.
var values = []string{
	"5", "k", "m", "%", ":", "Ω", "min", "60 s", "\"", "\\", "640 Ω ±1 %", "500 uA", "5 V", "50 % : 47 %", "linear", "New build", "Add a hand", "Copy the",
	"Remove the", "Rename the", "Add a drain", "Add a button", "Remove the lamp", "Take all", "minutes", "noon", "Cautions", "Colours", "plain", "Mouse", "a/b.toml", "~/c",
	"The walk: this", "from nothing", "Starter file", "A class's", "Search all", "Look into", "Reach a", "Codes for", "Circuit, at", "Connections", "Parts list", "Papers", "What differs", "Keep this",
}

// odd are runes that are no text, or that are not one column each.
var odd = []rune("\x00\x07\t\n\r\x1b\x7f\u0085\u009b\u00ad\u0301\u200b\u200d\u200f\u2028\u202e\u2066\ufe0f\ufeff\ufffd\ufdd0\ue000日한각😀🇦👩क्षำ")

// step sends one random event. What advice takes its time is rare.
func (p *player) step() {
	if p.files.waiting && p.IntN(3) == 0 {
		p.answerFiles()
		return
	}
	switch n := p.IntN(1000); {
	case n < 330:
		p.send(uitest.Pressed(boundKeys[p.IntN(len(boundKeys))]))
	case n < 400:
		p.send(everyKey[p.IntN(len(everyKey))])
	case n < 600:
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{rune(' ' + 1 + p.IntN('~'-' '))}, Alt: p.IntN(20) == 0})
	case n < 650:
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(boundKeys[p.IntN(len(boundKeys))])}) // typed fast
	case n < 730:
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(values[p.IntN(len(values))]), Paste: p.IntN(2) == 0})
	case n < 790:
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: p.oddText(1 + p.IntN(5)), Paste: p.IntN(2) == 0})
	case n < 792:
		p.send(p.longPaste())
	case n < 900:
		p.send(p.mouseEvent())
	case n < 960:
		p.send(p.anySize())
	default:
		p.other()
	}
}

func (p *player) oddText(n int) []rune {
	text := make([]rune, n)
	for i := range text {
		switch p.IntN(4) {
		case 0:
			text[i] = rune(p.IntN(0x30000))
		case 1:
			text[i] = rune('a' + p.IntN(26))
		default:
			text[i] = odd[p.IntN(len(odd))]
		}
	}
	return text
}

// longPaste is one of up to a megabyte.
func (p *player) longPaste() tea.Msg {
	pieces := []string{"x", "5", "ab ", "日", "e\u0301", "\x1b[31m", "\u202e", "line\n", "👩‍👧"}
	piece := pieces[p.IntN(len(pieces))]
	most := []int{300, 16_000, megabyte}[p.IntN(3)]
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat(piece, 1+p.IntN(most/len(piece)))), Paste: p.IntN(4) > 0}
}

func (p *player) mouseEvent() tea.Msg {
	buttons := []tea.MouseButton{
		tea.MouseButtonLeft, tea.MouseButtonLeft, tea.MouseButtonWheelUp, tea.MouseButtonWheelDown, tea.MouseButtonRight, tea.MouseButtonNone, tea.MouseButtonWheelLeft,
	}
	actions := []tea.MouseAction{tea.MouseActionPress, tea.MouseActionPress, tea.MouseActionPress, tea.MouseActionRelease, tea.MouseActionMotion}
	return tea.MouseMsg{X: p.IntN(132) - 1, Y: p.IntN(47) - 1, Button: buttons[p.IntN(len(buttons))], Action: actions[p.IntN(len(actions))]}
}

// anySize is mostly one to work in, and sometimes none at all.
func (p *player) anySize() tea.Msg {
	switch p.IntN(6) {
	case 0:
		return windowSize(p.IntN(131), p.IntN(46))
	case 1:
		return windowSize(p.IntN(3), p.IntN(3))
	}
	return windowSize(layout.LeastWidth+p.IntN(71), layout.LeastHeight+p.IntN(26))
}

// other is what comes by itself.
func (p *player) other() {
	switch p.IntN(40) {
	case 0:
		p.log = append(p.log, "settle")
		settle(p.App)
		p.look()
	case 1:
		if making := p.kits.made.Running(); making != nil {
			p.send(making.Told(p.IntN(kitsMade)))
		}
	case 2:
		if making := p.kits.made.Running(); making != nil {
			p.send(making.Ended(p.yield, nil))
		}
	case 3:
		if making := p.kits.made.Running(); making != nil {
			p.send(making.Ended(nil, errors.New("no\x1b[2J kits")))
		}
	case 4:
		p.send(session.KeptMsg{Err: errors.New("no\x07 room")})
	case 5:
		p.send(session.KeptMsg{Changed: true})
	case 6:
		p.send(session.KeepMsg{})
	default:
		p.send(side.TickMsg{Round: p.side.Preview.Round, Now: time.Time{}})
	}
}
