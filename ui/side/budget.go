package side

import (
	"fmt"
	"strings"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
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
	y += at.Sub(1, y, w-1, h-y).Wrap(0, valueStyle, sums(&b))
	advice, does := v.advice(mends)
	tail := ""
	if does != "" {
		tail = "(" + does + ")"
	}
	_, rest := at.SplitTop(y)
	needs, most := len(cells.Lines(strings.TrimSpace(advice+" "+tail), w-1)), max(1, (h-y)/2)
	if needs > most {
		needs, tail = most, v.cutTail(does, w-1)
	}
	v.drawBlamed(rest.Rows(0, h-y-needs), labelStyle)
	draw.Fit(at.Sub(1, h-needs, w-1, needs), valueStyle, advice, tail)
}

// sums are what the budget comes to, and at which times of the dial.
func sums(b *judge.Budget) string {
	text := "likely " + quantity.DialTime(b.RSS) + ", at worst " + quantity.DialTime(b.Worst)
	if b.LikelyAt == b.WorstAt {
		return text + ", both near " + b.LikelyAt
	}
	return text + ", near " + b.LikelyAt + " and " + b.WorstAt
}

// advice is what is said of the chosen row, and what key does what about it.
func (v *views) advice(mends *judge.BudgetRow) (text, does string) {
	row := v.chosen()
	text = strings.ToUpper(row.Label[:1]) + row.Label[1:] + ": " + row.Advice
	take := v.keys.Take.Help().Key
	switch {
	case mends != nil && len(row.Changes) == 0:
		does = take + "\u00a0goes\u00a0there" // in one line
	case mends != nil:
		does = take + "\u00a0does\u00a0it"
	case len(row.Changes) == 0 && row.Field == "":
		text += " Without it: likely " + quantity.DialTime(v.Wrong.Got().Budget.RSS-row.Gain) + "."
	}
	return text, does
}

// cutTail stands at the end of advice that has not the room, which a page shows whole.
func (v *views) cutTail(does string, w int) string {
	tail := v.keys.Cautions.Help().Key + " shows all"
	if long := does + ", " + tail; does != "" && cells.Fits(long, w) {
		return long
	} else if does != "" {
		return v.keys.Take.Help().Key + ", " + tail
	}
	return tail
}

// leastNoted is the room from which a line of it is kept for what the bars are.
const leastNoted = 6

// drawBlamed draws the rows of the budget as bars, the chosen one among them.
func (v *views) drawBlamed(at cells.Area, style cells.Style) {
	w, whole := at.Size()
	h := whole
	if h >= leastNoted {
		h-- // for what they are
	}
	rows := v.blamed()
	chosen := min(v.blame, len(rows)-1)
	start := max(0, min(chosen-h/2, len(rows)-h))
	var bars []draw.Bar
	for _, row := range rows[start:min(start+max(h, 0), len(rows))] {
		bars = append(bars, draw.Bar{Label: row.Label, Share: row.Amount, Text: quantity.DialTime(row.Amount)})
	}
	beside := at
	if len(rows) > h { // the last column is for ↑ and ↓
		beside = at.Sub(0, 0, w-1, h)
	}
	draw.Bars(beside, bars, style)
	draw.Here(at.Sub(0, chosen-start, 1, 1))
	if start > 0 {
		at.Text(w-1, 0, draw.Dim, "↑")
	}
	if start+h < len(rows) {
		at.Text(w-1, h-1, draw.Dim, "↓")
	}
	v.drawNotes(at.Sub(1, len(bars), w-1, whole-len(bars)))
}

// Of the words below the bars: that they do not add up.
const eachItsOwn = "Each bar is at its own worst place."

// drawNotes says below the bars, in whole sentences as far as there is room, what they are,
// what goes on from here, and what is hardly to blame.
func (v *views) drawNotes(at cells.Area) {
	w, h := at.Size()
	y := 0
	for _, text := range []string{eachItsOwn, v.budgetKeys(), v.traces()} {
		if n := len(cells.Lines(text, w)); y+n <= h {
			y += at.Wrap(y, draw.Dim, text)
		}
	}
}

// budgetKeys says what goes on from here.
func (v *views) budgetKeys() string {
	k := v.keys
	return k.ResultsUp.Help().Key + ", " + k.ResultsDown.Help().Key + " choose; " + k.Budget.Help().Key + ": longer after it was set; " +
		k.Cautions.Help().Key + " tells more; " + k.Leave.Help().Key + ": the needle."
}

// AddBudget adds to a page the error budget in view, whole, with what its figures are, and
// what is advised of the chosen row; nothing where it is not in view, or not worked out yet.
func (d *Side) AddBudget(p *front.Page) {
	v := d.Views
	if _, some := v.known(); !some || v.At != budgetView || len(v.blamed()) == 0 {
		return
	}
	b := v.Wrong.Got().Budget
	p.Add(draw.Heading, "Error budget, "+b.Horizon.Since())
	p.Add(draw.Value, strings.ToUpper(sums(&b)[:1])+sums(&b)[1:]+".")
	advice, does := v.advice(d.Mends())
	p.Add(draw.Note, advice)
	if does != "" {
		p.Add(draw.Dim, "Beside the form, "+does+".")
	}
	p.Add(draw.Heading, "\nWho is to blame")
	for _, row := range v.blamed() {
		p.AddBar(draw.Label, fmt.Sprintf("%-24s %10s", row.Label, quantity.DialTime(row.Amount)), row.Amount/b.Rows[0].Amount)
	}
	p.Add(draw.Dim, v.traces())
	p.Add(draw.Value, eachItsOwn+" Likely and at worst are of one place of the dial, where all that is there comes to most: "+
		"at worst is the sum, as if all went the same way; likely is the root of the sum of the squares, for that seldom happens.\n")
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
