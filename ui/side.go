package ui

import (
	"fmt"
	"image"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// drawSide draws the needle, what it stands for, and the findings and results or
// a plot.
func (a *App) drawSide(l layout) {
	if a.report == nil {
		text := "They appear as soon as every value can be read"
		if a.mode != asking {
			text += ": " + a.toMend() + " (" + a.keys.Finding.Help().Key + ")"
		}
		a.titled(l.side, "Needle and results").Wrap(1, value, text+".")
		return
	}
	hand := a.reportHand()
	in := a.titled(l.side, a.dialTitle(hand, l.side.Dx()))
	instead := a.insteadOfResults()
	if instead != nil && l.below.Dy() < plotRows {
		if a.stale() {
			var top cells.Area
			top, in = in.SplitTop(1)
			top.Text(0, 0, caution, a.lastGood())
		}
		instead(in)
		return
	}
	a.drawDials(a.area(l.dial), hand)
	if hand >= 0 {
		a.drawReadout(a.area(l.readout), hand)
	}
	divider := a.area(l.divider)
	divider.HLine(0, 0, l.divider.Dx(), frame)
	if a.stale() {
		divider.Text(1, 0, caution, " "+a.lastGood()+" ")
	}
	if instead != nil {
		instead(a.area(l.below))
		return
	}
	lines, more, rows := a.findingLines(l.below.Dx(), l.below.Dy())
	a.drawFindings(a.area(l.below), lines, more, rows)
	a.drawResults(a.area(underFindings(l.below, rows)))
}

// insteadOfResults draws what takes the place of the findings and results, and
// where room is short that of the dial too; nil where nothing does.
func (a *App) insteadOfResults() func(at cells.Area) {
	row, looking := a.lookedInto()
	switch {
	case looking:
		return func(at cells.Area) { a.drawLook(at, row) }
	case a.plot > 0:
		return a.drawView
	}
	return nil
}

// reportHand is the hand in view as the report knows it, which may be of an
// earlier text; -1 where it does not.
func (a *App) reportHand() int {
	if a.report == nil || a.hand >= len(a.doc.Build.Hands) {
		return -1
	}
	hands := a.report.Build.Hands
	if len(hands) == len(a.doc.Build.Hands) {
		return a.hand // its name alone may have changed
	}
	return slices.IndexFunc(hands, func(h model.Hand) bool { return h.Name == a.doc.Build.Hands[a.hand].Name })
}

// lastGood says that the results are of an earlier text.
func (a *App) lastGood() string { return "last good results; " + a.toMend() }

// toMend names what keeps the results from being of the present text.
func (a *App) toMend() string {
	text := "mend " + a.doc.Problems[0].Path
	if label := a.doc.Problems[0].Label; label != "" {
		text = "mend " + label
	}
	if more := len(a.doc.Problems) - 1; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// clock is a time of day, in seconds, as people write it.
func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/3600, seconds/60%60) }

// dialTitle says the time and what a hand makes of it, the hand's name last.
func (a *App) dialTitle(hand, width int) string {
	switch {
	case hand < 0:
		return clock(a.seconds)
	case a.pace == racing:
		return clock(a.seconds) + " in a fast day"
	}
	plan := &a.report.Plan
	n := plan.Needle(hand, float64(a.seconds))
	shown, off := plan.ShownText(hand, n.Shown), plan.ErrorText(hand, n.Shown-n.Share)
	if width < narrow {
		return clock(a.seconds) + " → " + shown + " " + off
	}
	return fmt.Sprintf("%s shows %s (%s) – %s", clock(a.seconds), shown, off, a.report.Build.Hands[hand].Name)
}

// narrow is the width of the right side below which it says less.
const narrow = 40

