package calc

// HoldUp returns how long a capacitor, F, carries a constant current, A, while it
// falls from one voltage to another, V: changing cells while the clock sleeps on,
// down to its brown-out level. All are 0 or more. 0 without a capacitor, and where
// it starts at or below the level; +Inf where nothing is drawn; NaN where both are
// so (0/0), or one of them is not known.
//
// Source: derived, C·ΔU = I·t
func HoldUp(capacitance, from, to, current float64) float64 {
	return capacitance * max(0, from-to) / current
}
