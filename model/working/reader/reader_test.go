package reader

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Worked by hand, or with the tables of logarithms and cosines anyone has.
func TestCompute(t *testing.T) {
	for expression, want := range map[string]float64{
		"5 V × 240/256":                    4.6875,
		"4.6875 V / 500 µA":                9375,
		"8.2 kΩ × (1 − 1 %)":               8118,
		"600 Ω ∥ 300 Ω":                    200,
		"2 × 6 Ω ∥ 12 Ω":                   6,  // from the left: 12 ∥ 12
		"12 / 2 × 3":                       18, // not 12 / 6
		"10 − 2 − 3":                       5,
		"2 × 3^2":                          18,
		"(-3)^2 + -1":                      8,
		"√(9) + |2 − 5| + ⌊7/2⌋":           9,
		"max(0, 2, 1) − min(5, 3)":         -1,
		"ln(exp(2)) + cos(π)":              1,
		"0.034 ppm/K² × (15 °C − 25 °C)^2": 3.4e-6,
		"-1 × 4 fF / (2 × (10 pF)^2)":      -2e7, // 1/F: -20 ppm/pF
		"1e-6 × 3":                         3e-6,
		"7 Ah × 2 %/a / 8766":              7 * 0.02 / 8766,
		"720 min / 240":                    180,
		"240 × 20 ms / 4.8 s":              1,
		"2 × |(1 − 4) × (2 + |-1|)|":       18,
		"(2 + 2)\u00a0× 1":                 math.NaN(), // no such space on a calculator
		"2 h + 3 s":                        math.NaN(),
		"-2^2":                             math.NaN(),
		"2^3^2":                            math.NaN(),
		"1 / 0":                            math.NaN(),
		"√(1 − 2)":                         math.NaN(),
		"(1 + 2":                           math.NaN(),
		"1 + 2)":                           math.NaN(),
		"5 blob":                           math.NaN(),
		"5 V × sin(1)":                     math.NaN(),
		"":                                 math.NaN(),
		"3 V - 1 V":                        math.NaN(), // a hyphen is no minus sign
		"5 V 3 V":                          math.NaN(),
	} {
		got, err := Compute(expression)
		if math.IsNaN(want) {
			assert.Error(t, err, expression)
			continue
		}
		require.NoError(t, err, expression)
		assert.InEpsilon(t, want, got, 1e-14, expression)
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		text        string
		value, half float64
	}{
		{"8.685 kΩ", 8685, 0.5},
		{"574.74 µA", 574.74e-6, 0.005e-6},
		{"-41.50 %", -0.4150, 0.00005},
		{"256", 256, 0.5},
		{"1.5e-6", 1.5e-6, 0.05e-6},
		{"3.000 min", 180, 0.03},
		{"-15.26 ppm/pF", -15.26e6, 0.005e6},
		{"-0.6263 s/day", -0.6263, 0.00005},
		{"60.0 mm", 0.06, 0.00005},
	} {
		value, half, err := Number(c.text)
		require.NoError(t, err, c.text)
		assert.InEpsilon(t, c.value, value, 1e-14, c.text)
		assert.InEpsilon(t, c.half, half, 1e-12, c.text)
	}
	for _, text := range []string{"", "kΩ", "5 V more", "1.2.3", "5  V"} {
		_, _, err := Number(text)
		assert.Error(t, err, "%q", text)
	}
}

// A working of a made-up result, with a line of each form.
const printed = ` A made-up result  1.500 V                                       hand: hours
 1 Words beside it                1 V + 0.5 V                =  1.5 V
 2 Words above it
    1 V × (2 − 1
     + 0.5)                                                  =  1.500 V
 3 Comes near it, within 0.1 %    1.5012 V                   ≈  1.5 V
   95 % of kits 1.4 … 1.6 V; spread by rail 100 %.
`

func TestLines(t *testing.T) {
	lines, err := Lines(printed)
	require.NoError(t, err)
	assert.Equal(t, []Line{
		{1, "Words beside it", "1 V + 0.5 V", "1.5 V", true},
		{2, "Words above it", "1 V × (2 − 1 + 0.5)", "1.500 V", true},
		{3, "Comes near it, within 0.1 %", "1.5012 V", "1.5 V", false},
	}, lines)
	for _, l := range lines[:2] {
		_, err := l.Check()
		assert.NoError(t, err, l.String())
	}
	assert.NoError(t, Tells(lines, 1.50049, "V"))
	assert.Error(t, Tells(lines, 1.50051, "V"))
	assert.Error(t, Tells(lines, 1.5, "mV"))
	assert.Error(t, Tells(lines[:1], 1.5, "V"), "two digits")
}

// A step that leads nowhere, and those that lead on: as a number of a later line, or as
// its answer, or as nought.
func TestLoose(t *testing.T) {
	lines := []Line{
		{Expression: "1 V + 1 V", Answer: "2 V", Exact: true},
		{Expression: "3 V + 3 V", Answer: "6 V", Exact: true},
		{Expression: "3 V − 3 V", Answer: "0 V", Exact: true},
		{Expression: "3 V + 4 V", Answer: "7 V", Exact: true},
		{Expression: "(16 V − 2 V) / 2", Answer: "7.000 V", Exact: true},
		{Expression: "7 V", Answer: "7 V", Exact: true},
	}
	assert.Equal(t, []Line{lines[1], lines[4]}, Loose(lines))
}

// What a line may not be off by, at the last printed digit and beyond it.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		line Line
		good bool
	}{
		{Line{Expression: "2 / 3", Answer: "0.6667", Exact: true}, true},
		{Line{Expression: "2 / 3", Answer: "0.6666", Exact: true}, false},
		{Line{Expression: "1 / 8", Answer: "0.12", Exact: true}, true}, // half way: either
		{Line{Expression: "1 / 8", Answer: "0.13", Exact: true}, true},
		{Line{Expression: "100 V", Answer: "102 V"}, true},
		{Line{Expression: "100 V", Answer: "103 V"}, false},
		{Line{Words: "so, within 0.1 %", Expression: "100 V", Answer: "100.2 V"}, false},
		{Line{Words: "so, within 5 %", Expression: "100 V", Answer: "100.2 V"}, false},
		{Line{Expression: "100 V", Answer: "none", Exact: true}, false},
	} {
		_, err := c.line.Check()
		assert.Equal(t, c.good, err == nil, "%s: %v", c.line, err)
	}
}
