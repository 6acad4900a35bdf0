package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// calibrated is a meter without anything uneven.
func calibrated(ohms, fullScale float64) *meter {
	return &meter{ohms: ohms, fullScale: fullScale, sort: sort{share: 1, power: 1}}
}

// Meters with their published multipliers stand at full scale on the published volts, and at
// half with as much again in a row.
func TestPublishedMultipliers(t *testing.T) {
	for _, c := range []struct{ volts, amps, coil, series, stands float64 }{
		{0.5, 1e-3, 500, 0, 1},       // Kuphaldt, Lessons In Electric Circuits I, ch. 8 "Voltmeter design": 0.5 V by itself
		{10, 1e-3, 500, 9500, 1},     // the same: 9.5 kΩ
		{100, 1e-3, 500, 99500, 1},   // the same: 99.5 kΩ
		{1000, 1e-3, 500, 999500, 1}, // the same: 999.5 kΩ
		{100, 8e-3, 10, 12490, 1},    // Bird, Electrical Circuit Theory and Technology, ch. 10 Problem 2: 12.49 kΩ
		{150, 5e-3, 20, 29980, 1},    // public exam notes: 29.98 kΩ
		{5, 1e-3, 5000, 0, 1},        // US Army correspondence course SS0602, p. 26: 5000 Ω in all for full scale
		{5, 1e-3, 5000, 5000, 0.5},   // the same: 5000 Ω more for half scale
	} {
		assert.InEpsilon(t, c.stands, calibrated(c.coil, c.amps).place(c.volts, c.series).here, 1e-12)
	}
}

// A closed case with a published shunt inside: 50 µA and 1000 Ω with 111.1 Ω across read 500 µA
// (a textbook's solution; 111.11 Ω computed), so 100 Ω at the terminals: by hand, 1000 and
// 111.11 side by side.
func TestPublishedShunt(t *testing.T) {
	m := calibrated(100, 500e-6)
	assert.InEpsilon(t, 0.5, m.place(1, 4e3-100).here, 1e-12, "250 µA")
	assert.InEpsilon(t, 1.0, m.place(0.05, 0).here, 1e-12, "50 mV")
}

// The multimeter's 10 MΩ take their part. Source: Kuphaldt, ch. 8 "Voltmeter impact on measured
// circuit": of 24 V over 250 MΩ and 250 MΩ it reads 0.8889 V.
func TestPublishedMultimeter(t *testing.T) {
	m := calibrated(250e6, 1)
	assert.InDelta(t, 0.8889, m.across(24, 250e6).here, 5e-5)
}

// Half deflection: 4 Ω across a coil of 20/3 Ω halve what it takes behind 10 Ω. Source: a JEE Main
// question, answer 6.67 Ω. A source and a resistor with one across the meter are one source to it
// (Thévenin): V·S/(R + S) behind R·S/(R + S). Of the 10 Ω 3 are the source's own, which count.
func TestPublishedHalfDeflection(t *testing.T) {
	m := calibrated(20./3, 0.1)
	const resistor, ofSource, across = 7.0, 3.0, 4.0
	const outside = resistor + ofSource
	whole := m.place(1, outside).here
	assert.InEpsilon(t, whole/2, m.place(1*across/(outside+across), outside*across/(outside+across)).here, 1e-12)
	// Without the source's own the same coil is not halved: 4·7/(4 + 7 + 4·7/(20/3)) by hand.
	whole = m.place(1, resistor).here
	assert.Greater(t, m.place(1*across/(resistor+across), resistor*across/(resistor+across)).here/whole, 0.53)
}
