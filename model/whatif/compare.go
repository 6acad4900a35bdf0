package whatif

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
)

// A Comparison is what differs between two builds without problems. Hands, lamps and other
// elements of lists are matched by their names, rows by their numbers.
type Comparison struct {
	Inputs  []InputDiff
	Results []ResultDiff
	Likely  []LikelyDiff
	Come    []judge.Finding // of the second build alone, or of another severity there
	Gone    []judge.Finding // of the first
}

// An InputDiff is a value that two builds do not share, as text; "" is none. Of a whole
// element that only one of them has it is There.
type InputDiff struct {
	Path, Label string
	A, B        string
}

// There stands for an element that the other build does not have.
const There = "there"

// Told are the inputs as a person reads them: what differs of the walk is one line, as what it
// rested on repeats what differs.
func (c *Comparison) Told() []InputDiff {
	told, n := []InputDiff{}, 0
	for _, d := range c.Inputs {
		if strings.HasPrefix(d.Path, "walk.") {
			n++
			continue
		}
		told = append(told, d)
	}
	if n > 0 {
		told = append(told, InputDiff{Path: "walk", Label: "The walk", B: quantity.Counted(n, "line") + " of it"})
	}
	return told
}

// A ResultDiff is a result that differs by more than its shown digits; NaN is none.
type ResultDiff struct {
	*circuit.Result
	ID   string
	Of   string // the hand it is of, "" of others
	A, B float64
}

// A LikelyDiff is how far a hand is likely to be off a month after it was set, in minutes, where
// that differs as it is shown; NaN is not known, or no such hand.
type LikelyDiff struct {
	Hand string
	A, B float64
}

// LikelyHead stands above them.
const LikelyHead = "Likely off, a month after it was set"

// Texts are the two as people read them, "–" where there is none.
func (d *LikelyDiff) Texts() (a, b string) { return likelyText(d.A), likelyText(d.B) }

func likelyText(minutes float64) string {
	const digits = 3 // as in the list of builds
	return quantity.DialTimeIn(minutes, digits)
}

// Compare returns what differs between two documents without problems.
func Compare(a, b *model.Document) *Comparison {
	c := &Comparison{}
	c.compareInputs(a, b)
	from, to := report.Of(a), report.Of(b)
	c.compareResults(from, to)
	c.compareLikely(from, to)
	c.Gone, c.Come = lacking(from.Findings, to.Findings), lacking(to.Findings, from.Findings)
	return c
}

// Differ says whether there is any difference.
func (c *Comparison) Differ() bool {
	return len(c.Inputs)+len(c.Results)+len(c.Likely)+len(c.Come)+len(c.Gone) > 0
}

// An input is a value of a build by its path.
type input struct {
	field   *model.Field
	index   int
	element string // the path of what it stands in; "" outside lists
}

// inputsOf are all values of a document by their paths, in the order of the fields. Readings
// of one test point are counted.
func inputsOf(d *model.Document) (all map[string]input, order []string, elements map[string]bool) {
	all, elements = map[string]input{}, map[string]bool{}
	for _, f := range model.Builds.Fields {
		for i := range f.Of(d.Build) {
			path := f.PathOf(d.Build, i)
			for _, again := all[path]; again; _, again = all[path] {
				path += "'" // another of the same name
			}
			in := input{field: f, index: i}
			if list := f.List(); list != "" {
				in.element = strings.TrimSuffix(strings.TrimRight(path, "'"), strings.TrimPrefix(f.Path, list)) + path[len(strings.TrimRight(path, "'")):]
				elements[in.element] = true
			}
			all[path], order = in, append(order, path)
		}
	}
	return all, order, elements
}

