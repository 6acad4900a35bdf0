package judge

import (
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// ofCrystal are the fields of the crystal that may have a tolerance.
var ofCrystal = func() (fields []*model.Field) {
	var empty model.Build
	for _, f := range model.Builds.Fields {
		if !strings.HasPrefix(f.Path, "crystal.") {
			continue
		}
		if _, ok := f.At(&empty, 0).(*quantity.Value); ok {
			fields = append(fields, f)
		}
	}
	return fields
}()

// A spreadOf is the spread of one figure of the crystal over kits, by the formula of
// catalogue.md, "Bands".
type spreadOf struct {
	calc.Spread
	nominal float64
	of      func(c *circuit.CrystalPlan) float64
}

// spreadCrystal works spreads out: each value of the crystal with a tolerance at its upper
// and at its lower end.
func (s subject) spreadCrystal(spreads ...*spreadOf) {
	for _, spread := range spreads {
		spread.nominal = spread.of(&s.p.Crystal)
	}
	if !slices.ContainsFunc(ofCrystal, func(f *model.Field) bool { return varies(f.At(s.b, 0).(*quantity.Value)) }) {
		return
	}
	b := *s.b
	middle, ends := make([]float64, len(spreads)), make([]float64, len(spreads))
	look := func(visit func(k int, x float64)) {
		c := circuit.WireCrystal(&b)
		plan := c.Solve()
		for k, spread := range spreads {
			visit(k, spread.of(&plan)-middle[k])
		}
	}
	look(func(k int, x float64) { middle[k] = x }) // not of the plan, which may have other capacitors on trial
	for _, f := range ofCrystal {
		v := f.At(&b, 0).(*quantity.Value)
		if !varies(v) {
			continue
		}
		was := *v
		*v = quantity.Value{Number: was.High()}
		look(func(k int, x float64) { ends[k] = x })
		*v = quantity.Value{Number: was.Low()}
		look(func(k int, x float64) { spreads[k].Add(max(ends[k], x, 0), max(-ends[k], -x, 0)) })
		*v = was
	}
}

// varies says whether a value has a tolerance.
func varies(v *quantity.Value) bool { return v.High() > v.Low() }

// rateEnds are the lower end of the band of rate_low and the upper one of rate_high, s/day:
// neither room, age nor parts make the clock lose or gain more.
func (s subject) rateEnds() (low, high float64) {
	slow := spreadOf{of: func(c *circuit.CrystalPlan) float64 { return c.RateLow }}
	fast := spreadOf{of: func(c *circuit.CrystalPlan) float64 { return c.RateHigh }}
	s.spreadCrystal(&slow, &fast)
	return slow.Low(slow.nominal), fast.High(fast.nominal)
}

// knownDrift is month_drift, s; NaN where it is large, and its band reaches as far: what
// it is is not known then, not even its sign.
func (s subject) knownDrift(large float64) float64 {
	if x := s.p.Crystal.MonthDrift; !(math.Abs(x) > large) {
		return x
	}
	drift := spreadOf{of: func(c *circuit.CrystalPlan) float64 { return c.MonthDrift }}
	s.spreadCrystal(&drift)
	if x := &s.b.Crystal; !x.Measured.Given() && x.Tolerance.Number > 0 {
		off := calc.SecondsADay * x.Tolerance.Number * circuit.DaysAMonth
		drift.Add(off, off)
	}
	if x := drift.nominal; math.Abs(x) > max(drift.High(x)-x, x-drift.Low(x)) {
		return x
	}
	return math.NaN()
}