// drawReadout gives the electrical side of a needle.
func (a *App) drawReadout(at cells.Area, hand int) {
	n := a.report.Plan.Needle(hand, float64(a.seconds))
	style := value
	if a.stale() {
		style = dim
	}
	code := fmt.Sprintf("code %.0f/%d", n.Code, a.report.Build.Hands[hand].Drive.Counts)
	show := func(x float64, u quantity.Unit) string { return quantity.Show(x, u, 4) }
	duty, pin, coil := show(n.Duty, quantity.Percent), show(n.Pin, quantity.Volts), show(n.Coil, quantity.Volts)
	current, place := show(n.Current, quantity.Amperes), show(n.Place, quantity.Percent)
	lines := [2]string{
		code + "  duty " + duty + "  pin " + pin,
		"coil " + coil + "  " + current + "  at " + place,
	}
	if w, _ := at.Size(); w+4 < narrow {
		lines = [2]string{code + "  " + duty, pin + "  " + current}
	}
	for y, s := range lines {
		at.Text(0, y, style, s)
	}
}

// signs mark a finding's severity without colour.
var (
	signs          = map[judge.Severity]string{judge.Note: "·", judge.Warning: "!", judge.Fault: "✗"}
	severityStyles = map[judge.Severity]cells.Style{judge.Note: note, judge.Warning: caution, judge.Fault: fault}
)

// A findingLine is a finding where it stands.
type findingLine struct {
	finding judge.Finding
	text    string
	y, rows int
}

// findingLines lays findings out, worst first, in up to two fifths of w by h;
// more is how many have no room, and rows what is taken with saying so.
func (a *App) findingLines(w, h int) (lines []findingLine, more, rows int) {
	found := a.report.Findings
	room := max(1, h*2/5)
	for i, f := range found {
		text := f.String()
		needs := len(cells.Lines(text, w-2))
		if len(lines) > 0 && rows+needs > room {
			more = len(found) - i
			break
		}
		needs = min(needs, room)
		lines = append(lines, findingLine{f, text, rows, needs})
		rows += needs
	}
	if more > 0 && h >= tight && !a.moreFits(lines[len(lines)-1], more, w) {
		rows++
	}
	return lines, more, rows
}

// tight is the height below which the number of further findings stands in the
// line of the last one, whatever it covers.
const tight = 6

// moreText says how many findings have no room, and what leads to them.
func (a *App) moreText(more int) string {
	return fmt.Sprintf("%d more: %s", more, a.keys.Finding.Help().Key)
}

// moreFits says whether that stands behind the last line of a finding.
func (a *App) moreFits(l findingLine, more, w int) bool {
	lines := cells.Lines(l.text, w-2)
	return w-2-cells.Width(lines[l.rows-1]) > cells.Width(a.moreText(more))+1
}

// drawFindings lists what is wrong, as findingLines lays it out.
func (a *App) drawFindings(at cells.Area, lines []findingLine, more, rows int) {
	w, h := at.Size()
	sign := ""
	if more > 0 && h < tight {
		sign = fmt.Sprintf(" +%d", more)
	}
	for _, l := range lines {
		style := severityStyles[l.finding.Severity]
		if a.stale() {
			style = dim
		}
		at.Text(0, l.y, style, signs[l.finding.Severity])
		text := at.Sub(2, l.y, w-2-len(sign), l.rows)
		if l.rows == 1 {
			text.Text(0, 0, style, l.text) // where it is cut, a sign says so
		} else {
			text.Wrap(0, style, l.text)
		}
	}
	switch {
	case more == 0:
	case sign != "":
		at.Sub(w-len(sign), rows-1, len(sign), 1).Text(0, 0, dim, sign)
	case a.moreFits(lines[len(lines)-1], more, w):
		at.Sub(2, rows-1, w-2, 1).TextRight(0, dim, a.moreText(more))
	default:
		at.Text(2, rows-1, dim, a.moreText(more))
	}
}

// underFindings is the room that so many rows of findings leave.
func underFindings(below image.Rectangle, rows int) image.Rectangle {
	if rows > 0 && below.Dy()-rows > airFrom {
		rows++
	}
	return image.Rect(below.Min.X, below.Min.Y+rows, below.Max.X, below.Max.Y)
}
