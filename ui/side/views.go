package side

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// views are what can stand in place of the results: the error budget, the error over
// the day, and the plots of the plan.
type views struct {
	s    *session.Session
	say  *notice.Notice
	keys *keys.Map

	At      int // the view that is open, 0: the results
	Horizon judge.Horizon
	blame   int // the row of the budget that is chosen
	Wrong   *jobs.Job[wrongOf, wrong]
	Differ  *differ
}

// A wrong is how wrong a hand reads, some time after its clock was set.
type wrong struct {
	Budget judge.Budget
	Day    circuit.Plot
}

// wrongOf is what that depends on; a build in a report never changes.
type wrongOf struct {
	build   *model.Build
	hand    int
	horizon judge.Horizon
}

// The views: those that are worked out beside the keys, then plots of the plan, and at last
// what differs from another state, which has its own key.
const (
	budgetView = 1
	dayView    = 2
	plotKinds  = 4
	differView = dayView + plotKinds + 1
)

// plots are those of the plan, in their order.
var plots = [plotKinds]func(p *circuit.Plan, hand int) circuit.Plot{
	(*circuit.Plan).StepResponse,
	(*circuit.Plan).Wrap,
	(*circuit.Plan).RippleWave,
	func(p *circuit.Plan, _ int) circuit.Plot { return p.Discharge() },
}

func newViews(s *session.Session, say *notice.Notice, keys *keys.Map) *views {
	return &views{s: s, say: say, keys: keys, Differ: newDiffer(s, say, keys), Wrong: jobs.New[wrongOf](nil, func(_ wrong, err error) {
		if err != nil {
			say.Fail("The error budget could not be worked out: " + err.Error() + ".")
		}
	})}
}

// Next shows the next view that this build has in place of the results, and after the
// last the results again.
func (v *views) Next() {
	for range dayView + len(plots) {
		v.At = (v.At + 1) % (dayView + len(plots) + 1)
		v.ChooseFirst()
		if v.At == 0 || v.has(v.At) {
			break
		}
	}
}

// Leave shows the results again; false where they are shown.
func (v *views) Leave() bool {
	was := v.At
	v.At = 0
	return was != 0
}

// has says whether there is something to draw for the hand in view.
func (v *views) has(at int) bool {
	hand := v.s.ReportHand()
	return hand >= 0 && (at <= dayView || len(plots[at-dayView-1](&v.s.Report.Plan, hand).Lines) > 0)
}

// Differences shows what differs from the file as saved, or from the state that was kept;
// where it is in view, from the other of these.
func (v *views) Differences() {
	if v.At == differView && !v.Differ.turn() || !v.Differ.open() {
		return
	}
	v.At = differView
}

// DifferFrom shows what differs from the state that was kept, or from the file as saved.
func (v *views) DifferFrom(kept bool) {
	if v.Differ.choose(kept) && v.Differ.open() {
		v.At = differView
	}
}

// ErrorBudget shows the error budget, and where it is in view another time since
// the clock was set.
func (v *views) ErrorBudget() {
	if v.s.ReportHand() < 0 {
		v.say.Say("There is no error budget yet: mend what is marked first.")
		return
	}
	if v.At == budgetView {
		v.Horizon = (v.Horizon + 1) % (judge.AfterCells + 1)
	} else {
		v.ChooseFirst()
	}
	v.At = budgetView
}

// draw draws the view that is open. mends is the row of the budget that a key takes
// over.
func (v *views) draw(at cells.Area, mends *judge.BudgetRow) {
	hand := v.s.ReportHand()
	switch {
	case v.At == differView:
		v.Differ.draw(at)
	case hand < 0: // it is not complete yet
		at.Wrap(0, draw.Dim, draw.NothingToDraw)
	case v.At == budgetView:
		v.drawBudget(at, mends)
	case v.At == dayView:
		v.drawDay(at)
	default:
		draw.Plot(at, plots[v.At-dayView-1](&v.s.Report.Plan, hand))
	}
}

// wanted is of what the budget and the day are asked for: ok is false where they are
// not in view.
func (v *views) wanted() (k wrongOf, ok bool) {
	hand := v.s.ReportHand()
	if hand < 0 || v.At != budgetView && v.At != dayView {
		return wrongOf{}, false
	}
	return wrongOf{v.s.Report.Build, hand, v.Horizon}, true
}

// Seek has them worked out beside the keys; nil where they are not asked for, known, or
// being worked out.
func (v *views) Seek() tea.Cmd {
	if v.At == differView {
		return v.Differ.seek()
	}
	k, ok := v.wanted()
	if !ok {
		return nil
	}
	return v.Wrong.Seek(k, k.judgeBy(v.s.Report))
}

// JudgeNow waits for them, for what cannot do without.
func (v *views) JudgeNow() {
	if v.At == differView {
		v.Differ.now()
	}
	if k, ok := v.wanted(); ok {
		v.Wrong.Now(k, k.judgeBy(v.s.Report))
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
	of := v.Wrong.Of()
	return ok && k == of, ok && of.build != nil && of.hand == k.hand && of.horizon == k.horizon
}

// drawDay draws how wrong a hand reads over its day.
func (v *views) drawDay(at cells.Area) {
	if _, some := v.known(); !some {
		at.Text(0, 0, draw.Heading, "Error over the day")
		at.Wrap(1, draw.Dim, "It is being worked out.")
		return
	}
	draw.Plot(at, v.Wrong.Got().Day)
}
