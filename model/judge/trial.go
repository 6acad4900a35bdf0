package judge

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A trial works out what changes would bring about, in memory of its own.
type trial struct {
	build   *model.Build
	plan    circuit.Plan
	present score
	faults  map[faultOf]bool // those of the build
	raised  bool             // the build last evaluated has another one
	fewer   bool             // it has fewer
	whole   *circuit.Plan    // the build's; nil: its parts are still to be chosen, and it has nothing to lose
	stands  []standing       // what it has to lose, once that was asked for
}

// A faultOf is a rule and the hand, lamp or button that it judged.
type faultOf struct {
	rule *rule
	i    int
}

// newTrial is a trial of a solved build whose findings are known.
func newTrial(b *model.Build, p *circuit.Plan, found []graded) *trial {
	t := newChoice(b, found)
	t.whole = p
	return t
}

// newChoice is a trial of a build whose parts are still to be chosen.
func newChoice(b *model.Build, found []graded) *trial {
	t := &trial{build: b, faults: map[faultOf]bool{}}
	for _, g := range found {
		t.present.add(g.severity)
		if g.severity == Fault {
			t.faults[faultOf{g.rule, g.i}] = true
		}
	}
	return t
}

// worse is what is worse in the build last evaluated.
func (t *trial) worse(b *model.Build) worsening {
	if t.whole == nil {
		return worsening{factor: 1}
	}
	if t.stands == nil {
		t.stands = standings(t.build, t.whole)
	}
	return worseThan(t.stands, standings(b, &t.plan))
}

// of evaluates the build with changes made; the plan stays until the next one.
func (t *trial) of(changes []model.Change) (*model.Build, score) {
	b := t.build.Changed(changes)
	circuit.Evaluate(b, &t.plan)
	return b, t.score(b)
}

// sound says whether the build last evaluated, made by such changes, has no problems:
// numbers within their ranges, and what a hand and the crystal are checked for.
func (t *trial) sound(b *model.Build, changes []model.Change) bool {
	for _, c := range changes {
		least, most := c.Field.Range()
		if x := c.Field.Number(b, c.Index); x < least || x > most { // NaN is not
			return false
		}
	}
	for i := range t.plan.Circuit.Hands {
		if h := &t.plan.Circuit.Hands[i]; h.Capacitor > 0 && h.Drive().Pin.Before == 0 {
			return false
		}
	}
	x := &b.Crystal
	return !(math.Abs(x.Measured.Number/x.Frequency.Number-1) > model.MeasuredWithin)
}

// score judges the build last evaluated.
func (t *trial) score(b *model.Build) score {
	var s score
	t.raised = false
	for k := range rules {
		r := &rules[k]
		for i := range r.count(b) {
			severity, _ := r.grade(subject{b, &t.plan, i})
			s.add(severity)
			t.raised = t.raised || severity == Fault && !t.faults[faultOf{r, i}]
		}
	}
	t.fewer = s[0] < t.present[0]
	return s
}
