package ui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
)

// A resultKey names a result, whichever report has its value.
type resultKey struct {
	result *circuit.Result
	index  int
}

// look lists the results, those of the open form's questions first, to be looked
// into one by one.
func (a *App) look() tea.Cmd {
	if a.report == nil {
		a.notice = notice{said, "There are no results to look into yet: mend what is marked first."}
		return nil
	}
	var entries []entry
	for _, l := range a.allResults() {
		if l.shown == nil {
			continue
		}
		row := l.shown.row
		key := resultKey{row.Result, row.Index}
		entries = append(entries, entry{
			text: l.label, hint: row.Text(), more: a.whence(row), of: key,
			do: func(a *App) tea.Cmd { return a.goToBlame(key) },
		})
	}
	cmd := a.ask(&prompt{title: "Look into", hint: "Type a part; enter goes to what spreads it most.", entries: entries}, "")
	a.sense()
	return cmd
}

// whence is the formula of a result, and where that is from.
func (a *App) whence(row spread.Row) string {
	text := "= " + row.Formula
	if row.Bare != "" && a.report.Build.Hands[row.Index].Drive.Capacitor.Number == 0 {
		text = "= " + row.Bare
	}
	if row.Source != "" {
		text += ". Source: " + row.Source
	}
	return text + "."
}

// result finds a result in the report.
func (a *App) result(k resultKey) (spread.Row, bool) {
	for _, row := range a.report.Results {
		if row.Result == k.result && row.Index == k.index {
			return row, true
		}
	}
	return spread.Row{}, false
}

// lookedInto is the result that a prompt's chosen entry names.
func (a *App) lookedInto() (spread.Row, bool) {
	if a.mode != asking {
		return spread.Row{}, false
	}
	e, ok := a.prompt.at(a.input.Value())
	if !ok || e.of.result == nil {
		return spread.Row{}, false
	}
	return a.result(e.of)
}

// goToBlame goes to the field that has the largest share in a result's spread.
func (a *App) goToBlame(k resultKey) tea.Cmd {
	a.adviseNow()
	row, ok := a.result(k)
	if !ok || len(row.Band.Shares) == 0 || !row.Band.Moved() {
		a.notice = notice{said, "No tolerance moves " + strings.TrimSpace(k.result.Label) + "."}
		return nil
	}
	in := row.Band.Shares[0].Input
	if !a.goToValue(in.Field, in.Index) {
		a.notice = notice{said, a.inputName(in) + " is on no form now."}
		return nil
	}
	a.notice = notice{said, fmt.Sprintf("%s makes %s of the spread of %s.",
		a.inputName(in), shareText(row.Band.Shares[0].Share), strings.TrimSpace(row.Label))}
	return nil
}

// inputName is what a value with a tolerance is called, with whose it is where
// there are several.
func (a *App) inputName(in spread.Input) string {
	name, list := strings.TrimSpace(in.Field.Label), in.Field.List()
	if list == "" || list == "hand" && len(a.report.Build.Hands) < 2 {
		return name
	}
	return name + ", " + elementName(a.report.Build, list, in.Index)
}

// shareText is a share in percent.
func shareText(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

// A sensed is what changes a result, worked out for the one that is looked into.
type sensed struct {
	build *model.Build
	of    resultKey
	all   []spread.Sensitivity
}

// sense works that out, where it is not known.
func (a *App) sense() {
	row, ok := a.lookedInto()
	if !ok {
		return
	}
	if k := (resultKey{row.Result, row.Index}); a.sensed.build != a.report.Build || a.sensed.of != k {
		a.sensed = sensed{a.report.Build, k, a.report.Sensitivities(row)}
	}
}

// drawLook draws what a result is, how far it may be off, who makes that, and what
// changes it.
func (a *App) drawLook(at cells.Area, row spread.Row) {
	w, h := at.Size()
	name := at.Sub(0, 0, w-cells.Width(row.Text())-1, 1)
	name.Text(0, 0, heading, strings.TrimSpace(row.Label)+resultOwner(a.report.Build, row))
	at.TextRight(0, value, row.Text())
	y := 1
	for _, s := range bandLines(row) {
		y += at.Sub(1, y, w-1, h-y).Wrap(0, label, s)
	}
	air := 0
	if h-y > airFrom {
		air = 1
	}
	if bars := a.shareBars(row); bars != nil {
		bars = bars[:min(len(bars), max(leastBars, (h-y)/2-1-air))]
		at.Text(0, y+air, heading, "Who makes the spread")
		drawBars(at.Rows(y+air+1, h-y-air-1), bars, label)
		y += air + 1 + len(bars)
	}
	changers := "What changes it: a step of"
	if w < cells.Width(changers) {
		changers = "What changes it"
	}
	at.Text(0, y+air, heading, changers)
	a.drawChangers(at.Rows(y+air+1, h-y-air-1), row)
}

// leastBars are so many, though they take more than half of the room.
const leastBars = 3

// bandLines say how far a result may be off.
func bandLines(row spread.Row) []string {
	b := row.Band
	switch {
	case b == nil:
		return []string{"How far it may be off is being worked out."}
	case !b.Moved():
		return []string{"No tolerance moves it."}
	}
	worst := row
	worst.Band = &spread.Band{Low: b.WorstLow, High: b.WorstHigh}
	lines := []string{orElse(fromTo(row), "as it is") + " for " + ofKits, fromTo(worst) + " at worst"}
	if b.Simulated {
		lines[0] = simulatedSign + lines[0] + ", simulated"
	}
	return lines
}

// drawChangers lists what changes a result: a step of what, and by how much.
func (a *App) drawChangers(at cells.Area, row spread.Row) {
	if a.sensed.build != a.report.Build || a.sensed.of != (resultKey{row.Result, row.Index}) {
		return
	}
	if len(a.sensed.all) == 0 {
		at.Text(1, 0, label, "Nothing does.")
		return
	}
	_, h := at.Size()
	all := a.sensed.all[:min(len(a.sensed.all), max(0, h))]
	lines := make([][3]string, len(all))
	for i, s := range all {
		lines[i] = [3]string{a.inputName(s.Input), s.Step, signed(row, s.By)}
	}
	drawColumns(at, lines)
}

// drawColumns draws lines of a label and two numbers, each in its column.
func drawColumns(at cells.Area, lines [][3]string) {
	w, _ := at.Size()
	second, third := 0, 0
	for _, l := range lines {
		second, third = max(second, cells.Width(l[1])), max(third, cells.Width(l[2]))
	}
	for y, l := range lines {
		at.Sub(1, y, w-second-third-4, 1).Text(0, 0, label, l[0])
		at.Sub(0, y, w-third-2, 1).TextRight(0, dim, l[1])
		at.Rows(y, 1).TextRight(0, value, l[2])
	}
}

// leastShare is the part of a spread below which nothing is named for it.
const leastShare = 0.0005

// shareBars are the shares of a result's spread, the largest first.
func (a *App) shareBars(row spread.Row) []bar {
	if row.Band == nil || !row.Band.Moved() {
		return nil
	}
	var bars []bar
	for _, s := range row.Band.Shares {
		if s.Share >= leastShare {
			bars = append(bars, bar{a.inputName(s.Input), s.Share, shareText(s.Share)})
		}
	}
	return bars
}
