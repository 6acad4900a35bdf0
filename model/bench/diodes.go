package bench

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/circuit"
)

// protected is a hand's chain at a mean voltage of its pin's driver, V, with what its coil's
// diodes take as a part of the coil. reaches is what share of the current through both
// goes through the coil. Below a voltage at which diodes take next to nothing, it is the
// chain itself.
func protected(h *circuit.HandCircuit, pin float64) (chain *circuit.HandCircuit, reaches float64) {
	const conducts, trial = 0.15, 1e3 // V, Ω
	if !h.Diodes || !(h.Voltages(pin)[circuit.AtCoil] > conducts) {
		return h, 1
	}
	with := *h
	chain = &with
	chain.Coil = math.Inf(1)
	supply := chain.Voltages(pin)[circuit.AtCoil]
	chain.Coil = trial
	series := trial * (supply/chain.Voltages(pin)[circuit.AtCoil] - 1)
	v := calc.DiodeVoltage(supply, series, h.Coil)
	chain.Coil = v / (v/h.Coil + calc.DiodeLeak(v))
	return chain, chain.Coil / h.Coil
}
