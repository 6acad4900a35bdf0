package fit

import (
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
)

// The verdicts on a meter and on a way, the best first.
const (
	Fits            = "fits" // as the build stands
	FitsWithChanges = "fits with changes"
	MeasureFirst    = "measure first"
	DoesNotFit      = "does not fit"
)

var verdicts = []string{Fits, FitsWithChanges, MeasureFirst, DoesNotFit}

// A Way is how a meter may be driven, with what that gives.
type Way struct {
	ID        string
	Verdict   string
	Changes   []model.Change // of the build, complete
	Parts     []string       // what it takes, in words
	Likely    float64        // min, a month after the clock was set
	Worst     float64        // min
	LifeOn    float64        // h; NaN: not known, or no cells
	LifeMixed float64        // h
	Current   float64        // A that the hand takes from the rail, awake
	Faults    int            // of the build so made
	Cautions  int

	Missing []string // what is to be measured for it

	marks    map[string]string // what stands behind values, by the paths of their fields
	plan     *circuit.Plan
	findings []judge.Finding
	fault    *judge.Finding // the worst that counts against it
}

// asItIs tries the meter with the parts as they stand; nil where that is no way to drive it.
func (c *candidate) asItIs() *Way { return c.judged(c.present(), c.build, nil) }

// try makes a way: what it asks for, then the parts that suit it. nil where there are none.
func (c *candidate) try(w *way) *Way {
	extra := c.changesOf(w.sets(c))
	if w.id == opened && c.inside == rectifier { // its scale was measured with that
		extra = append(extra, c.cleared()...)
	}
	build := c.build.Changed(extra)
	extra = append(extra, c.rated(build)...)
	build = c.build.Changed(extra)
	parts := judge.Choose(build, c.hand, w.where)
	if parts == nil {
		return nil
	}
	extra = append(extra, parts...)
	if w.id == rail { // the others are fed by it too
		for i := range c.build.Hands {
			if i != c.hand {
				extra = append(extra, judge.Choose(c.build.Changed(extra), i, judge.Anywhere)...)
			}
		}
	}
	made := c.judged(w.id, c.build.Changed(extra), extra)
	if made != nil && w.needs != nil {
		made.Parts = append(made.Parts, w.needs(c)...)
	}
	return made
}

// changesOf are values as changes, with the codes that straighten a scale that is not even.
func (c *candidate) changesOf(sets []set) []model.Change {
	var changes []model.Change
	for _, s := range sets {
		change := model.Change{Field: model.Builds.Field(s.path), Text: s.text}
		if change.Field.List() == "hand" {
			change.Index = c.hand
		}
		changes = append(changes, change)
	}
	h := &c.build.Changed(changes).Hands[c.hand]
	law := circuit.WireHand(c.build, h).Law
	if h.Correct == "none" && !law.IsEven() || h.Correct != "codes" && law.From > 0 {
		changes = append(changes, c.change("hand.correct", "codes"))
	}
	return changes
}

// rated are resistors for the heat that the meter's current makes, where those there are do
// not stand twice as much.
func (c *candidate) rated(b *model.Build) []model.Change {
	h := circuit.WireHand(b, &b.Hands[c.hand])
	_, current := h.Shunted()
	power := h.Rail * current
	if !(power > b.Hands[c.hand].Drive.ResistorRating.Number/2) {
		return nil
	}
	return []model.Change{c.change("hand.drive.resistor_rating", judge.RatingFor(power))}
}

// judged solves and judges a build as a way; nil where it cannot be built.
func (c *candidate) judged(id string, b *model.Build, extra []model.Change) *Way {
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	h := &p.Circuit.Hands[c.hand]
	if h.Capacitor > 0 && h.Drive().Pin.Before == 0 {
		return nil
	}
	budget := judge.BudgetAlone(b, p, c.hand, judge.AfterMonth)
	w := &Way{
		ID: id, Changes: c.complete(extra), Parts: partsOf(&b.Hands[c.hand], h.Law.IsEven(), c.build.Hands[c.hand].Drive.ResistorRating),
		Likely: budget.RSS, Worst: budget.Worst, LifeOn: p.Battery.LifeOn, LifeMixed: p.Battery.LifeMixed, Current: p.Hands[c.hand].RailCurrent,
		Missing: c.missing, plan: p, findings: judge.Findings(b, p),
	}
	w.marks = c.marks(w.Changes)
	if id == opened {
		_, _, w.Missing = c.movement()
	}
	for k := range w.findings {
		switch found := &w.findings[k]; found.Severity {
		case judge.Fault:
			w.Faults++
			if w.fault == nil && c.isNew(found) {
				w.fault = found
			}
		case judge.Warning:
			w.Cautions++
		}
	}
	w.Verdict = c.verdict(w, len(w.Changes) > len(c.put))
	return w
}

