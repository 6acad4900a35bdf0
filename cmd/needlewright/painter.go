package main

import (
	"os"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// A painter puts each frame on the terminal as soon as it is made, only the rows
// that have changed. Bubble Tea itself does so at the ticks of a clock: at 120 a
// second that clock takes a hundredth of a processor while nobody types, and
// half a tick of everybody's time at each key. It keeps the rest of its work,
// modes and raw input and suspending; its clock ticks once a second, and what it
// would draw is dropped by the output it is given.
type painter struct {
	tea.Model
	terminal *os.File
	rows     []string // as they stand on the terminal
	buffer   []byte
}

// idleTicks are the ticks of Bubble Tea's clock a second, the fewest it takes.
const idleTicks = 1

// Update takes one message. A new size, or a terminal given back, has to be
// painted whole.
func (p *painter) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg.(type) {
	case tea.WindowSizeMsg, tea.ResumeMsg:
		p.rows = nil
	}
	_, cmd := p.Model.Update(msg)
	return p, cmd
}

// View paints the frame and gives Bubble Tea none.
func (p *painter) View() string {
	rows := strings.Split(p.Model.View(), "\n")
	p.buffer = p.buffer[:0]
	if len(p.rows) != len(rows) {
		p.rows = make([]string, len(rows))
		p.buffer = append(p.buffer, "\x1b[2J"...) // erase all
	}
	for y, row := range rows {
		if row == p.rows[y] {
			continue
		}
		p.buffer = append(p.buffer, "\x1b["...) // to the row's first column
		p.buffer = strconv.AppendInt(p.buffer, int64(y+1), 10)
		p.buffer = append(append(p.buffer, ";1H"...), row...)
	}
	copy(p.rows, rows)
	if len(p.buffer) > 0 {
		_, _ = p.terminal.Write(p.buffer) // a terminal that is gone says so by a signal
	}
	return ""
}

// modesOnly is the output Bubble Tea gets: what switches modes, which it writes
// as strings, passes; frames, which it writes as bytes, do not.
type modesOnly struct{ *os.File }

func (modesOnly) Write(b []byte) (int, error) { return len(b), nil }
