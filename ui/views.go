package ui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/jobs"
)

// views are what can stand in place of the results: the error budget, the error over
// the day, and the plots of the plan.
type views struct {
	s    *session
	say  *notice
	keys *keyMap

	at      int // the view that is open, 0: the results
	horizon judge.Horizon
	blame   int // the row of the budget that is chosen
	wrong   *jobs.Job[wrongOf, wrong]
}

// A wrong is how wrong a hand reads, some time after its clock was set.
type wrong struct {
	budget judge.Budget
	day    circuit.Plot
}

// wrongOf is what that depends on; a build in a report never changes.
type wrongOf struct {
	build   *model.Build
	hand    int
	horizon judge.Horizon
}

// The views that are worked out beside the keys; plots of the plan follow them.
const budgetView, dayView = 1, 2

// plots are the others, in their order.
var plots = []func(p *circuit.Plan, hand int) circuit.Plot{
	(*circuit.Plan).StepResponse,
	(*circuit.Plan).Wrap,
	(*circuit.Plan).RippleWave,
	func(p *circuit.Plan, _ int) circuit.Plot { return p.Discharge() },
}

func newViews(s *session, say *notice, keys *keyMap) *views {
	return &views{s: s, say: say, keys: keys, wrong: jobs.New[wrongOf](nil, func(_ wrong, err error) {
		if err != nil {
			say.fail("The error budget could not be worked out: " + err.Error() + ".")
		}
	})}
}

// next shows the next view that this build has in place of the results, and after the
// last the results again.
func (v *views) next() {
	for range dayView + len(plots) {
		v.at = (v.at + 1) % (dayView + len(plots) + 1)
		if v.at == 0 || v.has(v.at) {
			break
		}
	}
}

// has says whether there is something to draw for the hand in view.
func (v *views) has(at int) bool {
	hand := v.s.reportHand()
	return hand >= 0 && (at <= dayView || len(plots[at-dayView-1](&v.s.report.Plan, hand).Lines) > 0)
}

// errorBudget shows the error budget, and where it is in view another time since
// the clock was set.
func (v *views) errorBudget() {
	if v.s.reportHand() < 0 {
		v.say.say("There is no error budget yet: mend what is marked first.")
		return
	}
	if v.at == budgetView {
		v.horizon = (v.horizon + 1) % (judge.AfterCells + 1)
	}
	v.at = budgetView
}

// draw draws the view that is open. mends is the row of the budget that a key takes
// over.
func (v *views) draw(at cells.Area, mends *judge.BudgetRow) {
	hand := v.s.reportHand()
	switch {
	case hand < 0: // it is not complete yet
		at.Wrap(0, dim, nothingToDraw)
	case v.at == budgetView:
		v.drawBudget(at, mends)
	case v.at == dayView:
		v.drawDay(at)
	default:
		drawPlot(at, plots[v.at-dayView-1](&v.s.report.Plan, hand))
	}
}

// wanted is of what the budget and the day are asked for: ok is false where they are
// not in view.
func (v *views) wanted() (k wrongOf, ok bool) {
	hand := v.s.reportHand()
	if hand < 0 || v.at != budgetView && v.at != dayView {
		return wrongOf{}, false
	}
	return wrongOf{v.s.report.Build, hand, v.horizon}, true
}

// seek has them worked out beside the keys; nil where they are not asked for, known, or
// being worked out.
func (v *views) seek() tea.Cmd {
	k, ok := v.wanted()
	if !ok {
		return nil
	}
	return v.wrong.Seek(k, k.judgeBy(v.s.report))
}

// judgeNow waits for them, for what cannot do without.
func (v *views) judgeNow() {
	if k, ok := v.wanted(); ok {
		v.wrong.Now(k, k.judgeBy(v.s.report))
	}
}

// judgeBy works them out.
func (k wrongOf) judgeBy(r *report.Report) jobs.Work[wrong] {
	return func(context.Context, func(int)) (wrong, error) {
		return wrong{r.Budget(k.hand, k.horizon), r.DayCurve(k.hand)}, nil
	}
}

// known says whether what is in view is of the present build. What was, of the same
// hand, stays until that comes.
func (v *views) known() (present, some bool) {
	k, ok := v.wanted()
	of := v.wrong.Of()
	return ok && k == of, ok && of.build != nil && of.hand == k.hand && of.horizon == k.horizon
}

// drawDay draws how wrong a hand reads over its day.
func (v *views) drawDay(at cells.Area) {
	if _, some := v.known(); !some {
		at.Text(0, 0, heading, "Error over the day")
		at.Wrap(1, dim, "It is being worked out.")
		return
	}
	drawPlot(at, v.wrong.Got().day)
}
