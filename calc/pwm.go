package calc

// PinVoltage returns the mean voltage, V, of a pin that is high for code of
// counts counts on a rail, V; 0 <= code <= counts.
//
// Source: common practice, no source
func PinVoltage(rail, code, counts float64) float64 { return rail * code / counts }

// PWMFrequency returns the frequency, Hz, of an edge-aligned PWM of counts
// counts from a clock, Hz, divided by prescale.
//
// Source: [Ponikvar], whose 64 counts of 32 768 Hz make 512 Hz
func PWMFrequency(clock, prescale, counts float64) float64 { return clock / (prescale * counts) }

// A Chain is the way from the pin to ground: Before the capacitor's node,
// After it (coil included), both Ω. With no capacitor only the sum counts; with
// one, Before is more than 0.
//
// Source: derived
type Chain struct {
	Before, After float64
	Capacitor     float64 // F, 0: none
}

// Current returns the mean coil current, A, for a mean pin voltage, V.
func (c Chain) Current(pin float64) float64 { return pin / (c.Before + c.After) }

// RailCurrent returns the mean current, A, drawn from the rail, V, while the
// code sweeps evenly from 0 to a top duty, 0 to 1; see Swept.
func (c Chain) RailCurrent(rail, duty float64) float64 { return c.Swept(rail, 0, duty) }

// Swept returns the mean current, A, drawn from the rail, V, while the duty sweeps
// evenly from one end to another, 0 to 1, with the node taken as steady. In the low part
// of each period the pin empties the capacitor to ground, so that with a capacitor
// more is drawn than the coil gets.
func (c Chain) Swept(rail, from, to float64) float64 {
	if c.Capacitor == 0 {
		return rail * (from + to) / (2 * (c.Before + c.After))
	}
	k := Across(c.After, c.Before)
	return rail / c.Before * ((from+to)/2 - k*(from*from+from*to+to*to)/3)
}

// FromRail returns the mean current, A, drawn from the rail at a duty, 0 to 1, with
// the node taken as steady: U/Ra·(d - k·d²), k = Rc/(Ra+Rc), with a capacitor, and
// the coil's own without.
func (c Chain) FromRail(rail, duty float64) float64 {
	if c.Capacitor == 0 {
		return rail * duty / (c.Before + c.After)
	}
	k := Across(c.After, c.Before)
	return rail / c.Before * (duty - k*duty*duty)
}

// PinPeak returns the largest current, A, the pin gives on a rail, V: into the
// empty capacitor at switch-on, or into the whole chain where there is none.
func (c Chain) PinPeak(rail float64) float64 {
	if c.Capacitor == 0 {
		return rail / (c.Before + c.After)
	}
	return rail / c.Before
}
