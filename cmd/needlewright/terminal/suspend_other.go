//go:build !unix

package terminal

import tea "github.com/charmbracelet/bubbletea"

// CanSuspend says whether someone can wake us again.
func CanSuspend() bool { return false }

// A suspender does nothing where programs are not suspended.
type suspender struct{}

func newSuspender() *suspender { return &suspender{} }

func (*suspender) filter(_ tea.Model, msg tea.Msg) tea.Msg { return msg }

func (*suspender) obey(*tea.Program) (stop func()) { return func() {} }
