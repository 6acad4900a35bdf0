// Package judge says what is wrong with a solved build and what would mend it: findings,
// the parts of shops, the error budget, and the cautions of the work.
package judge

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Severity is how bad a finding is. Warning is shown, and written, as "caution".
type Severity uint8

// The severities, mildest first.
const (
	Sound Severity = iota // no finding
	Note
	Warning
	Fault
)

func (s Severity) String() string { return [...]string{"sound", "note", "caution", "fault"}[s] }

// A subject is what a rule judges: a solved build, and which of its hands, lamps
// or buttons.
type subject struct {
	b *model.Build
	p *circuit.Plan
	i int
}

func (s subject) hand() *circuit.HandPlan       { return &s.p.Hands[s.i] }
func (s subject) meter() *model.Meter           { return &s.b.Hands[s.i].Meter }
func (s subject) drive() *model.Drive           { return &s.b.Hands[s.i].Drive }
func (s subject) circuit() *circuit.HandCircuit { return &s.p.Circuit.Hands[s.i] }
func (s subject) minutes() float64              { return s.p.Minutes(s.i) }

// A rule is one row of the findings table: a figure, the limits it is held
// against, and what is said where it passes one.
type rule struct {
	id     string
	field  string // that mends it; a rule of a hand's or lamp's field judges each of them
	called string // the figure, as an effect names it: "travel"
	unit   quantity.Unit
	figure func(s subject) float64          // NaN: there is nothing to judge
	off    func(x float64) float64          // what of the figure is held against the limits; nil: itself
	limits func(s subject) limits           // that make a note, a caution, a fault
	says   func(s subject, x string) string // what is so; x is the figure as people read it
	advice func(s subject) string           // what to do
	part   string                           // id of the part whose choice may mend it
	offer  func(s subject) []model.Change   // what else may mend it
	mends  func(s subject) (string, int)    // the field, where it is not always the rule's own
	does   func(s subject, x float64) harm  // what comes of it; nil: misleads

	of *model.Field // of this path
}

// Limits are what a figure must not pass, upwards or, with least, downwards;
// never is one that is not there.
type limits struct {
	note, caution, fault float64
	least                bool
}

// never is a limit that no figure passes, whichever way it is held.
var never = math.NaN()

// at makes constant limits that a figure must stay below.
func at(note, caution, fault float64) func(subject) limits {
	return func(subject) limits { return limits{note, caution, fault, false} }
}

// atLeast makes constant limits that a figure must stay above.
func atLeast(note, caution, fault float64) func(subject) limits {
	return func(subject) limits { return limits{note, caution, fault, true} }
}

// grade is how bad a figure is; NaN, which does not exist, is sound.
func (l limits) grade(x float64) Severity {
	passes := func(limit float64) bool {
		if l.least {
			return x < limit
		}
		return x > limit
	}
	switch {
	case passes(l.fault):
		return Fault
	case passes(l.caution):
		return Warning
	case passes(l.note):
		return Note
	}
	return Sound
}

// grade judges a subject without a word.
func (r *rule) grade(s subject) (Severity, float64) {
	x := r.figure(s)
	held := x
	if r.off != nil {
		held = r.off(x)
	}
	return r.limits(s).grade(held), x
}

// count is how many hands or lamps the rule judges, 1 for the whole build.
func (r *rule) count(b *model.Build) int { return r.of.Of(b) }

// placed joins rules, each with its field.
func placed(groups ...[]rule) []rule {
	all := slices.Concat(groups...)
	for k := range all {
		all[k].of = model.Builds.Field(all[k].field)
	}
	return all
}

// A graded rule is one that found something.
type graded struct {
	rule     *rule
	i        int
	severity Severity
	harm     harm
	x        float64
}

// figureText is a number as people read it, in three digits.
func figureText(x float64, u quantity.Unit) string {
	switch {
	case math.IsNaN(x):
		return "none"
	case u == quantity.Hours:
		return quantity.ShowDuration(x)
	case u == quantity.Minutes:
		return quantity.DialTime(x)
	case (u == quantity.PPM || u == quantity.SecondsPerDay) && math.Abs(x) < 0.005:
		return show(0, u)
	case u == quantity.Percent && x > 0 && x < 1e-6:
		return "under 0.0001 %"
	}
	return show(x, u)
}

// show is a number in a unit, in three digits.
func show(x float64, u quantity.Unit) string { return quantity.Show(x, u, 3) }

const day, year = 24, calc.HoursAYear // h

// ofEach makes a figure of a hand's plan.
func ofEach(f func(h *circuit.HandPlan) float64) func(subject) float64 {
	return func(s subject) float64 { return f(s.hand()) }
}

// always says the same of every build.
func always(text string) func(subject) string { return func(subject) string { return text } }

// holds is the figure of what is so or not; limits of half judge it.
func holds(so bool) float64 {
	if so {
		return 1
	}
	return math.NaN()
}

const half = 0.5

// from makes a figure a distance from x0, either way.
func from(x0 float64) func(float64) float64 {
	return func(x float64) float64 { return math.Abs(x - x0) }
}

// A score counts findings by their severity: faults, cautions, notes.
type score [3]int

func (s *score) add(severity Severity) {
	if severity > Sound {
		s[Fault-severity]++
	}
}

// harm weighs faults and cautions alone.
func (s score) harm() int { return 1000*s[0] + s[1] }

// less says whether a build with this score is better than one with another.
func (s score) less(other score) bool { return slices.Compare(s[:], other[:]) < 0 }

// ofHand is " of hours" where there are several hands, "" where there is one.
func (s subject) ofHand(i int) string {
	if len(s.b.Hands) < 2 {
		return ""
	}
	return " of " + s.b.NameOf("hand", i)
}
