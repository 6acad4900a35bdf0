// Package fit says whether a meter can be used in a clock, and how: with the parts as they
// stand, with others, behind a switch, at another rail, opened; or what is to be measured
// first, or why not. It tries each way as a build that is evaluated and judged. A drawer is
// a table of many meters.
package fit

import (
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
)

// A Meter is the answer for one meter.
type Meter struct {
	Name    string
	Row     int // in its drawer, or its hand in the build, from 1
	Verdict string
	Why     string   // in a sentence
	Missing []string // what is to be measured first, by the columns of a drawer, the most telling first
	Ways    []*Way   // the best first

	frame *Frame
}

// Build is the build that is changed.
func (m *Meter) Build() *model.Build { return m.frame.doc.Build }

// Best is its best way, nil where there is none.
func (m *Meter) Best() *Way {
	if len(m.Ways) == 0 {
		return nil
	}
	return m.Ways[0]
}

// Of answers for one row of a drawer in the clock of a frame.
func (f *Frame) Of(row *Row) *Meter {
	k := row.known()
	b, put := f.put(k.meter, k.texts)
	return newCandidate(f, k, row.Name, b, put).meter(row.N)
}

// OfHand answers for the meter that the build has.
func (f *Frame) OfHand() *Meter {
	h := &f.doc.Build.Hands[f.hand]
	return newCandidate(f, f.ofBuild(), h.Name, f.doc.Build, nil).meter(f.hand + 1)
}

// ofBuild is what a build says of its meter, with what it marks as assumed.
func (f *Frame) ofBuild() *known {
	m := &f.doc.Build.Hands[f.hand].Meter
	k := &known{meter: m, texts: map[string]string{}, inside: none, figures: true}
	for _, field := range meterFields {
		if text, given := f.doc.Given(field, f.hand); given {
			k.texts[field.Path] = text
			if mark := f.doc.Mark(field, f.hand); slices.Contains(figurePaths, field.Path) && (mark == "assumed" || mark == "from the dial") {
				k.lacks(columnOf(field.Path))
			}
		}
	}
	if m.InCircuit == "yes" && m.InternalKind != none {
		k.inside = m.InternalKind
		if !m.Internal.Given() && !m.AsMeasured() {
			k.lacks("inside_value")
		}
	} else if m.AsMeasured() {
		k.inside = unknown
		c := newCandidate(f, k, "", f.doc.Build, nil)
		k.infer(c.resistance * c.current)
	}
	if m.Kind == rectifier {
		k.inside = rectifier
	}
	law := circuit.WireHand(f.doc.Build, &f.doc.Build.Hands[f.hand]).Law
	if m.Law == "" && law.Kind != calc.Smooth && m.Kind != "moving coil" && m.Kind != "cross coil" { // nor measured row by row
		k.lacks("law")
	}
	return k
}

// figurePaths are what a meter is driven by, the most telling first.
var figurePaths = []string{fullScalePath, coilPath, currentPath, ohmsPath, internalPath, lawPath}

// meter tries all ways.
func (c *candidate) meter(row int) *Meter {
	m := &Meter{Name: c.name, Row: row, Missing: []string{}, frame: c.Frame}
	if c.refused(m) {
		return m
	}
	if c.figures {
		if w := c.asItIs(); w != nil && w.fault == nil {
			c.noisy = w.isNoisy()
			m.Ways = append(m.Ways, w)
		}
	}
	for k := range ways {
		w := &ways[k]
		done := slices.ContainsFunc(m.Ways, func(made *Way) bool { return made.ID == w.id })
		if done || !c.figures && w.id != opened || !w.when(c) {
			continue
		}
		if made := c.try(w); made != nil {
			c.noisy = c.noisy || made.isNoisy()
			m.Ways = append(m.Ways, made)
		}
	}
	slices.SortStableFunc(m.Ways, func(a, b *Way) int { return byVerdict(a.Verdict, b.Verdict, a.Likely, b.Likely) })
	c.conclude(m)
	return m
}

// conclude gives the verdict on the meter: that on its best way.
func (c *candidate) conclude(m *Meter) {
	switch best := m.Best(); {
	case best != nil:
		m.Verdict = best.Verdict
		if m.Verdict == MeasureFirst {
			m.Missing = notNil(best.Missing)
		}
	case c.isTooMuch() && c.inside == shunt && c.build.Hands[c.hand].Meter.Glow == unknown:
		m.Verdict, m.Missing = MeasureFirst, []string{"glow"}
	case len(c.missing) > 0 && !c.isTooMuch():
		m.Verdict, m.Missing = MeasureFirst, c.missing
	default:
		m.Verdict = DoesNotFit
	}
	m.Why = c.why(m)
}

func notNil(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// Sort puts meters by verdict, then by likely, then by row.
func Sort(meters []*Meter) {
	likely := func(m *Meter) float64 {
		if best := m.Best(); best != nil {
			return best.Likely
		}
		return noNumber
	}
	slices.SortStableFunc(meters, func(a, b *Meter) int {
		if d := byVerdict(a.Verdict, b.Verdict, likely(a), likely(b)); d != 0 {
			return d
		}
		return a.Row - b.Row
	})
}

// Finding returns the fault that counts against a way; ok is false where there is none.
func (w *Way) Finding() (f judge.Finding, ok bool) {
	if w.fault == nil {
		return judge.Finding{}, false
	}
	return *w.fault, true
}

// HasCells says whether cells feed the clock.
func (w *Way) HasCells() bool { return w.plan.Circuit.Battery.Present }

// Make returns a document with the changes of the way made: the one that it was tried in.
// What nobody typed of the meter says so in a comment, and what was said of the former
// meter goes with it.
func (w *Way) Make(d *model.Document) *model.Document {
	for _, c := range w.Changes {
		if !slices.Contains(meterFields, c.Field) {
			d = d.Set(c.Field, c.Index, c.Text)
			continue
		}
		mark := w.marks[c.Field.Path]
		if _, there := d.Given(c.Field, c.Index); !there {
			d = d.Set(c.Field, c.Index, c.Text) // a new line bears no mark before it stands there
		}
		d = d.SetAnew(c.Field, c.Index, c.Text, mark)
	}
	return d
}
