package terminal

import (
	"os"
	"os/signal"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Listen listens for what ends the dashboard from outside: the terminal hangs up,
// or the program is told to end. The function it returns stops listening.
func Listen() (ends <-chan os.Signal, stop func()) {
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, syscall.SIGHUP, syscall.SIGTERM, os.Interrupt)
	return signals, func() { signal.Stop(signals) }
}

// Of a signal that ends the dashboard: how long the screen may take then, and
// how long all may take, what is worked out at the moment with it. After that
// the last copy of unsaved work is a second old.
const (
	screenTakes = 200 * time.Millisecond
	endTakes    = 4 * time.Second
)

// givenUp is the exit status of a program that does not end in time: as where it
// cannot run.
const givenUp = 2

// obey ends the dashboard, work kept and terminal restored, at a signal. The
// function it returns stops that.
func obey(ends <-chan os.Signal, p *tea.Program, t *terminal) (stop func()) {
	over := make(chan struct{})
	go func() {
		select {
		case <-over:
			return
		case <-ends:
		}
		go p.Quit()
		for _, step := range []struct {
			after time.Duration
			do    func()
		}{
			{screenTakes, t.hurry},
			{endTakes - screenTakes, func() { go func() { _ = p.ReleaseTerminal() }() }},
			{time.Second, func() { os.Exit(givenUp) }},
		} {
			select {
			case <-over:
				return
			case <-time.After(step.after):
				step.do()
			}
		}
	}()
	return func() { close(over) }
}
