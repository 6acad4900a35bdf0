package ui

import (
	"fmt"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// showYield opens a page with what came of the kits.
func (a *App) showYield() {
	y := a.yield
	p := page{title: grouped(y.Kits) + " kits of parts within their tolerances"}
	if y.Inputs == 0 {
		p.add(value, "No value has a tolerance: every kit is alike.")
	}
	if len(y.Hands) > 1 {
		p.add(heading, "All hands trim up in "+kitsText(y.TrimUp, y.Kits)+".")
	}
	for i := range y.Hands {
		p.addTrimming(y, &y.Hands[i], i)
	}
	p.addTighter(y)
	for _, r := range y.Results() {
		p.addHistogram(r)
	}
	p.add(dim, fmt.Sprintf("\nMade up by chance, seed %d: the same build gives the same kits.", y.Seed))
	a.mode, a.page = paging, p
}

// addTrimming says how many kits of a hand trim up, and what the others need.
func (p *page) addTrimming(y *model.Yield, h *model.HandYield, hand int) {
	p.add(heading, h.Name+" trims up in "+kitsText(h.TrimUp, y.Kits)+".")
	drive := &y.Build.Hands[hand].Drive
	switch {
	case drive.Setting.Given():
		p.add(dim, "  Its trimmer stays at "+quantity.Format(drive.Setting, quantity.Ohms)+", as given.")
	case drive.Trimmer.Number == 0:
		p.add(dim, "  It has no trimmer.")
	}
	if h.More.Kits > 0 {
		p.add(value, "  More than the trimmer gives is needed in "+kitsText(h.More.Kits, y.Kits)+". "+
			othersText("trimmer", &h.More, h.More.Trimmers)+" "+othersText("fixed resistor", &h.More, h.More.Fixed))
	}
	if h.Less.Kits > 0 {
		p.add(value, "  Less than the trimmer at zero leaves is needed in "+kitsText(h.Less.Kits, y.Kits)+". "+
			othersText("fixed resistor", &h.Less, h.Less.Fixed))
	}
}

// othersText says which other part the kits need that do not trim up.
func othersText(part string, l *model.Lack, others []model.Other) string {
	var list []string
	left := l.Kits
	for _, o := range others {
		size := quantity.Show(o.Value, quantity.Ohms, 2)
		if o.Value == 0 {
			size = "none"
		}
		list = append(list, size+" in "+grouped(o.Kits))
		left -= o.Kits
	}
	if left > 0 {
		list = append(list, "no other does in "+grouped(left))
	}
	return "Another " + part + ": " + strings.Join(list, ", ") + "."
}

// kitsText is a number of kits with its share, which is 0 % of none and 100 % of
// all only.
func kitsText(n, of int) string {
	percent := 100 * float64(n) / float64(of)
	share := fmt.Sprintf("%.2f %%", percent)
	switch {
	case n == 0, n == of:
		share = fmt.Sprintf("%.0f %%", percent)
	case percent < 0.01:
		share = "under 0.01 %"
	case percent > 99.99:
		share = "over 99.99 %"
	}
	return grouped(n) + " of " + grouped(of) + " (" + share + ")"
}

// addTighter says which parts are worth buying tighter.
func (p *page) addTighter(y *model.Yield) {
	p.add(heading, "\nWorth buying twice as tight, the most gain first")
	none := true
	for i := range y.Hands {
		h := &y.Hands[i]
		for _, t := range h.Worth() {
			none = false
			now, half := t.Texts(y.Build)
			p.add(value, fmt.Sprintf("  %s: %s, %s → %s", h.Name, strings.TrimSpace(t.Field.Label), now, half))
			p.add(label, fmt.Sprintf("    Trims up in %s → %s; 95 %% are wrong by at most %s → %s.",
				kitsText(h.Before.TrimUp, h.Before.Kits), kitsText(t.TrimUp, t.Kits),
				quantity.Show(h.Before.Error95, quantity.Minutes, 3), quantity.Show(t.Error95, quantity.Minutes, 3)))
		}
	}
	if none {
		p.add(value, "  No part is: with none would one more kit in a thousand trim up, or the error be a fiftieth less.")
	}
}

// addHistogram shows how a result spreads: in words, and as a bar a bin.
func (p *page) addHistogram(r model.YieldResult) {
	p.add(heading, "\n"+r.Label+", "+r.In())
	if len(r.Bins) == 1 && r.Text(r.Least) == r.Text(r.Most) {
		p.add(value, "  "+r.Text(r.Least)+" in every kit.")
		return
	}
	at := func(share float64) string {
		for i, s := range model.Percentiles {
			if s == share {
				return r.Text(r.At[i])
			}
		}
		return "–"
	}
	p.add(value, fmt.Sprintf("  95 %% of kits from %s to %s, half of them below %s, all from %s to %s.",
		at(0.025), at(0.975), at(0.5), r.Text(r.Least), r.Text(r.Most)))
	most, from, to, kits := 0, 0, 0, 0
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		most, from, to, kits = max(most, b.Kits), max(from, len(low)), max(to, len(high)), max(kits, len(grouped(b.Kits)))
	}
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		text := fmt.Sprintf("  %*s to %*s  %*s", from, low, to, high, kits, grouped(b.Kits))
		p.paragraphs = append(p.paragraphs, paragraph{label, text, float64(b.Kits) / float64(most)})
	}
}