// compareInputs lists the values that differ in what they say. What neither gives, but a
// built-in cell brings, goes with the cell.
func (c *Comparison) compareInputs(a, b *model.Document) {
	ofA, orderA, elementsA := inputsOf(a)
	ofB, orderB, elementsB := inputsOf(b)
	told := map[string]bool{}
	for _, path := range orderA {
		in := ofA[path]
		if in.element != "" && !elementsB[in.element] {
			if !told[in.element] {
				told[in.element] = true
				c.Inputs = append(c.Inputs, InputDiff{Path: in.element, A: There})
			}
			continue
		}
		other := ofB[path]
		_, givenA := a.Given(in.field, in.index)
		_, givenB := b.Given(other.field, other.index)
		textA, textB := in.field.Text(a.Build, in.index), other.field.Text(b.Build, other.index)
		if (givenA || givenB) && textA != textB {
			c.Inputs = append(c.Inputs, InputDiff{path, strings.TrimSpace(in.field.Label), textA, textB})
		}
	}
	for _, path := range orderB {
		if e := ofB[path].element; e != "" && !elementsA[e] && !told[e] {
			told[e] = true
			c.Inputs = append(c.Inputs, InputDiff{Path: e, B: There})
		}
	}
}

// outcomesOf are all results of a report by their ids.
func outcomesOf(r *report.Report) (all map[string]ResultDiff, order []string) {
	all = map[string]ResultDiff{}
	for _, o := range circuit.Outcomes(&r.Plan) {
		d := ResultDiff{Result: o.Result, ID: o.IDOf(r.Build, o.Index), A: o.Value, B: math.NaN()}
		if o.OfHand() {
			d.Of = r.Build.NameOf("hand", o.Index)
		}
		all[d.ID], order = d, append(order, d.ID)
	}
	return all, order
}

// compareResults lists the results whose texts differ by more than rounding.
func (c *Comparison) compareResults(a, b *report.Report) {
	ofA, orderA := outcomesOf(a)
	ofB, orderB := outcomesOf(b)
	for _, id := range orderA {
		d := ofA[id]
		if other, ok := ofB[id]; ok {
			d.B = other.A
		}
		if d.differs() {
			c.Results = append(c.Results, d)
		}
	}
	for _, id := range orderB {
		if _, ok := ofA[id]; !ok {
			d := ofB[id]
			d.A, d.B = d.B, d.A
			c.Results = append(c.Results, d)
		}
	}
}

// compareLikely lists the hands of which it differs.
func (c *Comparison) compareLikely(a, b *report.Report) {
	for i := range a.Build.Hands {
		name := a.Build.Hands[i].Name
		d := LikelyDiff{name, a.AfterMonth(i).RSS, math.NaN()}
		if k := b.Build.HandNamed(name); k >= 0 {
			d.B = b.AfterMonth(k).RSS
		}
		c.addLikely(d)
	}
	for k := range b.Build.Hands {
		if name := b.Build.Hands[k].Name; a.Build.HandNamed(name) < 0 {
			c.addLikely(LikelyDiff{name, math.NaN(), b.AfterMonth(k).RSS})
		}
	}
}

// addLikely adds what differs as it is shown.
func (c *Comparison) addLikely(d LikelyDiff) {
	if a, b := d.Texts(); a != b {
		c.Likely = append(c.Likely, d)
	}
}

// outcome is one of its values as an outcome.
func (d *ResultDiff) outcome(value float64) circuit.Outcome {
	return circuit.Outcome{Result: d.Result, Value: value}
}

// differs says whether the two values differ as they are shown, and not by a hair that
// rounding makes of it.
func (d *ResultDiff) differs() bool {
	a, b := d.outcome(d.A), d.outcome(d.B)
	return math.IsNaN(d.B) || a.Text() != b.Text() && math.Abs(d.A-d.B) > max(a.Hair(), b.Hair())
}

// Texts are the two values as people read them, "–" where there is none.
func (d *ResultDiff) Texts() (a, b string) { return d.text(d.A), d.text(d.B) }

func (d *ResultDiff) text(value float64) string {
	if math.IsNaN(value) {
		return "–"
	}
	return d.outcome(value).Text()
}

// lacking are the findings that others do not have, of the same severity.
func lacking(findings, others []judge.Finding) []judge.Finding {
	var all []judge.Finding
	for _, f := range findings {
		found := false
		for _, o := range others {
			found = found || o.ID == f.ID && o.About == f.About && o.Severity == f.Severity
		}
		if !found {
			all = append(all, f)
		}
	}
	return all
}
