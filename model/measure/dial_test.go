package measure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// What a dial says. Birthplace: by hand.
func TestSaid(t *testing.T) {
	none := math.NaN()
	for text, want := range map[string][2]float64{
		"30 V": {30, none}, "0-30 V": {30, none}, "0–75 mV": {0.075, none}, "500 µA": {none, 500e-6}, "0 - 10 A": {none, 10},
		"100 mAmps": {none, 0.1}, "VU": {none, none}, "30": {none, none}, "": {none, none}, "-5 V": {5, none}, "kV": {none, none},
	} {
		volts, amperes := Said(text)
		for k, x := range [2]float64{volts, amperes} {
			if math.IsNaN(want[k]) {
				assert.True(t, math.IsNaN(x), "%s: %v", text, x)
			} else {
				assert.InEpsilon(t, want[k], x, 1e-12, text)
			}
		}
	}
}

// What follows for the terminals. Birthplace: Ohm's law by hand: 30 V at 1 kΩ/V are 1 mA into
// 30 kΩ; 60 mV across 2 Ω are 30 mA; 10 A are those of the shunt where one is outside.
func TestPropose(t *testing.T) {
	bare := modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.marked", "")
	for _, c := range []struct {
		said                  []string
		resistance, fullScale string
	}{
		{[]string{"marked", "30 V", "ohms_per_volt", "1 kΩ/V"}, "30.0 kΩ ±5 %", "1.00 mA ±5 %"},
		{[]string{"marked", "30 V"}, "", ""},
		{[]string{"ohms_per_volt", "1 kΩ/V"}, "", "1.00 mA ±5 %"},
		{[]string{"marked", "30 V", "terminal_resistance", "30 kΩ"}, "30 kΩ", "1.00 mA ±5 %"},
		{[]string{"marked", "30 V", "terminal_full_scale", "2 mA"}, "15.0 kΩ ±5 %", "2 mA"},
		{[]string{"marked", "10 A"}, "", "10.0 A ±5 %"},
		{[]string{"marked", "10 A", "shunt_drop", "60 mV"}, "", ""},
		{[]string{"marked", "10 A", "shunt_drop", "60 mV", "terminal_resistance", "2 Ω"}, "2 Ω", "30.0 mA ±5 %"},
		{[]string{"marked", "1 kV", "ohms_per_volt", "1 MΩ/V"}, "", "1.00 µA ±5 %"}, // 1 GΩ is more than the field takes
	} {
		text := bare
		for k := 0; k < len(c.said); k += 2 {
			text = modeltest.With(t, text, "hand.hours.meter."+c.said[k], c.said[k+1])
		}
		d := Propose(model.Open(text), 0)
		require.Empty(t, d.Problems, c.said)
		resistance, fullScale := model.Builds.Field("hand.meter.terminal_resistance"), model.Builds.Field("hand.meter.terminal_full_scale")
		given, _ := d.Given(resistance, 0)
		assert.Equal(t, c.resistance, given, c.said)
		given, _ = d.Given(fullScale, 0)
		assert.Equal(t, c.fullScale, given, c.said)
		assert.Equal(t, d.Text, Propose(d, 0).Text, "what stands is left: %v", c.said)

		// The dial's word taken back takes back what it said, and nothing that was measured.
		without := d
		for k := 0; k < len(c.said); k += 2 {
			if c.said[k] == "marked" || c.said[k] == "ohms_per_volt" || c.said[k] == "shunt_drop" {
				without = without.Set(model.Builds.Field("hand.meter."+c.said[k]), 0, "")
			}
		}
		without = Propose(without, 0)
		for path, f := range map[string]*model.Field{"terminal_resistance": resistance, "terminal_full_scale": fullScale} {
			_, stands := without.Given(f, 0)
			typed := false
			for k := 0; k < len(c.said); k += 2 {
				typed = typed || c.said[k] == path
			}
			assert.Equal(t, typed, stands, "%s of %v", path, c.said)
		}
	}
}
