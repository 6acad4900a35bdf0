package spread

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Sensitivity is by how much a result moves with one value of the build.
type Sensitivity struct {
	Input
	Step string  // what the value is changed by: its "±1 %", or "to 9.1 kΩ", the next; a count by "1", a crystal by "±20 ppm"
	By   float64 // what that moves the result by, in its base unit
}

// Sensitivities returns how a result of a build moves with every quantity and every count that
// it depends on, most first, by what each is known to: half of what there is between
// the ends of its tolerance, or without one the step to its next value; what makes the
// time, by the crystal's tolerance. A count is 1 more, at its end 1 less.
func Sensitivities(b *model.Build, row Row) []Sensitivity {
	p := probe{build: b.Changed(nil), row: row}
	var all []Sensitivity
	for _, f := range model.Builds.Fields {
		if f.IsRow() {
			continue
		}
		for i := range f.Of(p.build) {
			s := Sensitivity{Input: Input{Field: f, Index: i}}
			switch v := f.At(p.build, i).(type) {
			case *quantity.Value:
				s.Step, s.By = p.quantity(f, v)
			case *int:
				s.Step, s.By = "1", p.count(f, i, v)
			}
			if math.Abs(s.By) > row.Hair() { // not of NaN
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, func(x, y Sensitivity) int { return cmp.Compare(math.Abs(y.By), math.Abs(x.By)) })
	return all
}

// A probe looks at one result while values of a copy of the build are changed.
type probe struct {
	build *model.Build
	plan  circuit.Plan
	row   Row
}

func (p *probe) look() float64 {
	circuit.Evaluate(p.build, &p.plan)
	return *p.row.At(&p.plan, p.row.Index)
}

// quantity is the step of a quantity, and what it moves the result by; NaN where
// it is not given.
func (p *probe) quantity(f *model.Field, v *quantity.Value) (step string, by float64) {
	if !v.Given() {
		return "", math.NaN()
	}
	was := *v
	defer func() { *v = was }()
	switch {
	case was.High() > was.Low():
		_, step, _ = strings.Cut(quantity.Format(was, f.Unit), " ±")
		return "±" + step, p.between(v, was.Low(), was.High()) / 2
	case slices.Contains(timed, f.Path):
		ppm := 1.0
		if tolerance := p.build.Crystal.Tolerance.Number; tolerance > 0 {
			ppm = tolerance
		}
		step = quantity.Format(quantity.Value{Number: ppm}, quantity.PPM)
		return "±" + step, p.between(v, was.Number*(1-ppm*circuit.PerPPM), was.Number*(1+ppm*circuit.PerPPM)) / 2
	}
	next, ok := f.Next(was.Number)
	if !ok {
		return "", math.NaN()
	}
	return "to " + quantity.Format(quantity.Value{Number: next}, f.Unit), p.between(v, was.Number, next)
}

// timed are what a rate is made of: a percent of them says nothing.
var timed = []string{"crystal.frequency", "crystal.measured", "crystal.tick_counted"}

// between is how far the result rises from one number of a value to another.
func (p *probe) between(v *quantity.Value, from, to float64) float64 {
	v.Number = to
	by := p.look()
	v.Number = from
	return by - p.look()
}

// count is what one more moves the result by; NaN of what is either 0 or 1.
func (p *probe) count(f *model.Field, i int, n *int) float64 {
	was := *n
	_, end := f.Range()
	most := int(end)
	if most == 1 { // a switch
		return math.NaN()
	}
	if f.Path == "hand.drive.top" {
		most = p.build.Hands[i].Drive.MostTop()
	}
	defer func() { *n = was }()
	if was >= most {
		by := p.look()
		*n = was - 1
		return by - p.look()
	}
	by := -p.look()
	*n = was + 1
	return by + p.look()
}
