package main

import (
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// listen listens for what ends the dashboard from outside: the terminal hangs up,
// or the program is told to end. The function it returns stops listening.
func listen() (ends <-chan os.Signal, stop func()) {
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, syscall.SIGHUP, syscall.SIGTERM, os.Interrupt)
	return signals, func() { signal.Stop(signals) }
}

// unlessEnded does what may take long, before there is a dashboard. Told to end,
// it does not wait for it.
func unlessEnded(ends <-chan os.Signal, do func() error) error {
	done := make(chan error, 1)
	go func() { done <- do() }()
	select {
	case err := <-done:
		return err
	case s := <-ends:
		return &failure{fmt.Errorf("ended before the build was read: %v", s), "no file was changed"}
	}
}

// Of a signal that ends the dashboard: how long the screen may take then, and
// how long all may take, what is worked out at the moment with it. After that
// the last copy of unsaved work is a second old.
const (
	screenTakes = 200 * time.Millisecond
	endTakes    = 4 * time.Second
)

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
			{time.Second, func() { os.Exit(cannotRun) }},
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
