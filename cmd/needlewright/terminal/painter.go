package terminal

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// A painter gives each frame to the terminal as soon as it is made. Bubble Tea
// itself does so at the ticks of a clock: at 120 a second that clock takes a
// hundredth of a processor while nobody types, and half a tick of everybody's
// time at each key. It keeps the rest of its work, modes and raw input; its clock
// ticks once a second, and what it would draw is dropped by the terminal.
type painter struct {
	tea.Model
	terminal *terminal
	rescue   func() // keeps unsaved work
}

// idleTicks are the ticks of Bubble Tea's clock a second, the fewest it takes.
const idleTicks = 1

// Update takes one message. In a new size all is painted.
func (p *painter) Update(msg tea.Msg) (_ tea.Model, cmd tea.Cmd) {
	if _, ok := msg.(tea.WindowSizeMsg); ok {
		p.terminal.repaint()
	}
	p.soundly(func() { _, cmd = p.Model.Update(msg) })
	return p, cmd
}

// View shows the frame and gives Bubble Tea none.
func (p *painter) View() string {
	p.soundly(func() { p.terminal.show(p.Model.View()) })
	return ""
}

// soundly does something. Should it panic, unsaved work is kept at once: what
// Bubble Tea has to say about it waits for the screen.
func (p *painter) soundly(do func()) {
	sound := false
	defer func() {
		if !sound {
			p.rescue()
		}
	}()
	do()
	sound = true
}

// A paper is what is to be written to the terminal, and what stands there.
type paper struct {
	bytes     []byte
	alternate bool     // the alternate screen is on; frames go nowhere else
	rows      []string // as they stand
}

// modes adds what switches modes. A screen just entered is empty.
func (p *paper) modes(switches string) {
	p.bytes = append(p.bytes, switches...)
	on := strings.LastIndex(switches, ansi.SetModeAltScreenSaveCursor)
	off := strings.LastIndex(switches, ansi.ResetModeAltScreenSaveCursor)
	if on >= 0 {
		p.rows = nil
	}
	if on != off {
		p.alternate = on > off
	}
}

// paint adds a frame, only the rows that have changed or the whole.
func (p *paper) paint(frame string, whole bool) {
	if !p.alternate {
		return
	}
	rows := strings.Split(frame, "\n")
	if whole || len(p.rows) != len(rows) {
		p.rows = make([]string, len(rows))
		p.bytes = append(p.bytes, ansi.EraseEntireScreen...)
	}
	for y, row := range rows {
		if row == p.rows[y] {
			continue
		}
		p.bytes = append(p.bytes, "\x1b["...) // to the row's first column
		p.bytes = strconv.AppendInt(p.bytes, int64(y+1), 10)
		p.bytes = append(append(p.bytes, ";1H"...), row...)
	}
	p.rows = rows
}

// take returns the bytes, which are good until more is added, and begins anew.
func (p *paper) take() []byte {
	b := p.bytes
	p.bytes = b[:0]
	return b
}
