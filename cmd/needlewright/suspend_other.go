//go:build !unix

package main

import tea "github.com/charmbracelet/bubbletea"

// canSuspend says whether someone can wake us again.
func canSuspend() bool { return false }

// A suspender does nothing where programs are not suspended.
type suspender struct{}

func newSuspender() *suspender { return &suspender{} }

func (*suspender) filter(_ tea.Model, msg tea.Msg) tea.Msg { return msg }

func (*suspender) obey(*tea.Program) (stop func()) { return func() {} }
