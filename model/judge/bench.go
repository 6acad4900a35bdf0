package judge

import (
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A bench is a copy of a build on which one hand's parts are exchanged, and
// judged by the rules of hands alone.
type bench struct {
	build   *model.Build
	plan    circuit.Plan
	i       int
	present model.Drive
	trimmed map[[2]int]seriesParts // the best, by top code and counts, once they are known
}

func (s subject) bench() *bench {
	build := *s.b
	build.Hands = slices.Clone(s.b.Hands)
	b := &bench{build: &build, plan: *s.p, i: s.i, present: *s.drive(), trimmed: map[[2]int]seriesParts{}}
	b.plan.Hands = slices.Clone(s.p.Hands)
	b.plan.Circuit.Hands = slices.Clone(s.p.Circuit.Hands)
	return b
}

func (b *bench) drive() *model.Drive { return &b.build.Hands[b.i].Drive }

func (b *bench) subject() subject { return subject{b.build, &b.plan, b.i} }

// solve solves the hand anew at steady currents, and its filter and ripple where that is
// asked for; what follows from neither stays.
func (b *bench) solve(ripple bool) *circuit.HandPlan {
	h, p := &b.plan.Circuit.Hands[b.i], &b.plan.Hands[b.i]
	floor := h.Floor
	*h = circuit.WireHand(b.build, &b.build.Hands[b.i])
	h.Floor = floor
	p.Step = h.Minutes * h.Reach / h.Top
	groups := circuit.Steady.With()
	if ripple {
		groups |= circuit.Filter | circuit.Ripple
	}
	b.plan.SolveHand(b.i, groups)
	return p
}

// rulesOfHands are all rules that judge hands.
var rulesOfHands = slices.DeleteFunc(slices.Clone(rules), func(r rule) bool { return model.Builds.Field(r.field).List() != "hand" })

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

// A seriesParts is a stage resistor, a fixed one and a trimmer, Ω.
type seriesParts struct{ stage, fixed, trimmer float64 }
