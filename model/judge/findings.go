package judge

import (
	"cmp"
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Finding is a judgement of a build: what is so, and what to do.
type Finding struct {
	ID       string
	About    string // a hand's, lamp's or button's name, or ""
	Severity Severity
	Text     string
	Advice   string         // with what the changes would bring about
	Changes  []model.Change // that mend it, or make it milder; none where no part can
	Field    string         // path of the field that most likely mends it
}

// String is the finding in words, without its advice: "fault: hours: …".
func (f Finding) String() string {
	if f.About == "" {
		return f.Severity.String() + ": " + f.Text
	}
	return f.Severity.String() + ": " + f.About + ": " + f.Text
}

// gradeAll judges a solved build by every rule, the worst first: by severity, then by
// what comes of it, in the order of the table where they are alike.
func gradeAll(b *model.Build, p *circuit.Plan) []graded {
	var found []graded
	for k := range rules {
		r := &rules[k]
		for i := range r.count(b) {
			s := subject{b, p, i}
			if severity, x := r.grade(s); severity > Sound {
				found = append(found, graded{r, i, severity, r.harm(s, x), x})
			}
		}
	}
	slices.SortStableFunc(found, func(a, b graded) int {
		return cmp.Or(cmp.Compare(b.severity, a.severity), cmp.Compare(b.harm, a.harm))
	})
	return found
}

// Findings judges a solved plan, the worst first. What changes would bring about is
// not worked out: see Report.Advised.
func Findings(b *model.Build, p *circuit.Plan) []Finding {
	return wordsOf(b, p, gradeAll(b, p))
}

func wordsOf(b *model.Build, p *circuit.Plan, all []graded) []Finding {
	findings := make([]Finding, len(all))
	for k := range all {
		findings[k] = all[k].finding(subject{b, p, all[k].i})
	}
	return findings
}

// Advise returns the findings of a solved build with the changes that mend them
// and what these would bring about, and the parts that would be better. That takes
// a hundred times as long as the findings alone.
func Advise(b *model.Build, p *circuit.Plan) ([]Finding, []Suggestion) {
	all := gradeAll(b, p)
	findings := wordsOf(b, p, all)
	trial := newTrial(b, p, all)
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
	field := model.Builds.Field(r.field)
	f := Finding{
		ID: r.id, Severity: g.severity, Field: field.PathOf(s.b, s.i),
		Text: r.says(s, figureText(g.x, r.unit)), Advice: r.advice(s),
	}
	if field.List() != "" {
		f.About = s.b.NameOf(field.List(), s.i)
	}
	if r.mends != nil {
		path, index := r.mends(s)
		f.Field = model.Builds.Field(path).PathOf(s.b, index)
	}
	return f
}

// offers are the changes that may mend what a rule found.
func (r *rule) offers(s subject, better []Suggestion) [][]model.Change {
	var offers [][]model.Change
	if r.offer != nil {
		offers = append(offers, r.offer(s))
	}
	list := model.Builds.Field(r.field).List()
	for k := range better {
		if better[k].ID == r.part && (better[k].index == s.i || better[k].list != list) {
			offers = append(offers, better[k].Changes)
		}
	}
	return offers
}

// effect says what changes would do to a finding, computed with them made:
// "Trimmer 5 kΩ → 2 kΩ: travel 11 % → 64 %.", and what they make worse; "" where they
// would not help, or would do worse harm elsewhere.
func (g *graded) effect(s subject, changes []model.Change, trial *trial) string {
	if len(changes) == 0 {
		return ""
	}
	after, score := trial.of(changes)
	severity, x := g.rule.grade(subject{after, &trial.plan, s.i})
	unknown := math.IsNaN(x) && g.rule.unit == quantity.Hours
	if severity >= g.severity || trial.present.less(score) || trial.raised || unknown || !trial.sound(after, changes) {
		return ""
	}
	worse := trial.worse(after)
	if !worse.bears(trial.present, score) {
		return ""
	}
	text := model.ChangesText(s.b, changes)
	if g.rule.called == "" {
		return text + "." + worse.String()
	}
	return text + ": " + g.rule.called + " " + figureText(g.x, g.rule.unit) + " → " + figureText(x, g.rule.unit) + "." + worse.String()
}
