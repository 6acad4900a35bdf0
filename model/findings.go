package model

import (
	"cmp"
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Severity is how bad a finding is.
type Severity uint8

// The severities, mildest first.
const (
	Sound Severity = iota // no finding
	Note
	Caution
	Fault
)

func (s Severity) String() string { return [...]string{"sound", "note", "caution", "fault"}[s] }

// A Finding is a judgement of a build: what is so, and what to do.
type Finding struct {
	ID       string
	About    string // a hand's, lamp's or button's name, or ""
	Severity Severity
	Text     string
	Advice   string   // with what the changes would bring about
	Changes  []Change // that mend it, or make it milder; none where no part can
	Field    string   // path of the field that most likely mends it
}

// String is the finding in words, without its advice: "fault: hours: …".
func (f Finding) String() string {
	if f.About == "" {
		return f.Severity.String() + ": " + f.Text
	}
	return f.Severity.String() + ": " + f.About + ": " + f.Text
}

// A subject is what a rule judges: a solved build, and which of its hands, lamps
// or buttons.
type subject struct {
	b *Build
	p *Plan
	i int
}

func (s subject) hand() *HandPlan       { return &s.p.Hands[s.i] }
func (s subject) meter() *Meter         { return &s.b.Hands[s.i].Meter }
func (s subject) drive() *Drive         { return &s.b.Hands[s.i].Drive }
func (s subject) circuit() *HandCircuit { return &s.p.circuit.Hands[s.i] }
func (s subject) minutes() float64      { return s.p.Minutes(s.i) }

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
	offer  func(s subject) []Change         // what else may mend it
	mends  func(s subject) (string, int)    // the field, where it is not always the rule's own

	place *place // of the field
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
		return Caution
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
func (r *rule) count(b *Build) int { return r.place.of(b) }

// placed joins rules, each with the place of its field.
func placed(groups ...[]rule) []rule {
	all := slices.Concat(groups...)
	for k := range all {
		all[k].place = &Builds.Field(all[k].field).place
	}
	return all
}

// A graded rule is one that found something.
type graded struct {
	rule     *rule
	i        int
	severity Severity
	x        float64
}

// gradeAll judges a solved build by every rule, the worst first, in the order of
// the table where they are alike.
func gradeAll(b *Build, p *Plan) []graded {
	var found []graded
	for k := range rules {
		r := &rules[k]
		for i := range r.count(b) {
			if severity, x := r.grade(subject{b, p, i}); severity > Sound {
				found = append(found, graded{r, i, severity, x})
			}
		}
	}
	slices.SortStableFunc(found, func(a, b graded) int { return cmp.Compare(b.severity, a.severity) })
	return found
}

// Findings judges a solved plan, the worst first. What changes would bring about is
// not worked out: see Report.Advised.
func Findings(b *Build, p *Plan) []Finding {
	return wordsOf(b, p, gradeAll(b, p))
}

func wordsOf(b *Build, p *Plan, all []graded) []Finding {
	findings := make([]Finding, len(all))
	for k := range all {
		findings[k] = all[k].finding(subject{b, p, all[k].i})
	}
	return findings
}

// advise returns the findings of a solved build with the changes that mend them
// and what these would bring about, and the parts that would be better. That takes
// a hundred times as long as the findings alone.
func advise(b *Build, p *Plan) ([]Finding, []Suggestion) {
	all := gradeAll(b, p)
	findings := wordsOf(b, p, all)
	trial := newTrial(b, all)
	better := suggestions(b, p, trial, all)
	for k := range all {
		g, f := &all[k], &findings[k]
		s := subject{b, p, g.i}
		for _, changes := range g.rule.offers(s, better) {
			if effect := g.effect(s, changes, trial); effect != "" {
				f.Advice, f.Changes = f.Advice+" "+effect, changes
				break
			}
		}
	}
	return findings, better
}

// finding puts what a rule found into words.
func (g *graded) finding(s subject) Finding {
	r := g.rule
	field := Builds.Field(r.field)
	f := Finding{
		ID: r.id, Severity: g.severity, Field: field.PathOf(s.b, s.i),
		Text: r.says(s, figureText(g.x, r.unit)), Advice: r.advice(s),
	}
	if field.list != "" {
		f.About = s.b.NameOf(field.list, s.i)
	}
	if r.mends != nil {
		path, index := r.mends(s)
		f.Field = Builds.Field(path).PathOf(s.b, index)
	}
	return f
}

// offers are the changes that may mend what a rule found.
func (r *rule) offers(s subject, better []Suggestion) [][]Change {
	var offers [][]Change
	if r.offer != nil {
		offers = append(offers, r.offer(s))
	}
	list := Builds.Field(r.field).list
	for k := range better {
		if better[k].ID == r.part && (better[k].index == s.i || better[k].list != list) {
			offers = append(offers, better[k].Changes)
		}
	}
	return offers
}

// effect says what changes would do to a finding, computed with them made:
// "Trimmer 5 kΩ → 2 kΩ: travel 11 % → 64 %."; "" where they would not help, or
// would do worse harm elsewhere.
func (g *graded) effect(s subject, changes []Change, trial *trial) string {
	if len(changes) == 0 {
		return ""
	}
	after, score := trial.of(changes)
	severity, x := g.rule.grade(subject{after, &trial.plan, s.i})
	unknown := math.IsNaN(x) && g.rule.unit == quantity.Hours
	if severity >= g.severity || trial.present.less(score) || unknown {
		return ""
	}
	text := changesText(s.b, changes)
	if g.rule.called == "" {
		return text + "."
	}
	return text + ": " + g.rule.called + " " + figureText(g.x, g.rule.unit) + " → " + figureText(x, g.rule.unit) + "."
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