// marks are the comments behind values of the meter that nobody typed.
func (c *candidate) marks(changes []model.Change) map[string]string {
	marks := map[string]string{}
	for _, change := range changes {
		path := change.Field.Path
		if c.put == nil || !slices.Contains(meterFields, change.Field) || change.Text == "" || change.Text == c.typed[path] || path == "hand.meter.in_circuit" {
			continue
		}
		marks[path] = "assumed"
		if slices.Contains(c.dial, path) {
			marks[path] = measure.FromDial
		}
	}
	return marks
}

// verdict is that on a way; changed says that it takes more than the meter.
func (c *candidate) verdict(w *Way, changed bool) string {
	switch {
	case w.fault != nil:
		return DoesNotFit
	case w.ID == opened || len(c.missing) > 0:
		return MeasureFirst
	case changed:
		return FitsWithChanges
	}
	return Fits
}

// complete are all changes to the build: those that put the meter there, and others that
// change anything, the last one of each value.
func (c *candidate) complete(extra []model.Change) []model.Change {
	all := slices.Clone(c.put)
	for _, change := range extra {
		same := func(other model.Change) bool { return other.Field == change.Field && other.Index == change.Index }
		if k := slices.IndexFunc(all, same); k >= 0 {
			all[k] = change
		} else {
			all = append(all, change)
		}
	}
	return slices.DeleteFunc(all, func(change model.Change) bool {
		given, _ := c.doc.Given(change.Field, change.Index)
		return given == change.Text || !slices.ContainsFunc(c.put, func(p model.Change) bool { return p.Field == change.Field }) &&
			change.Text == change.Field.Text(c.doc.Build, change.Index)
	})
}

// isNoisy says whether a way trembles, hums or leaks as it is.
func (w *Way) isNoisy() bool {
	return slices.ContainsFunc(w.findings, func(f judge.Finding) bool {
		return slices.Contains([]string{"ripple_needle", "hum", "law_ripple", "capacitor_leak", "filter_settling"}, f.ID)
	})
}

// partsOf names the parts of a hand, in words; resistors that stand more than those there
// were say how much.
func partsOf(h *model.Hand, even bool, rating quantity.Value) []string {
	d := &h.Drive
	stands := ""
	if d.ResistorRating.Number != rating.Number {
		stands = ", for " + quantity.Show(d.ResistorRating.Number, quantity.Milliwatts, 3)
	}
	var parts []string
	for _, part := range []struct {
		name string
		v    quantity.Value
		u    quantity.Unit
		end  string
	}{
		{"stage resistor", d.Stage, quantity.Ohms, stands}, {"fixed resistor", d.Fixed, quantity.Ohms, stands}, {"trimmer", d.Trimmer, quantity.Ohms, stands},
		{"capacitor", d.Capacitor, quantity.Microfarads, place(d)},
	} {
		if part.v.Number > 0 {
			parts = append(parts, part.name+" "+quantity.Show(part.v.Number, part.u, 3)+part.end)
		}
	}
	if h.Correct == "codes" && !even {
		parts = append(parts, "a table of codes in the firmware that straightens its scale")
	}
	return parts
}

// place is where a capacitor stands and of what kind it is, in words.
func place(d *model.Drive) string {
	text := ""
	if d.CapacitorKind != "" {
		text = ", " + d.CapacitorKind
	}
	if d.CapacitorAt == "stage" {
		return text + ", behind the stage resistor"
	}
	return text + ", at the meter"
}

// byVerdict orders ways and meters: by verdict, then by likely, where there is one.
func byVerdict(a, b string, likelyA, likelyB float64) int {
	if d := slices.Index(verdicts, a) - slices.Index(verdicts, b); d != 0 {
		return d
	}
	least := func(x float64) float64 {
		if math.IsNaN(x) {
			return math.Inf(1)
		}
		return x
	}
	switch x, y := least(likelyA), least(likelyB); {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}
