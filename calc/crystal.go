package calc

import "math"

// SecondsADay is the rate, s/day, of one part per million: 86 400 s/1e6.
const SecondsADay = 0.0864

const (
	ppm  = 1e6
	pico = 1e-12
)

// LoadActual returns the load capacitance, F, a crystal sees: its two
// capacitors in series, and the stray across it, all F. Without one of the two
// only the stray is left.
//
// Source: [SLAA423]
func LoadActual(in, out, stray float64) float64 {
	if in == 0 || out == 0 {
		return stray
	}
	return in*out/(in+out) + stray
}

// A Pulling is a crystal's way of following its load: its motional and its
// shunt capacitance, F.
//
// Source: [SLAA423] "Load capacitance"
type Pulling struct{ Motional, Shunt float64 }

// Offset returns how far, ppm, a crystal specified for one load capacitance, F,
// runs off with another; + is fast.
func (p Pulling) Offset(actual, specified float64) float64 {
	return p.Motional / 2 * (1/(p.Shunt+actual) - 1/(p.Shunt+specified)) * ppm
}

// Sensitivity returns how much, ppm per pF, the frequency follows the load, F:
// negative, since more load makes it slower.
func (p Pulling) Sensitivity(actual float64) float64 {
	c := p.Shunt + actual
	return -p.Motional / (2 * c * c) * ppm * pico
}

// Load returns the load, F, with which the crystal runs off by so many ppm, specified for
// another, F: what Offset is, the other way round. It is not above 0 where the shunt
// capacitance alone makes it slower than that; NaN where no load makes it so slow.
//
// Source: [SLAA423], solved for the load
func (p Pulling) Load(offset, specified float64) float64 {
	each := 1/(p.Shunt+specified) + 2*offset/ppm/p.Motional
	if !(each > 0) {
		return math.NaN()
	}
	return 1/each - p.Shunt
}

// CapacitorEach returns the size, F, of two like capacitors that with the
// stray, F, make a load, F. It is negative where the stray alone is more.
//
// Source: [AN2867], read second-hand
func CapacitorEach(load, stray float64) float64 { return 2 * (load - stray) }

// Parabolic returns how far, ppm, 0 or more, a tuning-fork crystal runs below its
// turnover frequency at t, °C; curvature in ppm/K², positive.
//
// Source: [TF20] fig. 1
func Parabolic(curvature, t, turnover float64) float64 {
	return curvature * (t - turnover) * (t - turnover)
}

// ParabolicRange returns the least and the greatest fall, ppm, over the room
// temperatures low to high, °C, low <= high.
//
// Source: derived
func ParabolicRange(curvature, turnover, low, high float64) (least, greatest float64) {
	a, b := Parabolic(curvature, low, turnover), Parabolic(curvature, high, turnover)
	least, greatest = min(a, b), max(a, b)
	if low <= turnover && turnover <= high {
		least = 0 * curvature // 0, or NaN where that is not known
	}
	return least, greatest
}

// ParabolicMean returns the mean fall, ppm, while the temperature goes from low to high, °C,
// and back like a sine, as a room does in a year: the mean square of a sine is half of its
// amplitude's.
//
// Source: derived; the sine is common practice, no source
func ParabolicMean(curvature, turnover, low, high float64) float64 {
	amplitude := (high - low) / 2
	return Parabolic(curvature, (low+high)/2, turnover) + curvature*amplitude*amplitude/2
}

// An Oscillation is a crystal in its oscillator.
//
// Source: [AN2867], read second-hand
type Oscillation struct {
	Frequency, ESR float64 // Hz, Ω
	Shunt, Load    float64 // F
}

// TransconductanceCritical returns the transconductance, S, below which the
// oscillation dies.
func (o Oscillation) TransconductanceCritical() float64 {
	w, c := 2*math.Pi*o.Frequency, o.Shunt+o.Load
	return 4 * o.ESR * w * w * c * c
}

// A Counter counts a crystal and overflows: the tick the firmware adds up.
// Reload is below 2^Bits.
//
// Source: common practice, no source
type Counter struct {
	Prescale, Bits float64
	Reload, Lost   float64 // counts loaded at each overflow, lost at each reload
}

// TickPeriod returns the time, s, between two overflows at a frequency, Hz.
func (c Counter) TickPeriod(frequency float64) float64 {
	return c.Prescale * (math.Exp2(c.Bits) - c.Reload + c.Lost) / frequency
}

// Simplest returns the fraction add/every between low and high, low <= high, with the least
// every, 1 or more, and of those the add nearest to 0; low and high themselves as far as
// rounding lets them. Numbers whose fraction would not fit
// give 0/1.
//
// Source: derived, continued fractions (the Stern-Brocot tree)
func Simplest(low, high float64) (add, every int64) {
	const most = 1 << 53 // whole numbers that a float64 holds
	switch {
	case low <= 0 && 0 <= high, !(math.Abs(low) < most && math.Abs(high) < most):
		return 0, 1
	case high < 0:
		add, every = Simplest(-high, -low)
		return -add, every
	}
	// (a, b) and (c, d) are the last two convergents of what low and high have in common.
	a, b, c, d := 0.0, 1.0, 1.0, 0.0
	for range 64 {
		whole := math.Ceil(low)
		last := whole <= high
		if !last {
			whole = math.Floor(low)
		}
		a, b, c, d = c, d, whole*c+a, whole*d+b
		if last || c >= most || d >= most {
			break
		}
		low, high = 1/(high-whole), 1/(low-whole)
	}
	if c >= most || d >= most {
		return 0, 1
	}
	return int64(c), int64(d)
}
