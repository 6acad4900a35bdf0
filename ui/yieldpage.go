package ui

import (
	"fmt"
	"strings"

	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
)

// yieldPage is a page with what came of the kits.
func yieldPage(y *spread.Yield) front.Page {
	p := front.Page{Title: quantity.Grouped(y.Kits) + " kits of parts within their tolerances"}
	if y.Inputs == 0 {
		p.Add(draw.Value, "No value has a tolerance: every kit is alike.")
	}
	if len(y.Hands) > 1 {
		p.Add(draw.Heading, "All hands trim up in "+kitsText(y.TrimUp, y.Kits)+".")
	}
	for i := range y.Hands {
		addTrimming(&p, y, &y.Hands[i], i)
	}
	addTighter(&p, y)
	for _, r := range y.Results() {
		addHistogram(&p, r)
	}
	p.Add(draw.Dim, fmt.Sprintf("\nMade up by chance, seed %d: the same build gives the same kits.", y.Seed))
	return p
}

// addTrimming says how many kits of a hand trim up, and what the others need.
func addTrimming(p *front.Page, y *spread.Yield, h *spread.HandYield, hand int) {
	p.Add(draw.Heading, h.Name+" trims up in "+kitsText(h.TrimUp, y.Kits)+".")
	drive := &y.Build.Hands[hand].Drive
	switch {
	case drive.Setting.Given():
		p.Add(draw.Dim, "  Its trimmer stays at "+quantity.Format(drive.Setting, quantity.Ohms)+", as given.")
	case drive.Trimmer.Number == 0:
		p.Add(draw.Dim, "  It has no trimmer.")
	}
	if h.More.Kits > 0 {
		p.Add(draw.Value, "  It needs more than 98 % of the trimmer in "+kitsText(h.More.Kits, y.Kits)+". "+
			"Another trimmer: "+h.More.Text(h.More.Trimmers, quantity.Grouped)+". Another fixed resistor: "+h.More.Text(h.More.Fixed, quantity.Grouped)+".")
	}
	if h.Less.Kits > 0 {
		p.Add(draw.Value, "  It needs less than 2 % of the trimmer in "+kitsText(h.Less.Kits, y.Kits)+". "+
			"Another fixed resistor: "+h.Less.Text(h.Less.Fixed, quantity.Grouped)+".")
	}
}

// kitsText is a number of kits beside all, and its share.
func kitsText(n, kits int) string {
	return quantity.Grouped(n) + " of " + quantity.Grouped(kits) + " (" + spread.ShareOf(n, kits) + ")"
}

// addTighter says which parts are worth buying tighter, and what is worth knowing better.
func addTighter(p *front.Page, y *spread.Yield) {
	for _, way := range spread.Tightenings {
		switch {
		case way.In(y):
			p.Add(draw.Heading, "\n"+way.Head)
		case way.None() != "":
			p.Add(draw.Heading, "\n"+way.Head)
			p.Add(draw.Value, "  "+way.None())
		}
		for i := range y.Hands {
			h := &y.Hands[i]
			for _, t := range way.Of(h) {
				now, half := t.Texts(y.Build)
				p.Add(draw.Value, fmt.Sprintf("  %s: %s, %s → %s", h.Name, strings.TrimSpace(t.Field.Label), now, half))
				p.Add(draw.Label, fmt.Sprintf("    Trims up in %s → %s; 95 %% are wrong by at most %s → %s without %s.",
					kitsText(h.Before.TrimUp, h.Before.Kits), kitsText(t.TrimUp, t.Kits),
					quantity.Show(h.Before.Error95, quantity.Minutes, 3), quantity.Show(t.Error95, quantity.Minutes, 3), spread.LeftOut))
			}
		}
	}
}

// addHistogram shows how a result spreads: in words, and as a bar a bin.
func addHistogram(p *front.Page, r spread.YieldResult) {
	p.Add(draw.Heading, "\n"+r.Label+", "+r.In())
	if len(r.Bins) == 1 && r.Text(r.Least) == r.Text(r.Most) {
		p.Add(draw.Value, "  "+r.Text(r.Least)+" in every kit.")
		return
	}
	at := func(share float64) string {
		for i, s := range spread.Percentiles {
			if s == share {
				return r.Text(r.At[i])
			}
		}
		return "–"
	}
	p.Add(draw.Value, fmt.Sprintf("  95 %% of kits from %s to %s, half of them below %s, all from %s to %s.",
		at(0.025), at(0.975), at(0.5), r.Text(r.Least), r.Text(r.Most)))
	most, from, to, kits := 0, 0, 0, 0
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		most, from, to, kits = max(most, b.Kits), max(from, len(low)), max(to, len(high)), max(kits, len(quantity.Grouped(b.Kits)))
	}
	for _, b := range r.Bins {
		low, high := r.Ends(b)
		text := fmt.Sprintf("  %*s to %*s  %*s", from, low, to, high, kits, quantity.Grouped(b.Kits))
		p.AddBar(draw.Label, text, float64(b.Kits)/float64(most))
	}
}
