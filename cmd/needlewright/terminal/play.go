// Package terminal has a Bubble Tea program on the terminal: keys come whole,
// frames go out at once, and whatever ends or stops the program, unsaved work is
// kept and the terminal is left as it was.
package terminal

import (
	"cmp"
	"io"
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

// wrap lets a test stand between the program, the dashboard and the terminal.
var wrap = func(m tea.Model, out io.Writer) (tea.Model, io.Writer) { return m, out }

// Play has a program on the terminal until it is left, or told to end by one of
// ends; with the mouse, or without it. Rescue keeps unsaved work: it is called
// when the program panics, and when it has ended, sooner than the terminal is
// asked to take the rest.
func Play(program tea.Model, rescue func(), mouse bool, ends <-chan os.Signal) error {
	m, out := wrap(program, os.Stdout)
	t := newTerminal(os.Stdout, out)
	s := newSuspender()
	options := []tea.ProgramOption{
		tea.WithAltScreen(), tea.WithInput(input()), tea.WithoutSignalHandler(),
		tea.WithOutput(t), tea.WithFPS(idleTicks), tea.WithFilter(s.filter),
	}
	if mouse {
		options = append(options, tea.WithMouseCellMotion())
	}
	p := tea.NewProgram(&painter{m, t, rescue}, options...)
	t.failed = p.Kill
	defer obey(ends, p, t)()
	defer s.obey(p)()
	_, err := p.Run()
	rescue()
	t.drain()
	return cmp.Or(t.failure(), err)
}
