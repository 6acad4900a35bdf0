package ui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// A resultKey names a result, whichever report has its value.
type resultKey struct {
	result *model.Result
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
			text: strings.TrimSpace(l.label), hint: row.Text(), more: a.whence(row), of: key,
			do: func(a *App) tea.Cmd { return a.goToBlame(key) },
		})
	}
	return a.ask(&prompt{title: "Look into", hint: "Type a part; enter goes to what spreads it most.", entries: entries}, "")
}

// whence is the formula of a result, and where that is from.
func (a *App) whence(row model.Row) string {
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
func (a *App) result(k resultKey) (model.Row, bool) {
	for _, row := range a.report.Results {
		if row.Result == k.result && row.Index == k.index {
			return row, true
		}
	}
	return model.Row{}, false
}

// lookedInto is the result that a prompt's chosen entry names.
func (a *App) lookedInto() (model.Row, bool) {
	if a.mode != asking {
		return model.Row{}, false
	}
	e, ok := a.prompt.at(a.input.Value())
	if !ok || e.of.result == nil {
		return model.Row{}, false
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
		return nil
	}
	a.notice = notice{said, fmt.Sprintf("%s makes %s of the spread of %s.",
		a.inputName(in), shareText(row.Band.Shares[0].Share), strings.TrimSpace(row.Label))}
	return nil
}

// inputName is what a value with a tolerance is called, with whose it is where
// there are several.
func (a *App) inputName(in model.Input) string {
	name, list := strings.TrimSpace(in.Field.Label), in.Field.List()
	if list == "" || list == "hand" && len(a.report.Build.Hands) < 2 {
		return name
	}
	return name + ", " + elementName(a.report.Build, list, in.Index)
}

// shareText is a share in percent.
func shareText(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

// drawLook draws what a result is, how far it may be off, and who makes that.
func (a *App) drawLook(at cells.Area, row model.Row) {
	w, h := at.Size()
	name := at.Sub(0, 0, w-cells.Width(row.Text())-1, 1)
	name.Text(0, 0, heading, strings.TrimSpace(row.Label)+resultOwner(a.report.Build, row))
	at.TextRight(0, value, row.Text())
	y := 1
	for _, s := range bandLines(row) {
		y += at.Sub(1, y, w-1, h-y).Wrap(0, label, s)
	}
	if row.Band == nil || !row.Band.Moved() {
		return
	}
	if h-y > airFrom {
		y++
	}
	at.Text(0, y, heading, "Who makes the spread")
	a.drawShares(at.Rows(y+1, h-y-1), row.Band.Shares)
}

// bandLines say how far a result may be off.
func bandLines(row model.Row) []string {
	switch b := row.Band; {
	case b == nil:
		return []string{"How far it may be off is being worked out."}
	case !b.Moved():
		return []string{"No tolerance moves it."}
	default:
		lines := []string{
			between(row, b.Low, b.High) + " for " + ofKits,
			between(row, b.WorstLow, b.WorstHigh) + " at worst",
		}
		if b.Simulated {
			lines[0] = simulatedSign + lines[0] + ", simulated"
		}
		return lines
	}
}

// leastShare is the part of a spread below which nothing is named for it.
const leastShare = 0.0005

// drawShares draws the largest shares of a spread as bars, as many as have room.
func (a *App) drawShares(at cells.Area, shares []model.Share) {
	var bars []bar
	for _, s := range shares {
		if s.Share >= leastShare {
			bars = append(bars, bar{a.inputName(s.Input), s.Share, shareText(s.Share)})
		}
	}
	drawBars(at, bars)
}
