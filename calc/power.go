package calc

// MostPowerBefore returns the largest power, W, over all duties, that the
// resistances before the node turn into heat together, on a rail, V. With a capacitor
// the node is taken as steady, and they are heated while it fills and while
// it empties, d·(U-v)²/Ra + (1-d)·v²/Ra with v = kdU and k = Rc/(Ra+Rc), that is
//
//	U²/Ra·(d - k(2-k)·d²),
//
// which is largest below full duty where k is over 1-1/√2. Without one it is
// Ra's share of U²·d/(Ra+Rc), largest at full duty.
//
// One current flows through all of them, so that a single resistor takes its
// share of the resistance: R/Before of this power. The pin is one of them.
func (c Chain) MostPowerBefore(rail float64) float64 {
	through := c.Before + c.After
	k := Across(c.After, c.Before)
	if bend := k * (2 - k); c.Capacitor != 0 && bend > 0.5 {
		return rail * rail / c.Before / (4 * bend)
	}
	return rail * rail * c.Before / (through * through) // d = 1, with and without
}

// MostPowerAfter returns the largest power, W, that all after the node turns
// into heat on a rail, V, the coil included: that of a pin that stays high. A
// single resistor, or the coil, takes R/After of it.
func (c Chain) MostPowerAfter(rail float64) float64 {
	through := c.Before + c.After
	return rail * rail * c.After / (through * through)
}
