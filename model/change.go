package model

import (
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Change is another text for one value of a build; "" takes it out.
type Change struct {
	Field *Field
	Index int // of its hand or lamp
	Text  string
}

// Path is the path of the value: "hand.hours.drive.fixed".
func (c Change) Path(b *Build) string { return c.Field.PathOf(b, c.Index) }

// Make returns the document with changes made, in their order.
func (d *Document) Make(changes []Change) *Document {
	for _, c := range changes {
		d = d.Set(c.Field, c.Index, c.Text)
	}
	return d
}

// changesText says what would change: "Fixed resistor 3.3 kΩ → 4.3 kΩ, trimmer
// 1 kΩ → 500 Ω".
func changesText(b *Build, changes []Change) string {
	var parts []string
	cell := slices.ContainsFunc(changes, func(c Change) bool { return c.Field.Path == "battery.cell" })
	for _, c := range changes {
		if cell && c.Text == "" && parent(c.Field.Path) == "battery" {
			continue // what the build gave of the other cell goes with it
		}
		label := strings.TrimSpace(c.Field.Label)
		if len(parts) > 0 {
			label = strings.ToLower(label[:1]) + label[1:]
		}
		parts = append(parts, label+" "+orNone(nominalText(c.Field.Text(b, c.Index)))+" → "+orNone(nominalText(c.Text)))
	}
	return strings.Join(parts, ", ")
}

// nominalText is a value's text without its tolerance.
func nominalText(text string) string {
	nominal, _, _ := strings.Cut(text, " ±")
	return nominal
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// changed returns a copy of a build with changes made to it. What a built-in
// cell gave follows a change of the cell.
func (b *Build) changed(changes []Change) *Build {
	c := *b
	c.Hands, c.Lamps = slices.Clone(b.Hands), slices.Clone(b.Lamps)
	c.Drains, c.Buttons = slices.Clone(b.Drains), slices.Clone(b.Buttons)
	another := false
	for _, change := range changes {
		change.put(&c)
		another = another || change.Field.Path == "battery.cell"
	}
	if another {
		c.Battery.refill(changes)
	}
	return &c
}

// put puts a text of the program's own into a build.
func (c Change) put(b *Build) {
	switch v := c.Field.At(b, c.Index).(type) {
	case *quantity.Value:
		*v = c.Field.absent
		if c.Text != "" {
			*v = must(c.Text, c.Field.Unit)
		}
	case *int:
		*v = c.Field.absentCount
		if c.Text != "" {
			*v = mustCount(c.Text)
		}
	case *string:
		*v = c.Field.Absent
		if c.Text != "" {
			*v = c.Text
		}
	case *[]calc.Charge: // only ever taken out: see refill
		*v = nil
	}
}

// A trial works out what changes would bring about, in memory of its own.
type trial struct {
	build   *Build
	plan    Plan
	present score
}

// newTrial is a trial of a build whose findings are known.
func newTrial(b *Build, found []graded) *trial {
	t := &trial{build: b}
	for _, g := range found {
		t.present.add(g.severity)
	}
	return t
}

// of evaluates the build with changes made; the plan stays until the next one.
func (t *trial) of(changes []Change) (*Build, score) {
	b := t.build.changed(changes)
	Evaluate(b, &t.plan)
	return b, t.score(b)
}

// score judges the build last evaluated.
func (t *trial) score(b *Build) score {
	var s score
	for k := range rules {
		r := &rules[k]
		for i := range r.count(b) {
			severity, _ := r.grade(subject{b, &t.plan, i})
			s.add(severity)
		}
	}
	return s
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

// A bench is a copy of a build on which one hand's parts are exchanged, and
// judged by the rules of hands alone.
type bench struct {
	build   *Build
	plan    Plan
	i       int
	present Drive
	trimmed map[[2]int]seriesParts // the best, by top code and counts, once they are known
}

func (s subject) bench() *bench {
	build := *s.b
	build.Hands = slices.Clone(s.b.Hands)
	b := &bench{build: &build, plan: *s.p, i: s.i, present: *s.drive(), trimmed: map[[2]int]seriesParts{}}
	b.plan.Hands = slices.Clone(s.p.Hands)
	b.plan.circuit.Hands = slices.Clone(s.p.circuit.Hands)
	return b
}

func (b *bench) drive() *Drive { return &b.build.Hands[b.i].Drive }

func (b *bench) subject() subject { return subject{b.build, &b.plan, b.i} }

// solve solves the hand's chain anew, and its ripple where it is asked for; what
// follows from neither stays.
func (b *bench) solve(ripple bool) *HandPlan {
	h, p := &b.plan.circuit.Hands[b.i], &b.plan.Hands[b.i]
	floor := h.Floor
	*h = wireHand(b.build, &b.build.Hands[b.i])
	h.Floor = floor
	p.Step = h.Minutes / h.Top
	chain := h.chain()
	h.solveSeries(p, chain)
	if ripple {
		h.solveFilter(p, chain)
		h.solveRipple(p, chain)
	}
	return p
}

// rulesOfHands are all rules that judge hands.
var rulesOfHands = slices.DeleteFunc(slices.Clone(rules), func(r rule) bool { return Builds.Field(r.field).list != "hand" })

// score counts what they find.
func (b *bench) score() score { return b.blames("") }

// blames counts what they find that a part may mend; any part where it is "".
func (b *bench) blames(part string) score {
	var s score
	for k := range rulesOfHands {
		if r := &rulesOfHands[k]; part == "" || r.part == part {
			severity, _ := r.grade(b.subject())
			s.add(severity)
		}
	}
	return s
}
