package side

import (
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
)

// noHand is said of what is no build yet.
const noHand = "There is no hand yet"

// soundly are the words for a build of which nothing worse than notes was found, or nothing,
// the longest first, with how many of its values are only assumed.
func soundly(assumed int, notes, leads string) []string {
	only, short := "only ", "Sound"
	long := short
	if assumed > 0 {
		only, short = "", fmt.Sprintf("Sound, %d assumed", assumed)
		long = "Sound, " + quantity.Counted(assumed, "value") + " assumed"
	}
	if notes == "" {
		return []string{long + ": nothing found", short + ": nothing found", short}
	}
	notes = ": " + only + notes
	return []string{long + notes + leads, short + notes + leads, short + notes, short}
}

// verdicts are how a build does, in words, the longest first: how much was found, and
// the key that goes through it. Sound is what nothing worse than a note is said of.
func verdicts(found []judge.Finding, assumed int, key string) []string {
	var counts []string
	for severity := judge.Fault; severity > judge.Sound; severity-- {
		n := 0
		for i := range found {
			if found[i].Severity == severity {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, quantity.Counted(n, severity.String()))
		}
	}
	leads := " (" + key + ")"
	switch {
	case len(found) == 0:
		return soundly(assumed, "", "")
	case found[0].Severity == judge.Note:
		return soundly(assumed, counts[0], leads)
	}
	texts := []string{strings.Join(counts, ", ") + leads, fmt.Sprintf("%d found", len(found)) + leads}
	if len(counts) > 1 {
		n := 0 // of the worst
		for n < len(found) && found[n].Severity == found[0].Severity {
			n++
		}
		texts = slices.Insert(texts, 1, fmt.Sprintf("%s, %d more", counts[0], len(found)-n)+leads)
	}
	return texts
}

// drawVerdict says in a line, in place of a part of it, how the build does.
func (r *results) drawVerdict(line cells.Area) {
	w, _ := line.Size()
	found, style := r.s.Found().All, draw.Note
	texts := verdicts(found, r.s.Report.Assumed, r.keys.Finding.Help().Key)
	switch {
	case len(found) > 0:
		style = draw.SeverityStyles[found[0].Severity]
	case len(r.s.Report.Build.Hands) == 0:
		texts = []string{noHand}
	}
	for _, text := range texts {
		if text = " " + text + " "; cells.Fits(text, w) {
			line.Text(min(1, w-cells.Width(text)), 0, style, text)
			return
		}
	}
}

// DrawWorst keeps the worst finding in view, in the lower edge of a frame that covers the
// findings.
func (d *Side) DrawWorst(frame cells.Area) {
	if d.s.Report == nil {
		return
	}
	text, style := soundly(d.s.Report.Assumed, "", "")[0], draw.Note
	found := d.s.Found().All
	switch {
	case len(found) > 0:
		text, style = draw.Signs[found[0].Severity]+" "+found[0].String(), draw.SeverityStyles[found[0].Severity]
	case len(d.s.Report.Build.Hands) == 0:
		text = noHand
	}
	if d.s.Stale() {
		style = draw.Dim
	}
	draw.Footed(frame, style, text)
}
