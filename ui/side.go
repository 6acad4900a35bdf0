package ui

import (
	"fmt"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// drawSide draws the needle, what it stands for, and the findings and results or
// a plot.
func (a *App) drawSide(l layout) {
	if a.report == nil {
		a.titled(l.side, "Needle and results").Wrap(1, value,
			fmt.Sprintf("They appear as soon as every value can be read. Problems to mend: %d.", len(a.doc.Problems)))
		return
	}
	in := a.titled(l.side, a.dialTitle())
	if a.plot > 0 && l.below.Dy() < plotRows {
		a.drawPlot(in)
		return
	}
	if a.hand < len(a.report.Plan.Hands) {
		a.drawDials(a.area(l.dial))
		a.drawReadout(a.area(l.readout))
	}
	divider := a.area(l.divider)
	divider.HLine(0, 0, l.divider.Dx(), frame)
	if a.stale() {
		divider.Text(1, 0, caution, fmt.Sprintf(" last good results; to mend: %d ", len(a.doc.Problems)))
	}
	if a.plot > 0 {
		a.drawPlot(a.area(l.below))
		return
	}
	a.drawResults(a.drawFindings(a.area(l.below)))
}

// clock is a time of day, in seconds, as people write it.
func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/3600, seconds/60%60) }

// dialTitle says the time and what the hand in view makes of it.
func (a *App) dialTitle() string {
	r := a.report
	if a.hand >= len(r.Plan.Hands) {
		return clock(a.seconds)
	}
	if a.pace == racing {
		return clock(a.seconds) + " in a fast day"
	}
	n := r.Plan.Needle(a.hand, float64(a.seconds))
	return fmt.Sprintf("%s %s shows %s (%s)", clock(a.seconds), r.Build.Hands[a.hand].Name,
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
	line := at.Sub(2, 0, w-2, room)
	y := 0
	for i, f := range found {
		text := findingText(f)
		needs := len(line.Lines(text))
		if y > 0 && y+needs > room {
			break
		}
		style := severityStyles[f.Severity]
		if a.stale() {
			style = dim
		}
		at.Text(0, y, style, signs[f.Severity])
		if needs > room {
			line.Text(0, y, style, text) // cut, with a sign that it is
			needs = 1
		} else {
			line.Wrap(y, style, text)
		}
		y += needs
		if more := len(found) - i - 1; more > 0 && y+len(line.Lines(findingText(found[i+1]))) > room {
			y += sayMore(at.Sub(2, y-1, w-2, 2), line.Lines(text)[needs-1], fmt.Sprintf("and %d more", more))
			break
		}
	}
	_, rest := at.SplitTop(y)
	if y > 0 && h-y > airFrom {
		_, rest = rest.SplitTop(1)
	}
	return rest
}

// sayMore says how many more there are behind the last line of a text, or under
// it where that leaves no room; it returns the rows it took.
func sayMore(at cells.Area, last, more string) int {
	w, _ := at.Size()
	if free := w - cells.Width(last); free > cells.Width(more)+1 {
		at.TextRight(0, dim, more)
		return 0
	}
	at.Text(0, 1, dim, more)
	return 1
}

// findingText is a finding in words, with what it is about.
func findingText(f model.Finding) string {
	about := f.About
	if about != "" {
		about += ": "
	}
	return fmt.Sprintf("%s %s%s", f.Severity, about, f.Text)
}
