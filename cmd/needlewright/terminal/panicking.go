//go:build panicking

package terminal

import (
	"io"
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"
)

// Built so, the program fails when a key says so: for the tests that work and
// terminal survive it. At F12 Update panics, at F11 it never returns, at F10 the
// next write to the terminal panics.
func init() {
	wrap = func(m tea.Model, out io.Writer) (tea.Model, io.Writer) {
		p := &panicking{Model: m, Writer: out}
		return p, p
	}
}

type panicking struct {
	tea.Model
	io.Writer
	write atomic.Bool
}

func (p *panicking) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, ok := msg.(tea.KeyMsg); ok {
		switch key.Type {
		case tea.KeyF12:
			panic("F12 was pressed in a program built to panic at it")
		case tea.KeyF11:
			select {}
		case tea.KeyF10:
			p.write.Store(true)
		}
	}
	_, cmd := p.Model.Update(msg) // the dashboard is one and the same
	return p, cmd
}

func (p *panicking) Write(b []byte) (int, error) {
	if p.write.Swap(false) {
		panic("F10 was pressed in a program built to panic at it")
	}
	return p.Writer.Write(b)
}
