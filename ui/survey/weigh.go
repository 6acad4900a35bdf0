package survey

import (
	"math"

	engine "example.com/needlewright/model/survey"
)

// skip is the answer of who has none.
const skip = "skip"

// known is what a dialogue leaves of a meter's terminals.
type known struct{ resistance, fullScale engine.Value }

// knownOf is what is known so far: as yet nothing before the verdict.
func knownOf(verdict *engine.Verdict) known {
	if verdict != nil {
		return known{verdict.Resistance, verdict.FullScale}
	}
	nothing := engine.Value{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
	return known{nothing, nothing}
}
