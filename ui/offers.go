package ui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
)

// offered is what is suggested for a row, and the change it makes there; nil
// where nothing is, and while the report is of an earlier text.
func (a *App) offered(r row) (*judge.Suggestion, model.Change) {
	if a.report == nil || a.stale() || r.cell >= 0 {
		return nil, model.Change{}
	}
	for i := range a.report.Better {
		s := &a.report.Better[i]
		if c, ok := s.At(r.field, r.index); ok {
			return s, c
		}
	}
	return nil, model.Change{}
}

// offerSign stands before what is offered beside a field.
const offerSign = "→"

// offerTexts are how an offer stands beside its field: in full, without the
// tolerance, or where that does not fit as the sign alone.
func offerTexts(c model.Change) (full, short string) {
	nominal, _, _ := strings.Cut(c.Text, " ±")
	return offerSign + " " + orElse(nominal, "none"), offerSign
}

// offerHelp says what is offered for a row, behind the key that takes it; "" where
// nothing is.
func (a *App) offerHelp(r row) string {
	s, _ := a.offered(r)
	if s == nil {
		return ""
	}
	return a.keys.Take.Help().Key + " " + offerSign + " " + s.Text + " " + a.keys.Choose.Help().Key + " shows others."
}

// advice is what to do about a finding that was gone to.
func (a *App) advice(f *judge.Finding) string {
	return signs[f.Severity] + " " + f.Severity.String() + ": " + f.Text + " " + f.Advice
}

// effect is what the changes of a finding bring about, the end of its advice.
func (a *App) effect(f *judge.Finding) string {
	return f.Advice[max(0, strings.LastIndex(f.Advice, a.doc.ChangesText(f.Changes))):]
}

// take takes over what is offered: for the finding whose advice is in view, or
// for the focused field.
func (a *App) take() tea.Cmd {
	a.adviseNow()
	advised := a.advising
	a.advising = nil
	return a.takeOffer(advised)
}

// takeOffer takes over what a finding that was gone to asks for; where there is
// none, or nothing mends it, what is suggested for the focused field; then what
// reduces the error that is chosen.
func (a *App) takeOffer(advised *judge.Finding) tea.Cmd {
	if advised != nil && len(advised.Changes) > 0 {
		return a.makeChanges(advised.Changes, a.effect(advised))
	}
	if s, _ := a.offered(a.focused()); s != nil {
		return a.makeChanges(s.Changes, s.Text)
	}
	if row := a.mends(); row != nil {
		return a.takeBlame(row)
	}
	a.notice = notice{said, a.nothingOffered()}
	return nil
}

// nothingOffered says why, and for what something is.
func (a *App) nothingOffered() string {
	if a.stale() {
		return "Nothing is offered until every value can be read: " + a.toMend() + "."
	}
	text := "Nothing is offered for " + strings.TrimSpace(a.focused().field.Label) + "."
	if len(a.report.Better) == 0 {
		return text
	}
	return text + " Something is, marked " + offerSign + ", for: " + strings.Join(a.titles(a.report.Better), ", ") + "."
}

// titles are what parts are called, each with whose it is where there are
// several.
func (a *App) titles(better []judge.Suggestion) []string {
	var titles []string
	for i := range better {
		title := strings.ToLower(better[i].Title())
		if better[i].About != "" && len(a.doc.Build.Hands)+len(a.doc.Build.Lamps) > 2 {
			title += " of " + better[i].About
		}
		if !slices.Contains(titles, title) {
			titles = append(titles, title)
		}
	}
	return titles
}

// makeChanges makes changes as one step of undo, and says to what effect.
func (a *App) makeChanges(changes []model.Change, effect string) tea.Cmd {
	r := a.focused()
	a.leave()
	cmd := a.replace(a.doc.Make(changes))
	a.refocus(r)
	a.enter()
	a.notice = notice{said, "Taken over: " + effect}
	return cmd
}

// mostRounds is after how many suggestions taking all of them ends.
const mostRounds = 20

// takeAll takes over what is suggested, again and again until nothing is, as one
// step of undo.
func (a *App) takeAll() tea.Cmd {
	a.adviseNow()
	switch {
	case a.stale():
		a.notice = notice{said, a.nothingOffered()}
		return nil
	case len(a.report.Better) == 0:
		a.notice = notice{said, "Nothing is offered: " + left(a.report) + "."}
		return nil
	}
	d, latest := a.doc, a.report
	var taken []judge.Suggestion
	for seen := []string{d.Text}; len(taken) < mostRounds && len(latest.Better) > 0; {
		next := d.Make(latest.Better[0].Changes)
		r := report.Of(next)
		if r == nil || slices.Contains(seen, next.Text) {
			break
		}
		taken, seen = append(taken, latest.Better[0]), append(seen, next.Text)
		d, latest = next, r.Advised()
	}
	r := a.focused()
	cmd := a.replace(d)
	a.refocus(r)
	a.enter()
	a.notice = notice{said, fmt.Sprintf("%d taken over; %s. Changed: %s.", len(taken), left(latest), strings.Join(a.titles(taken), ", "))}
	return cmd
}

// left says how many findings there are: "2 cautions and 1 note are left".
func left(r *report.Report) string {
	counts := map[judge.Severity]int{}
	for _, f := range r.Findings {
		counts[f.Severity]++
	}
	var parts []string
	for _, s := range []judge.Severity{judge.Fault, judge.Warning, judge.Note} {
		switch n := counts[s]; {
		case n == 1:
			parts = append(parts, "1 "+s.String())
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", n, s))
		}
	}
	switch {
	case len(parts) == 0:
		return "nothing is left to remark"
	case len(r.Findings) == 1:
		return parts[0] + " is left"
	}
	last := len(parts) - 1
	return strings.TrimPrefix(strings.Join(parts[:last], ", ")+" and "+parts[last], " and ") + " are left"
}

// choosePart lists what may be chosen for the focused field and the parts that go
// with it, the best first, each with its effect.
func (a *App) choosePart() tea.Cmd {
	r := a.focused()
	label := strings.TrimSpace(r.field.Label)
	if a.stale() {
		a.notice = notice{said, "There is nothing to choose from until every value can be read: " + a.toMend() + "."}
		return nil
	}
	title, options := a.report.Options(r.field, r.index)
	if len(options) == 0 {
		a.notice = notice{said, label + " has no list to choose from. Resistors, trimmers, capacitors, counts, cells and the converter have one."}
		return nil
	}
	hint := "The best first; what it has is not among them."
	entries := make([]entry, len(options))
	for i, o := range options {
		entries[i] = a.optionEntry(o)
		if len(o.Changes) == 0 {
			hint = "The best first; what it has is marked •."
		}
	}
	return a.ask(&prompt{title: title, hint: hint, entries: entries, fixed: true}, "")
}

// optionEntry is a choice as a line of a prompt.
func (a *App) optionEntry(o judge.Option) entry {
	choice, effect, _ := strings.Cut(o.Text, ": ")
	if len(o.Changes) == 0 {
		return entry{text: choice, effect: effect, more: "• As it is: " + choice + ": " + effect + ".", mark: "• ", do: func(a *App) tea.Cmd {
			a.notice = notice{said, "It stays as it is: " + choice + "."}
			return nil
		}}
	}
	text := a.doc.ChangesText(o.Changes) + ": " + effect + "."
	return entry{text: choice, effect: effect, more: text, mark: "  ", do: func(a *App) tea.Cmd { return a.makeChanges(o.Changes, text) }}
}
