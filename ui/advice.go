package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/report"
)

// An advisedMsg brings what would mend the findings of a report, which parts
// would be better, and the bands of the results.
type advisedMsg struct{ of, advised *report.Report }

// seekAdvice has that worked out beside the keys, which need not wait for it; nil
// where it is known or being worked out.
func (a *App) seekAdvice() tea.Cmd {
	of := a.report
	if of == nil || of == a.sought || whole(of) {
		return nil
	}
	a.sought = of
	return func() tea.Msg { return advisedMsg{of, of.Advised().Banded()} }
}

// whole says whether nothing is missing from a report.
func whole(r *report.Report) bool { return r.IsAdvised() && r.IsBanded() }

// adviseNow waits for it, for what cannot do without.
func (a *App) adviseNow() {
	if a.report != nil && !whole(a.report) {
		a.advised(advisedMsg{a.report, a.report.Advised().Banded()})
	}
}

// advised takes what was worked out on the report in view; that on an earlier one is too late.
func (a *App) advised(msg advisedMsg) {
	if msg.of != a.report {
		return
	}
	a.report = msg.advised
	if f := a.advising; f != nil { // the same finding, with what mends it
		for i := range a.report.Findings {
			if now := &a.report.Findings[i]; now.ID == f.ID && now.About == f.About && now.Text == f.Text {
				a.advising = now
			}
		}
	}
}
