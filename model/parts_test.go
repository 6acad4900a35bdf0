package model

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// randomBuild is a build around a random meter with no parts chosen, of any
// controller: coil, full scale, rail and their tolerances over all that is usual.
func randomBuild(t require.TestingT, r *rand.Rand) *Build {
	b, problems := Read(newText(newTables, randomValues(r)))
	require.Empty(t, messages(problems))
	b.Crystal.CapacitorIn.Number, b.Crystal.CapacitorOut.Number = 0, 0
	return b
}

func randomValues(r *rand.Rand) map[string]newValue {
	values := map[string]newValue{}
	put := func(path, text string) { values[path] = newValue{text: text} }
	value := func(path string, least, most, tolerance float64) {
		v := quantity.Value{Number: least * math.Pow(most/least, r.Float64()), Tolerance: tolerance * r.Float64(), Share: true}
		v.Number, v.Tolerance = rounded(v.Number), rounded(v.Tolerance)
		put(path, quantity.Format(v, fieldTable[path].Unit))
	}
	pick := func(path string, texts ...string) { put(path, texts[r.IntN(len(texts))]) }
	value("hand.meter.coil", 5, 10e3, 0.05)
	value("hand.meter.full_scale", 10e-6, 20e-3, 0.05)
	value("rail.voltage", 1.8, 5.5, 0.03)
	value("hand.drive.pin_resistance", 20, 150, 0.3)
	value("hand.meter.period", 0.3, 3, 0)
	pick("hand.shows", "12 h", "12 h", "24 h", "60 min", "60 s")
	pick("hand.meter.law", "linear", "linear", "linear", "square")
	pick("hand.drive.clock", "32.768 kHz", "128 kHz", "1 MHz", "4 MHz", "8 MHz", "16 MHz")
	pick("hand.drive.prescale", "1", "1", "8", "64", "256")
	pick("hand.drive.counts", "240", "250", "256", "360", "1000", "1024")
	pick("hand.drive.top", "240", "200", "180", "239")
	pick("hand.drive.trimmer_turns", "1", "25")
	pick("hand.drive.pin_limit", "10 mA", "20 mA")
	pick("crystal.load", "6 pF", "7 pF", "9 pF", "12.5 pF")
	pick("crystal.transconductance", "", "5 µS", "14 µS")
	pick("battery.cells", "0", "1", "2", "3", "4")
	pick("lamp.resistor", "150 Ω", "470 Ω", "1 kΩ", "2.2 kΩ")
	pick("load.controller_on", "0.5 mA", "2 mA", "8 mA")
	pick("load.minimum_voltage", "", "1.8 V")
	return values
}

// rounded is a number in three digits, as a person types it.
func rounded(x float64) float64 {
	if x == 0 {
		return 0
	}
	scale := math.Pow(10, 2-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}

// takeAll takes over what is suggested until nothing is.
func takeAll(t require.TestingT, b *Build) *Build {
	var p Plan
	for range 20 {
		Evaluate(b, &p)
		found := gradeAll(b, &p)
		better := suggestions(b, &p, newTrial(b, found), found)
		if len(better) == 0 {
			return b
		}
		b = b.changed(better[0].Changes)
	}
	require.Fail(t, "suggestions without an end")
	return b
}

// findings counts faults, cautions and notes of a build, by Evaluate and every
// rule of the table.
func countFindings(b *Build, p *Plan) (n [3]int) {
	Evaluate(b, p)
	for _, g := range gradeAll(b, p) {
		n[Fault-g.severity]++
	}
	return n
}

var _ = fmt.Sprint
var _ = slices.Sort[[]int]
var _ = calc.E24
var _ = assert.True
var _ testing.TB
