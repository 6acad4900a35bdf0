package report

import (
	"strings"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// Verdict says in a sentence whether a build is sound: "Sound." where nothing is worse than
// a note, else how many faults and cautions there are, and the worst of them.
func (r *Report) Verdict() string {
	counts := map[judge.Severity]int{}
	found := Joined(r.Findings)
	for _, f := range found {
		counts[f.Severity]++
	}
	var bad []string
	for _, s := range []judge.Severity{judge.Fault, judge.Warning} {
		if counts[s] > 0 {
			bad = append(bad, quantity.Counted(counts[s], s.String()))
		}
	}
	switch {
	case bad == nil && counts[judge.Note] == 0:
		return r.sound() + "."
	case bad == nil && r.Assumed > 0:
		return r.sound() + ": " + quantity.Counted(counts[judge.Note], judge.Note.String()) + "."
	case bad == nil:
		return r.sound() + ": only " + quantity.Counted(counts[judge.Note], judge.Note.String()) + "."
	}
	text, worst := strings.Join(bad, ", "), found[0]
	if worst.About != "" {
		text += ": " + worst.About
	}
	return text + ": " + worst.Text
}

// sound is the word for a build of which nothing worse than a note is found, with how much
// of it is only assumed: "Sound, 21 values assumed".
func (r *Report) sound() string {
	if r.Assumed == 0 {
		return "Sound"
	}
	return "Sound, " + quantity.Counted(r.Assumed, "value") + " assumed"
}
