package survey

import "math"

// A Value is what was measured, with the band that holds it in 95 % of surveys; NaN where
// nothing is known, or has no bound.
type Value struct{ Value, Low, High float64 }

// nothing is a Value of which nothing is known.
var nothing = Value{math.NaN(), math.NaN(), math.NaN()}

// IsKnown says whether there is a value.
func (v Value) IsKnown() bool { return !math.IsNaN(v.Value) }

// half is half of a band, of its value; everything where there is none.
func (v Value) half() float64 {
	if !v.IsKnown() || math.IsNaN(v.Low+v.High) {
		return math.Inf(1)
	}
	return (v.High - v.Low) / 2 / v.Value
}

// A posterior is what all readings leave of the meter.
type posterior struct {
	resistance, fullScale, volts Value
	ofSorts                      []float64 // how likely each of the sorts is
	rectifier                    float64   // how likely one is inside
}
