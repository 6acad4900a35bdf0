package ui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
)

// A wrong is how wrong a hand reads, some time after its clock was set.
type wrong struct {
	of     wrongOf
	budget judge.Budget
	day    circuit.Plot
}

// wrongOf is what that depends on; a build in a report never changes.
type wrongOf struct {
	build   *model.Build
	hand    int
	horizon judge.Horizon
}

// A wrongMsg brings it.
type wrongMsg struct{ wrong }

// judge works it out.
func (k wrongOf) judge(r *report.Report) wrong {
	return wrong{k, r.Budget(k.hand, k.horizon), r.DayCurve(k.hand)}
}

// wanted is of what it is asked for: ok is false where it is not in view.
func (a *App) wanted() (k wrongOf, ok bool) {
	hand := a.reportHand()
	if hand < 0 || a.plot != budgetView && a.plot != dayView {
		return wrongOf{}, false
	}
	return wrongOf{a.report.Build, hand, a.horizon}, true
}

// seekWrong has it worked out beside the keys; nil where it is not asked for, known,
// or being worked out.
func (a *App) seekWrong() tea.Cmd {
	k, ok := a.wanted()
	if !ok || k == a.wrong.of || k == a.wrongSought {
		return nil
	}
	a.wrongSought = k
	r := a.report
	return func() tea.Msg { return wrongMsg{k.judge(r)} }
}

// judgeNow waits for it, for what cannot do without.
func (a *App) judgeNow() {
	if k, ok := a.wanted(); ok && k != a.wrong.of {
		a.wrong = k.judge(a.report)
	}
}

// judged takes what was asked for last.
func (a *App) judged(msg wrongMsg) {
	if msg.of == a.wrongSought {
		a.wrong = msg.wrong
	}
}

// known says whether what is in view is of the present build. What was, of the same
// hand, stays until that comes.
func (a *App) known() (present, any bool) {
	k, ok := a.wanted()
	of := a.wrong.of
	return ok && k == of, ok && of.build != nil && of.hand == k.hand && of.horizon == k.horizon
}

// errorBudget shows the error budget, and where it is in view another time since
// the clock was set.
func (a *App) errorBudget() tea.Cmd {
	if a.reportHand() < 0 {
		a.notice = notice{said, "There is no error budget yet: mend what is marked first."}
		return nil
	}
	if a.plot == budgetView {
		a.horizon = (a.horizon + 1) % (judge.AfterCells + 1)
	}
	a.plot = budgetView
	return nil
}

// blamed are the rows of the budget that have a line of their own; the others are
// traces.
func (a *App) blamed() []judge.BudgetRow {
	rows := a.wrong.budget.Rows
	for i, row := range rows {
		if row.Share < leastShare {
			return rows[:max(i, 1)]
		}
	}
	return rows
}

// chosenBlame is the row of the budget that is chosen; nil where there is none.
func (a *App) chosenBlame() *judge.BudgetRow {
	rows := a.blamed()
	if len(rows) == 0 {
		return nil
	}
	return &rows[min(a.blame, len(rows)-1)]
}

// mends is the chosen row of a budget in view that has changes which F3 takes over;
// nil where there is none, or what is offered for the field goes before.
func (a *App) mends() *judge.BudgetRow {
	if present, _ := a.known(); !present || a.stale() || a.plot != budgetView {
		return nil
	}
	if s, _ := a.offered(a.focused()); s != nil {
		return nil
	}
	if row := a.chosenBlame(); row != nil && len(row.Changes) > 0 {
		return row
	}
	return nil
}

// takeBlame takes over what reduces the chosen row of the budget.
func (a *App) takeBlame(row *judge.BudgetRow) tea.Cmd {
	a.blame = 0
	changes := a.doc.ChangesText(row.Changes)
	return a.makeChanges(row.Changes, row.Advice[max(0, strings.LastIndex(row.Advice, changes)):])
}

// drawBudget draws who makes a hand read wrong, in minutes of its dial: the largest
// first, and what would reduce the one that is chosen.
func (a *App) drawBudget(at cells.Area) {
	present, any := a.known()
	if !any {
		at.Text(0, 0, heading, "Error budget")
		at.Wrap(1, dim, "It is being worked out.")
		return
	}
	labelStyle, valueStyle := label, value
	if !present || a.stale() {
		labelStyle, valueStyle = dim, dim
	}
	w, h := at.Size()
	b := &a.wrong.budget
	head := "Error budget, " + b.Horizon.Since()
	y := at.Wrap(0, heading, head)
	if len(b.Rows) == 0 {
		at.Text(1, y, labelStyle, "Nothing is to blame.")
		return
	}
	y += at.Sub(1, y, w-1, h-y).Wrap(0, valueStyle, "likely "+quantity.DialTime(b.RSS)+", at worst "+quantity.DialTime(b.Worst))
	advice, tail := a.blameAdvice()
	_, rest := at.SplitTop(y)
	needs := min(len(cells.Lines(advice+" "+tail, w-1)), max(1, (h-y)/2))
	a.drawBlamed(rest.Rows(0, h-y-needs), labelStyle)
	fit(at.Sub(1, h-needs, w-1, needs), valueStyle, advice, tail)
}

// blameAdvice is what is said of the chosen row, and what key does it.
func (a *App) blameAdvice() (text, tail string) {
	row := a.chosenBlame()
	text = strings.ToUpper(row.Label[:1]) + row.Label[1:] + ": " + row.Advice
	switch {
	case a.mends() != nil:
		tail = "(" + a.keys.Take.Help().Key + "\u00a0does\u00a0it)" // in one line
	case len(row.Changes) == 0:
		text += " Without it: likely " + quantity.DialTime(a.wrong.budget.RSS-row.Gain) + "."
	}
	return text, tail
}

// drawBlamed draws the rows of the budget as bars, the chosen one among them.
func (a *App) drawBlamed(at cells.Area, style cells.Style) {
	w, h := at.Size()
	rows := a.blamed()
	chosen := min(a.blame, len(rows)-1)
	start := max(0, min(chosen-h/2, len(rows)-h))
	var bars []bar
	for _, row := range rows[start:] {
		bars = append(bars, bar{row.Label, row.Amount, quantity.DialTime(row.Amount)})
	}
	drawBars(at, bars, style)
	at.Text(0, chosen-start, needle, "▸")
	below := at.Sub(1, len(bars), w-1, h-len(bars))
	below.Wrap(below.Wrap(0, dim, a.traces()), dim, a.budgetKeys())
}

// budgetKeys says what goes on from here.
func (a *App) budgetKeys() string {
	k := &a.keys
	return k.ResultsUp.Help().Key + ", " + k.ResultsDown.Help().Key + " choose; " + k.Budget.Help().Key + ": longer after it was set."
}

// traces names what is hardly to blame, and what the build does not say enough of.
func (a *App) traces() string {
	b := &a.wrong.budget
	var names []string
	for _, row := range b.Rows[len(a.blamed()):] {
		names = append(names, row.Label)
	}
	text := ""
	if names != nil {
		text = "Hardly: " + strings.Join(names, ", ") + "."
	}
	if len(b.Unknown) > 0 {
		text += " Not known: " + strings.Join(b.Unknown, ", ") + "."
	}
	return strings.TrimSpace(text)
}

// drawDay draws how wrong a hand reads over its day.
func (a *App) drawDay(at cells.Area) {
	if _, any := a.known(); !any {
		at.Text(0, 0, heading, "Error over the day")
		at.Wrap(1, dim, "It is being worked out.")
		return
	}
	drawPlot(at, a.wrong.day)
}
