package bench

import (
	"fmt"
	"math"
	"strings"

	built "example.com/needlewright/model/bench"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
)

// mostCauses are shown at once.
const mostCauses = 3

// likeliest are the causes to be shown.
func (b *Bench) likeliest() []built.Cause {
	report := b.Report()
	if report == nil || !report.IsWeighed() {
		return nil
	}
	for i, c := range report.Causes {
		if i == mostCauses || i > 0 && c.Probability < built.LeastShown {
			return report.Causes[:i]
		}
	}
	return report.Causes
}

// Likeliest is the cause that explains the readings best; nil where nothing is read.
func (b *Bench) Likeliest() *built.Cause {
	if report := b.Report(); report != nil && report.IsWeighed() && len(report.Causes) > 0 {
		return &report.Causes[0]
	}
	return nil
}

// isFound says whether one cause, or that there is none, is sure enough.
func (b *Bench) isFound() bool {
	c := b.Likeliest()
	return c != nil && (c.Probability >= built.SureEnough || len(b.Report().Next) == 0)
}

// NeedleAt is where a hand's needle stands at a code in the clock as the likeliest cause
// has it; false where there is no such cause.
func (b *Bench) NeedleAt(hand int, code float64) (place float64, ok bool) {
	c := b.Likeliest()
	if c == nil || c.ID == built.Nothing || c.ID == built.Other {
		return 0, false
	}
	return b.weighed.Of().x.NeedleAt(c, hand, code)
}

// DrawCauses draws what may be wrong, the likeliest first, and what to do next.
func (b *Bench) DrawCauses(frame cells.Area) {
	title := "What it may be"
	if b.Report() != nil && !b.isWeighed() {
		title += " – weighing …"
	}
	in := draw.Titled(frame, title)
	if b.Report() == nil || b.weighed.Got() == nil {
		return
	}
	_, h := in.Size()
	rows := b.drawBars(in)
	if air := h - rows; air > 3 && rows > 0 {
		rows++
	}
	b.drawNext(in.Rows(rows, h-rows))
}

// drawBars draws the causes, each with its probability as bar, number and word.
func (b *Bench) drawBars(in cells.Area) (rows int) {
	w, _ := in.Size()
	all := b.likeliest()
	const word, number, least = 12, 6, 10
	name := w - word - number - least
	if spare := name - 36; spare > 0 {
		name -= spare * 2 / 3
	}
	for y := range all {
		c := &all[y]
		at, style := in.Rows(y, 1), draw.Label
		if y == 0 {
			style = draw.Value
		}
		text := b.weighed.Of().x.TitleOf(c)
		at.Sub(0, 0, name-1, 1).Text(0, 0, style, text)
		at.Sub(name, 0, w-name-word-number-1, 1).Bar(0, 0, draw.Note, c.Probability)
		at.Sub(w-word-number, 0, number-1, 1).TextRight(0, style, built.Percent(c.Probability))
		at.Sub(w-word, 0, word, 1).Text(0, 0, style, built.ChanceOf(c.Probability))
	}
	return len(all)
}

// drawNext says what to do now: take the next reading, or confirm and mend what was found.
// Each gets a row at least, as far as there are some; what can be spared comes where all of
// it has room.
func (b *Bench) drawNext(at cells.Area) {
	_, h := at.Size()
	all := b.guidance()
	kept := 0
	for _, t := range all {
		if !t.spared {
			kept++
		}
	}
	for _, t := range all {
		n := len(at.Lines(t.text))
		if !t.spared {
			kept--
			n = max(1, min(n, h-kept))
		}
		if n > h {
			continue
		}
		var here cells.Area
		here, at = at.SplitTop(n)
		draw.Cut(here, t.style, t.text, "")
		h -= n
	}
}

// A said thing is a text in its style.
type said struct {
	style  cells.Style
	text   string
	spared bool // where there is no room for all of it
}

