package dial

import (
	"testing"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

func BenchmarkNew(b *testing.B) {
	build := modeltest.Sound(b, modeltest.With(b, modeltest.Example("reading-room"), "hand.hours.dial.numerals", "all"))
	p := new(circuit.Plan)
	circuit.Evaluate(build, p)
	for b.Loop() {
		New(build, p, 0, Point{})
	}
}
