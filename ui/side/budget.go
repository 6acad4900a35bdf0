package side

import (
	"strings"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// leastShare is the part of a whole below which nothing is named for it.
const leastShare = 0.0005

// choose goes to another row of the budget.
func (v *views) choose(by int) { v.blame = max(0, min(v.blame+by, len(v.blamed())-1)) }

// ChooseFirst goes to the first row.
func (v *views) ChooseFirst() { v.blame = 0 }

// blamed are the rows of the budget that have a line of their own; the others are
// traces.
func (v *views) blamed() []judge.BudgetRow {
	rows := v.Wrong.Got().Budget.Rows
	for i, row := range rows {
		if row.Share < leastShare {
			return rows[:max(i, 1)]
		}
	}
	return rows
}

// chosen is the row of the budget that is chosen; nil where there is none.
func (v *views) chosen() *judge.BudgetRow {
	rows := v.blamed()
	if len(rows) == 0 {
		return nil
	}
	return &rows[min(v.blame, len(rows)-1)]
}

// mends is the chosen row of a budget in view that has changes which a key takes over,
// or a field for what is to be measured, to which it goes; nil where there is none.
func (v *views) mends() *judge.BudgetRow {
	if present, _ := v.known(); !present || v.s.Stale() || v.At != budgetView {
		return nil
	}
	if row := v.chosen(); row != nil && (len(row.Changes) > 0 || row.Field != "") {
		return row
	}
	return nil
}

// drawBudget draws who makes a hand read wrong, in minutes of its dial: the largest
// first, and what would reduce the one that is chosen.
func (v *views) drawBudget(at cells.Area, mends *judge.BudgetRow) {
	present, some := v.known()
	if !some {
		at.Text(0, 0, draw.Heading, "Error budget")
		at.Wrap(1, draw.Dim, "It is being worked out.")
		return
	}
	labelStyle, valueStyle := draw.Label, draw.Value
	if !present || v.s.Stale() {
		labelStyle, valueStyle = draw.Dim, draw.Dim
	}
	w, h := at.Size()
	b := v.Wrong.Got().Budget
	head := "Error budget, " + b.Horizon.Since()
	y := at.Wrap(0, draw.Heading, head)
	if len(b.Rows) == 0 {
		at.Text(1, y, labelStyle, "Nothing is to blame.")
		return
	}
	y += at.Sub(1, y, w-1, h-y).Wrap(0, valueStyle, "likely "+quantity.DialTime(b.RSS)+", at worst "+quantity.DialTime(b.Worst))
	advice, tail := v.advice(mends)
	_, rest := at.SplitTop(y)
	needs := min(len(cells.Lines(advice+" "+tail, w-1)), max(1, (h-y)/2))
	v.drawBlamed(rest.Rows(0, h-y-needs), labelStyle)
	draw.Fit(at.Sub(1, h-needs, w-1, needs), valueStyle, advice, tail)
}

// advice is what is said of the chosen row, and what key does it.
func (v *views) advice(mends *judge.BudgetRow) (text, tail string) {
	row := v.chosen()
	text = strings.ToUpper(row.Label[:1]) + row.Label[1:] + ": " + row.Advice
	take := v.keys.Take.Help().Key
	switch {
	case mends != nil && len(row.Changes) == 0:
		tail = "(" + take + "\u00a0goes\u00a0there)"
	case mends != nil:
		tail = "(" + take + "\u00a0does\u00a0it)" // in one line
	case len(row.Changes) == 0 && row.Field == "":
		text += " Without it: likely " + quantity.DialTime(v.Wrong.Got().Budget.RSS-row.Gain) + "."
	}
	return text, tail
}

// drawBlamed draws the rows of the budget as bars, the chosen one among them.
func (v *views) drawBlamed(at cells.Area, style cells.Style) {
	w, h := at.Size()
	rows := v.blamed()
	chosen := min(v.blame, len(rows)-1)
	start := max(0, min(chosen-h/2, len(rows)-h))
	var bars []draw.Bar
	for _, row := range rows[start:] {
		bars = append(bars, draw.Bar{Label: row.Label, Share: row.Amount, Text: quantity.DialTime(row.Amount)})
	}
	draw.Bars(at, bars, style)
	draw.Here(at.Sub(0, chosen-start, 1, 1))
	below := at.Sub(1, len(bars), w-1, h-len(bars))
	below.Wrap(below.Wrap(0, draw.Dim, v.traces()), draw.Dim, v.budgetKeys())
}

// budgetKeys says what goes on from here.
func (v *views) budgetKeys() string {
	k := v.keys
	return k.ResultsUp.Help().Key + ", " + k.ResultsDown.Help().Key + " choose; " + k.Budget.Help().Key + ": longer after it was set."
}

// traces names what is hardly to blame, and what the build does not say enough of.
func (v *views) traces() string {
	b := v.Wrong.Got().Budget
	var names []string
	for _, row := range b.Rows[len(v.blamed()):] {
		names = append(names, row.Label)
	}
	text := ""
	if names != nil {
		text = "Hardly to blame: " + strings.Join(names, ", ") + "."
	}
	if len(b.Unknown) > 0 {
		text += " Not known: " + strings.Join(b.Unknown, ", ") + "."
	}
	return strings.TrimSpace(text)
}