// guidance is what to do now, the first first.
func (b *Bench) guidance() []said {
	report, c := b.Report(), b.Likeliest()
	goes := b.keys.Finding.Help().Key
	switch {
	case c != nil && c.ID == built.Nothing && b.isFound():
		return []said{{draw.Value, "It is sound, as far as these readings tell. " + c.Confirm, false}}
	case c != nil && c.ID == built.Other && b.isFound():
		return []said{{draw.Value, c.Confirm, false}, {draw.Value, c.Mend, false}}
	case c != nil && b.isFound():
		return append(b.contradicted(c), said{draw.Value, "Confirm: " + c.Confirm, false},
			said{draw.Value, "Mend, then " + b.keys.Mended.Help().Key + ": " + c.Mend, false}, b.explained(c))
	case len(report.Next) == 0:
		return []said{{draw.Value, "Nothing more is worth measuring.", false}}
	}
	step := report.Next[0]
	text := "Measure next: " + b.prepared.Got().CalledOf(step.At) + " (" + goes + "). " + built.Plainly(step.Why)
	all := []said{{draw.Note, text, false}}
	if b.isMended() {
		all = append(all, said{draw.Value, "What was read before the repair is as it should be now.", false})
	}
	if c != nil {
		all = append(append(all, b.contradicted(c)...), b.explained(c))
	}
	if len(report.Readings) == 0 {
		all = append(all, said{draw.Label, "The first questions cost nothing: look, and tap. Type what you see at the point.", true})
	}
	return all
}

// isMended says whether all that was read before the repair is read again, and right.
func (b *Bench) isMended() bool {
	for _, id := range b.again {
		r := readingAt(b.Report(), id)
		if r == nil || r.Before || r.Verdict != built.Inside && r.Verdict != built.Edge {
			return false
		}
	}
	return len(b.again) > 0
}

// contradicted says which readings contradict a cause.
func (b *Bench) contradicted(c *built.Cause) []said {
	if len(c.Contradicts) == 0 {
		return nil
	}
	return []said{{draw.Caution, "Contradicted by " + b.named(c.Contradicts) + ": take it again.", false}}
}

// explained says which readings a cause explains that a sound clock does not give.
func (b *Bench) explained(c *built.Cause) said {
	if len(c.Explains) == 0 {
		return said{spared: true}
	}
	return said{draw.Dim, "The first explains " + b.named(c.Explains) + ".", true}
}

// CausesPage is all that is to be known of the causes, the likeliest first.
func (b *Bench) CausesPage() (page front.Page, ok bool) {
	b.weighNow()
	report := b.Report()
	if report == nil {
		return page, false
	}
	page.Title = "What it may be"
	if b.Likeliest() == nil {
		page.Add(draw.Value, "No reading counts yet. Type one at a test point: what it may be stands here then.")
	}
	for i, c := range report.Causes {
		if b.Likeliest() == nil || i > 0 && c.Probability < built.LeastShown {
			break
		}
		text := b.weighed.Of().x.TitleOf(&report.Causes[i])
		if i > 0 {
			text = "\n" + text
		}
		page.Add(draw.Heading, text+": "+built.Percent(c.Probability)+", "+built.ChanceOf(c.Probability))
		for _, t := range []struct{ lead, text string }{
			{"Explains ", b.named(c.Explains)}, {"Contradicted by ", b.named(c.Contradicts)}, {"Does not explain, to be read again: ", b.named(report.Unexplained(&c))}, {"Confirm: ", c.Confirm}, {"Mend: ", c.Mend},
		} {
			if t.text != "" {
				page.Add(draw.Value, "  "+t.lead+t.text)
			}
		}
	}
	b.addNext(&page, report)
	b.addUnfit(&page, report)
	return page, true
}

// addNext lists what is worth measuring.
func (b *Bench) addNext(page *front.Page, report *built.Report) {
	const most = 5
	for i, step := range report.Next[:min(most, len(report.Next))] {
		if i == 0 {
			page.Add(draw.Heading, "\nWorth measuring, the best for its effort first")
		}
		page.Add(draw.Value, "  "+b.prepared.Got().CalledOf(step.At)+", "+built.EffortOf(step.Cost)+": "+built.Plainly(step.Why))
	}
}

// addUnfit lists the readings that are not weighed, with why.
func (b *Bench) addUnfit(page *front.Page, report *built.Report) {
	headed := false
	for i := range report.Readings {
		r := &report.Readings[i]
		why := r.Problem
		if r.Before {
			why = "taken before the last repair"
		}
		if why == "" {
			continue
		}
		if !headed {
			page.Add(draw.Heading, "\nReadings that are not weighed")
			headed = true
		}
		page.Add(draw.Value, fmt.Sprintf("  %s, %q: %s.", r.At, r.Given, why))
	}
}

// named are test points as a sentence has them.
func (b *Bench) named(ids []string) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = b.prepared.Got().CalledOf(id)
	}
	return strings.Join(names, "; ")
}

// PlaceText is where a needle stands, a share of the scale.
func PlaceText(place float64) string {
	switch {
	case place > 1.2 || math.IsInf(place, 1):
		return "over"
	case place < -0.2:
		return "below"
	}
	return quantity.Show(place, quantity.Percent, 3)
}
