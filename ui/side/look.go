package side

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/session"
)

// A look is what is seen of one result, beside the list of all: how far it may be off,
// and why.
type look struct {
	s      *session.Session
	sensed *jobs.Job[sensedOf, []spread.Sensitivity]
}

// sensedOf is what decides what changes a result; a build in a report never changes.
type sensedOf struct {
	build *model.Build
	of    front.ResultKey
}

func newLook(s *session.Session) *look {
	return &look{s, jobs.New[sensedOf, []spread.Sensitivity](nil, nil)}
}

// LookEntries are the results as a prompt lists them, those of the open form's questions
// first, each that is pinned with a mark; do is what enter does with one.
func (d *Side) LookEntries(do func(front.ResultKey) tea.Cmd) []front.Entry {
	var entries []front.Entry
	for _, l := range allResults(d.s, d.form.Fields()) {
		if l.shown == nil {
			continue
		}
		row, mark := l.shown.Row, " "
		if d.Results.Pinned(row) {
			mark = pinSign
		}
		of := front.ResultKey{Result: row.Result, Index: row.Index}
		entries = append(entries, front.Entry{
			Text: l.label, Hint: row.Text(), More: d.Look.whence(row), Of: of, Mark: mark,
			Do: func() tea.Cmd { return do(of) },
		})
	}
	return entries
}

// Pin keeps the result that a prompt's entry names at the top of all, or lets it go again.
func (d *Side) Pin(e front.Entry) {
	if row, ok := d.Look.into(e); ok {
		d.Results.Pin(row)
	}
}

// whence is what a result is, where its label does not say it, with its formula and where
// that is from.
func (k *look) whence(row spread.Row) string {
	text := "= " + row.Formula
	if row.Bare != "" && k.s.Report.Build.Hands[row.Index].Drive.Capacitor.Number == 0 {
		text = "= " + row.Bare
	}
	if row.Source != "" {
		text += ". Source: " + row.Source
	}
	return strings.TrimSpace(row.Help + " " + text + ".")
}

// Result finds a result in the report.
func (k *look) Result(of front.ResultKey) (spread.Row, bool) {
	for _, row := range k.s.Report.Results {
		if row.Result == of.Result && row.Index == of.Index {
			return row, true
		}
	}
	return spread.Row{}, false
}

// into is the result that a prompt's entry names; false where it names none.
func (k *look) into(e front.Entry) (spread.Row, bool) {
	if e.Of.Result == nil {
		return spread.Row{}, false
	}
	return k.Result(e.Of)
}

// Sense works out what changes the result that an entry names, where it is not known.
// It takes no longer than a key may.
func (k *look) Sense(e front.Entry) {
	row, ok := k.into(e)
	if !ok {
		return
	}
	r := k.s.Report
	k.sensed.Now(sensedOf{r.Build, e.Of}, func(context.Context, func(int)) ([]spread.Sensitivity, error) {
		return r.Sensitivities(row), nil
	})
}

// InputName is what a value with a tolerance is called, with whose it is where
// there are several.
func (k *look) InputName(in spread.Input) string {
	return session.ValueName(k.s.Report.Build, in.Field, in.Index)
}

// ShareText is a share in percent.
func ShareText(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

// draw draws what a result is, how far it may be off, who makes that, and what
// changes it.
func (k *look) draw(at cells.Area, row spread.Row) {
	w, h := at.Size()
	name := at.Sub(0, 0, w-cells.Width(row.Text())-1, 1)
	name.Text(0, 0, draw.Heading, strings.TrimSpace(row.Label)+ResultOwner(k.s.Report.Build, row))
	at.TextRight(0, draw.Value, row.Text())
	y := 1
	for _, s := range bandLines(row) {
		y += at.Sub(1, y, w-1, h-y).Wrap(0, draw.Label, s)
	}
	air := 0
	if h-y > layout.AirFrom {
		air = 1
	}
	if bars := k.shareBars(row); bars != nil {
		bars = bars[:min(len(bars), max(leastBars, (h-y)/2-1-air))]
		at.Text(0, y+air, draw.Heading, "Who makes the spread")
		draw.Bars(at.Rows(y+air+1, h-y-air-1), bars, draw.Label)
		y += air + 1 + len(bars)
	}
	changers := "What changes it: its ±, or the next value"
	if w < cells.Width(changers) {
		changers = "What changes it"
	}
	at.Text(0, y+air, draw.Heading, changers)
	k.drawChangers(at.Rows(y+air+1, h-y-air-1), row)
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
	lines := []string{cmp.Or(fromTo(row), "as it is") + " for " + draw.OfKits, fromTo(worst) + " at worst"}
	if b.Simulated {
		lines[0] = draw.SimulatedSign + lines[0] + ", simulated"
	}
	return lines
}

// drawChangers lists what changes a result: a step of what, and by how much.
func (k *look) drawChangers(at cells.Area, row spread.Row) {
	if k.sensed.Of() != (sensedOf{k.s.Report.Build, front.ResultKey{Result: row.Result, Index: row.Index}}) {
		return
	}
	all := k.sensed.Got()
	if len(all) == 0 {
		at.Text(1, 0, draw.Label, "Nothing does.")
		return
	}
	_, h := at.Size()
	all = all[:min(len(all), max(0, h))]
	lines := make([][3]string, len(all))
	for i, s := range all {
		lines[i] = [3]string{k.InputName(s.Input), s.Step, Signed(row, s.By)}
	}
	draw.Columns(at, lines)
}

// shareBars are the shares of a result's spread, the largest first.
func (k *look) shareBars(row spread.Row) []draw.Bar {
	if row.Band == nil || !row.Band.Moved() {
		return nil
	}
	var bars []draw.Bar
	for _, s := range row.Band.Shares {
		if s.Share >= leastShare {
			bars = append(bars, draw.Bar{Label: k.InputName(s.Input), Share: s.Share, Text: ShareText(s.Share)})
		}
	}
	return bars
}
