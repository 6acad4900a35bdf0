package spread

import (
	"cmp"
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Sensitivity is by how much a result moves with one value of the build.
type Sensitivity struct {
	Input
	Step string  // what the value is changed by: "1 %" of it; of a temperature, an offset, a count and of 0 one of its unit: "1 °C", "1 ppm", "1 point"
	By   float64 // what that moves the result by, in its base unit
}

// Sensitivities returns how a result of a build moves with every quantity and every count that
// it depends on, whether there is a tolerance or not, most first. A quantity is
// changed by half of its step either way, at an end of its range by all of it the
// one way; a count is 1 more, at its end 1 less.
func Sensitivities(b *model.Build, row Row) []Sensitivity {
	p := probe{build: b.Changed(nil), row: row}
	var all []Sensitivity
	for _, f := range model.Builds.Fields {
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
	was, whole := *v, 0.01*math.Abs(v.Number)
	step = "1 %"
	if byUnit(f, *v) {
		whole = f.Unit.Factor()
		if step = quantity.Format(quantity.Value{Number: whole}, f.Unit); f.Unit == quantity.Percent {
			step = "1 point" // 1 % of it is something else
		}
	}
	low, high := was.Number-whole/2, was.Number+whole/2
	least, most := f.Range()
	switch {
	case low < least:
		low, high = was.Number, was.Number+whole
	case high > most:
		low, high = was.Number-whole, was.Number
	}
	v.Number = high
	by = p.look()
	v.Number = low
	by -= p.look()
	*v = was
	return step, by
}

// byUnit says whether a share of a value says nothing: of a temperature, an offset
// in ppm, a temperature coefficient, and of 0.
func byUnit(f *model.Field, v quantity.Value) bool {
	switch f.Unit {
	case quantity.Celsius, quantity.PPM, quantity.PPMPerKelvin:
		return true
	}
	return v.Number == 0
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
