package judge

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// BudgetOf returns the error budget of a hand, from 0, of a solved build, with what would
// reduce each part of it: each change is tried on the build.
func BudgetOf(b *model.Build, p *circuit.Plan, hand int, horizon Horizon) Budget {
	s := sinceSet{subject{b, p, hand}, horizon}
	budget := s.budget()
	t := newTrial(b, p, gradeAll(b, p))
	for k := range budget.Rows {
		budget.mend(&budget.Rows[k], t)
	}
	return budget
}

// mend finds what takes most off an RSS, of what reduces the row and does no harm: a
// change of choices, and evidence that may come to be.
func (b *Budget) mend(row *BudgetRow, t *trial) {
	s, e, rss := &row.since, remedies[row.ID], b.RSS
	row.Advice = e.advice(s)
	if e.proofs != nil {
		row.prove(t, rss)
	}
	row.Gain = leastError
	var worse worsening
	if e.tries != nil {
		for _, changes := range e.tries(s) {
			changes = s.b.Real(changes)
			if len(changes) == 0 {
				continue
			}
			after := s.b.Changed(changes)
			gain, ok := row.with(t, after, rss)
			if !ok || gain <= row.Gain || !t.sound(after, changes) {
				continue
			}
			if made := t.worse(after); t.fewer || made.factor <= max(1.1, rss/(rss-gain)) { // else that matters more
				row.Gain, row.Changes, worse = gain, changes, made
			}
		}
	}
	if row.Changes == nil {
		row.Gain = max(0, rss-math.Sqrt(b.most(square, row).sum))
		return
	}
	row.Advice += " " + model.ChangesText(s.b, row.Changes) + ": likely " + quantity.DialTime(rss) + " → " + quantity.DialTime(rss-row.Gain) + "." + worse.String()
}

// with is by how much the RSS is less on another build; ok is false where the row is no
// smaller there, or harm is done.
func (row *BudgetRow) with(t *trial, after *model.Build, rss float64) (gain float64, ok bool) {
	s, e := &row.since, row.source
	circuit.Evaluate(after, &t.plan)
	left := sinceSet{subject{after, &t.plan, s.i}, s.horizon}
	ok = e.largest(&left) < row.Amount && t.score(after).harm() <= t.present.harm() && !t.raised
	return rss - left.rss(), ok
}

// prove says what is to be measured, and what comes of it should it come out so: of
// several what takes most off an RSS.
func (row *BudgetRow) prove(t *trial, rss float64) {
	s, so := &row.since, ""
	for _, p := range remedies[row.ID].proofs(s) {
		if gain, ok := row.with(t, p.after, rss); ok && (so == "" || gain > row.IfSo) {
			row.IfSo, row.Field, so = max(0, gain), model.Builds.Field(p.path).PathOf(s.b, s.i), p.so
		}
	}
	switch {
	case row.IfSo > leastError:
		row.Advice += " " + so + ": likely " + quantity.DialTime(rss-row.IfSo) + "."
	case so != "":
		row.Advice += " " + so + ": no less likely, where the rest is most."
	}
}
