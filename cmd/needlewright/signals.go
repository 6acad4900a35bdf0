package main

import (
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// quitOnSignal ends the dashboard, terminal restored, when the terminal hangs up
// or the program is told to end. The function it returns stops listening.
func quitOnSignal(p *tea.Program) (stop func()) {
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, syscall.SIGHUP, syscall.SIGTERM, os.Interrupt)
	go func() {
		if _, ok := <-signals; ok {
			p.Quit()
		}
	}()
	return func() {
		signal.Stop(signals)
		close(signals)
	}
}
