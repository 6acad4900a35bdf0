package judge

import (
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A trial works out what changes would bring about, in memory of its own.
type trial struct {
	build   *model.Build
	plan    circuit.Plan
	present score
}

// newTrial is a trial of a build whose findings are known.
func newTrial(b *model.Build, found []graded) *trial {
	t := &trial{build: b}
	for _, g := range found {
		t.present.add(g.severity)
	}
	return t
}

// of evaluates the build with changes made; the plan stays until the next one.
func (t *trial) of(changes []model.Change) (*model.Build, score) {
	b := t.build.Changed(changes)
	circuit.Evaluate(b, &t.plan)
	return b, t.score(b)
}

// score judges the build last evaluated.
func (t *trial) score(b *model.Build) score {
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
