package survey

import (
	"math"

	"example.com/needlewright/model/quantity"
)

// A testCurrent is what an ohmmeter drives through what it measures, A.
type testCurrent struct {
	of          string
	least, most float64
}

// testCurrents are those of ohmmeters, the least first. Common practice, no source.
var testCurrents = []testCurrent{
	{"200 kΩ range of a multimeter", 2e-6, 10e-6},
	{"20 kΩ range of a multimeter", 20e-6, 80e-6},
	{"2 kΩ range of a multimeter", 0.1e-3, 0.4e-3},
	{"200 Ω range of a multimeter", 0.3e-3, 1.5e-3},
	{"lowest range of an ohmmeter with a needle", 50e-3, 150e-3},
}

// noOhmmeter says what an ohmmeter would do to the needle of a meter with a full scale, A.
func noOhmmeter(fullScale Value) string {
	if !fullScale.IsKnown() || math.IsNaN(fullScale.Low) {
		return "No ohmmeter on it: what it bears is not known."
	}
	for _, c := range testCurrents {
		if c.most < fullScale.Low {
			continue
		}
		would := "may"
		if c.least > fullScale.Low {
			would = "would"
		}
		return "No ohmmeter on it: the " + c.of + " drives " + quantity.Show(c.least, quantity.Amperes, 2) + " to " + quantity.Show(c.most, quantity.Amperes, 2) + ", and " + would + " throw this needle against its stop; what drives more would too."
	}
	return "An ohmmeter drives no more than " + quantity.Show(testCurrents[len(testCurrents)-1].most, quantity.Amperes, 2) + ", which this meter bears."
}
