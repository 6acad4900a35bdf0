package judge

import (
	"strconv"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// Usual tolerances of parts. Common practice, no source.
const (
	resistorTolerance, trimmerTolerance        = 0.01, 0.10
	capacitorTolerance, loadCapacitorTolerance = 0.20, 0.05
	lampResistorTolerance                      = 0.05
	railTolerance, pinTolerance                = 0.01, 0.30
	readingTolerance                           = 0.02 // of an inexpensive multimeter, its last digits counted
)

// asUsual is a value with a tolerance: its own, or the usual one where it has none.
func asUsual(v quantity.Value, tolerance float64) quantity.Value {
	if v.Tolerance == 0 {
		v.Tolerance, v.Share = tolerance, true
	}
	return v
}

// sized is a part of a size, with the tolerance of the present one, or the usual
// one of its kind.
func sized(present quantity.Value, x, tolerance float64) quantity.Value {
	v := quantity.Value{Number: x}
	if x > 0 {
		v.Tolerance, v.Share = tolerance, true
		if present.Share && present.Tolerance > 0 {
			v.Tolerance = present.Tolerance
		}
	}
	return v
}

// change is another text for a field of the subject.
func (s subject) change(path, text string) model.Change {
	return model.Change{Field: model.Builds.Field(path), Index: s.i, Text: text}
}

// count is another count.
func (s subject) count(path string, n int) model.Change { return s.change(path, strconv.Itoa(n)) }

// size is another part of a kind with such a tolerance.
func (s subject) size(path string, x, tolerance float64) model.Change {
	f := model.Builds.Field(path)
	present := f.At(s.b, s.i).(*quantity.Value)
	return s.change(path, quantity.Format(sized(*present, x, tolerance), f.Unit))
}
