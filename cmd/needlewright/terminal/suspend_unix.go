//go:build unix

package terminal

import (
	"os"
	"os/signal"
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/sys/unix"
)

// CanSuspend says whether someone can wake us again: a parent in our session but
// in another process group. Without one nobody would, and the program would wait
// for good.
func CanSuspend() bool {
	parent := os.Getppid()
	session, err1 := unix.Getsid(0)
	parentSession, err2 := unix.Getsid(parent)
	parentGroup, err3 := unix.Getpgid(parent)
	return err1 == nil && err2 == nil && err3 == nil && session == parentSession && parentGroup != unix.Getpgrp()
}

// A suspender stops the program and lets it go on, the terminal restored in
// between. It stands in for Bubble Tea's own suspending, which sends SIGTSTP: once
// listened to, that signal does not stop a Go program any more. SIGSTOP does.
type suspender struct {
	program   *tea.Program
	suspended atomic.Bool
	awake     chan struct{} // holds one where someone woke us
}

// Messages of signals from outside.
type (
	stopMsg struct{} // the program is to stop
	wokeMsg struct{} // it was stopped, unasked, and goes on
)

func newSuspender() *suspender { return &suspender{awake: make(chan struct{}, 1)} }

// filter sees each message before Bubble Tea does.
func (s *suspender) filter(_ tea.Model, msg tea.Msg) tea.Msg {
	const ourGroup = 0
	switch msg.(type) {
	case tea.SuspendMsg: // as the terminal's own key for it would
		s.begin()
		s.lend(func() { _ = unix.Kill(ourGroup, unix.SIGSTOP) })
	case stopMsg: // begun already
		s.lend(func() { _ = unix.Kill(os.Getpid(), unix.SIGSTOP) })
	case wokeMsg:
		s.begin()
		s.lend(nil)
	default:
		return msg
	}
	return tea.ResumeMsg{}
}

// begin has what wakes us from now on end the suspension that follows.
func (s *suspender) begin() {
	select {
	case <-s.awake: // of another time
	default:
	}
	s.suspended.Store(true)
}

// lend restores the terminal, stops the program, and takes the terminal again
// when it goes on. Without a stop it puts the terminal right.
func (s *suspender) lend(stop func()) {
	defer s.suspended.Store(false)
	if s.program.ReleaseTerminal() != nil {
		return
	}
	if stop != nil {
		select {
		case <-s.awake: // already
		default:
			stop()
			<-s.awake
		}
	}
	_ = s.program.RestoreTerminal() // what fails here fails at the next write
}

// obey listens for the signals that stop the program and let it go on. The
// function it returns stops that.
func (s *suspender) obey(p *tea.Program) (stop func()) {
	s.program = p
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, unix.SIGTSTP, unix.SIGCONT)
	go func() {
		for sig := range signals {
			switch {
			case sig == unix.SIGTSTP:
				s.begin()
				go p.Send(stopMsg{})
			case s.suspended.Load():
				select {
				case s.awake <- struct{}{}:
				default:
				}
			default:
				go p.Send(wokeMsg{})
			}
		}
	}()
	return func() {
		signal.Stop(signals)
		close(signals)
	}
}
