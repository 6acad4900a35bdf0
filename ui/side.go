package ui

import (
	"fmt"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// drawSide draws the needle, what it stands for, the findings and the results.
func (a *App) drawSide(at cells.Area) {
	if a.report == nil {
		in := titled(at, "Needle and results")
		in.Wrap(1, value, "They appear as soon as every value can be read. Problems to mend: "+fmt.Sprint(len(a.doc.Problems))+".")
		return
	}
	in := titled(at, a.dialTitle())
	dial, readout, divider, below := sideParts(in)
	if a.hand < len(a.report.Plan.Hands) {
		a.drawDials(dial)
		a.drawReadout(readout)
	}
	w, _ := divider.Size()
	divider.HLine(0, 0, w, frame)
	if a.stale() {
		divider.Text(1, 0, caution, fmt.Sprintf(" last good results; to mend: %d ", len(a.doc.Problems)))
	}
	a.drawResults(a.drawFindings(below))
}

// clock is a time of day, in seconds, as people write it.
func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/3600, seconds/60%60) }

// dialTitle says the time and what the hand in view makes of it.
func (a *App) dialTitle() string {
	r := a.report
	if a.hand >= len(r.Plan.Hands) {
		return clock(a.seconds)
	}
	n := r.Plan.Needle(a.hand, float64(a.seconds))
	return fmt.Sprintf("%s  %s shows %s (%s)", clock(a.seconds), r.Build.Hands[a.hand].Name,
		r.Plan.ShownText(a.hand, n.Shown), r.Plan.ErrorText(a.hand, n.Shown-n.Share))
}

// drawReadout gives the electrical side of the needle in view.
func (a *App) drawReadout(at cells.Area) {
	n := a.report.Plan.Needle(a.hand, float64(a.seconds))
	style := value
	if a.stale() {
		style = dim
	}
	counts := a.report.Build.Hands[a.hand].Drive.Counts
	lines := [2]string{
		fmt.Sprintf("code %.0f/%d  duty %s  pin %s", n.Code, counts,
			quantity.Show(n.Duty, quantity.Percent, 4), quantity.Show(n.Pin, quantity.Volts, 4)),
		fmt.Sprintf("coil %s  %s  at %s", quantity.Show(n.Coil, quantity.Volts, 4),
			quantity.Show(n.Current, quantity.Amperes, 4), quantity.Show(n.Place, quantity.Percent, 4)),
	}
	for y, s := range lines {
		at.Text(0, y, style, s)
	}
}

// signs mark a finding's severity without colour.
var (
	signs          = map[model.Severity]string{model.Note: "·", model.Caution: "!", model.Fault: "✗"}
	severityStyles = map[model.Severity]cells.Style{model.Note: note, model.Caution: caution, model.Fault: fault}
)

// drawFindings lists what is wrong, worst first, in up to two fifths of the
// area, and returns the rest.
func (a *App) drawFindings(at cells.Area) cells.Area {
	w, h := at.Size()
	found := a.report.Findings
	room := max(1, h*2/5)
	y := 0
	for i, f := range found {
		style := severityStyles[f.Severity]
		if a.stale() {
			style = dim
		}
		about := f.About
		if about != "" {
			about += ": "
		}
		text := fmt.Sprintf("%s %s%s", f.Severity, about, f.Text)
		line := at.Sub(2, 0, w-2, room)
		left := room - y
		if needs := len(line.Lines(text)); needs > left && i > 0 {
			break
		}
		at.Text(0, y, style, signs[f.Severity])
		y += min(left, line.Wrap(y, style, text))
		if y >= room {
			if more := len(found) - i - 1; more > 0 {
				at.Rows(y, 1).Text(2, 0, dim, fmt.Sprintf("and %d more", more))
				y++
			}
			break
		}
	}
	_, rest := at.SplitTop(y)
	if y > 0 && h-y > airFrom {
		_, rest = rest.SplitTop(1)
	}
	return rest
}

// questions are the results' headings.
var questions = [...]string{
	model.Reaches: "Does the needle reach?",
	model.Smooth:  "Does it stand still?",
	model.Wrong:   "How wrong does it read?",
	model.Drifts:  "How fast does it drift?",
	model.Lasts:   "How long do the cells last?",
}

// first questions of each form; the others follow.
var firstQuestions = [panes][]model.Question{
	model.MeterPane:   {model.Reaches, model.Wrong, model.Smooth},
	model.FilterPane:  {model.Smooth, model.Reaches, model.Wrong},
	model.CrystalPane: {model.Drifts},
	model.BatteryPane: {model.Lasts},
}

// order is all questions, those of the open form first.
func (a *App) order() []model.Question {
	order := append([]model.Question{}, firstQuestions[a.pane]...)
	for q := range model.Question(len(questions)) {
		known := false
		for _, o := range order {
			known = known || o == q
		}
		if !known {
			order = append(order, q)
		}
	}
	return order
}

// A resultLine is a heading, or a result with its value.
type resultLine struct{ heading, label, value string }

// resultLines lists the results under their questions: of the hand in view, and
// of everything there is once.
func (a *App) resultLines() []resultLine {
	var lines []resultLine
	for _, q := range a.order() {
		heading := questions[q]
		for _, row := range a.report.Results {
			if row.Question != q || row.OfHand() && row.Index != a.hand {
				continue
			}
			if heading != "" {
				lines = append(lines, resultLine{heading: heading})
				heading = ""
			}
			text := row.Label
			if row.OfLamp() {
				text += ", " + a.report.Build.Lamps[row.Index].Name
			}
			lines = append(lines, resultLine{label: text, value: row.Text()})
		}
	}
	return lines
}

// drawResults lists the results in as many columns as there is room for.
func (a *App) drawResults(at cells.Area) {
	w, h := at.Size()
	if h < 1 {
		return
	}
	lines := a.resultLines()
	columns := resultColumns(w)
	start := max(0, min(a.scroll, len(lines)-columns*h))
	for i := 0; i < columns*h && start+i < len(lines); i++ {
		wide := w / columns
		column := at.Sub(i/h*wide, i%h, wide-min(columns-1, 1)*2, 1)
		a.drawResult(column, lines[start+i])
	}
	if start > 0 {
		at.Rows(0, 1).Sub(w-1, 0, 1, 1).Text(0, 0, dim, "↑")
	}
	if start+columns*h < len(lines) {
		at.Rows(h-1, 1).Sub(w-1, 0, 1, 1).Text(0, 0, dim, "↓")
	}
}

func (a *App) drawResult(at cells.Area, l resultLine) {
	if l.heading != "" {
		at.Text(0, 0, heading, l.heading)
		return
	}
	w, _ := at.Size()
	labelStyle, valueStyle := label, value
	if a.stale() {
		labelStyle, valueStyle = dim, dim
	}
	taken := cells.Width(l.value)
	at.Sub(1, 0, w-taken-4, 1).Text(0, 0, labelStyle, l.label)
	at.Sub(0, 0, w-2, 1).TextRight(0, valueStyle, l.value)
}
