package faulty

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Independent: the same circuit stepped through its periods until it repeats itself,
// by Runge and Kutta's method of the fourth order.
type stepped struct {
	h          *hand
	volts, top float64 // of the rail; duty
}

// slopes are the rates of the node's voltage, the coil's current, the needle and its
// speed. Without inductance the current follows at once.
func (s *stepped) slopes(x [4]float64, pin float64) [4]float64 {
	h := s.h
	before, after := h.pin+h.stage, h.fixed+h.setting+h.coil
	if !h.atStage {
		before, after = before+h.fixed+h.setting, h.coil
	}
	current := x[1]
	if h.inductance == 0 {
		current = x[0] / after
	}
	own := 2 * math.Pi / h.period
	rates := [4]float64{
		((pin-x[0])/before - current) / h.capacitor,
		0,
		x[3],
		own*own*(current/h.fullScale-x[2]) - 2*h.damping*own*x[3],
	}
	if h.inductance > 0 {
		rates[1] = (x[0] - current*after) / h.inductance
	}
	return rates
}

func plus(x, rate [4]float64, dt float64) [4]float64 {
	for i := range x {
		x[i] += rate[i] * dt
	}
	return x
}

// run returns the node's alternating root mean square, the coil's mean square current,
// and how far the needle moves to and fro.
func (s *stepped) run(periods, steps int) (node, square, swing float64) {
	dt := 1 / s.h.pwm / float64(steps)
	after := s.h.coil
	if s.h.atStage {
		after += s.h.fixed + s.h.setting
	}
	mean := s.volts * s.top
	total := s.h.pin + s.h.stage + s.h.fixed + s.h.setting + s.h.coil
	x := [4]float64{mean * after / total, mean / total, mean / total / s.h.fullScale, 0}
	var sum, squares, currents float64
	least, most := math.Inf(1), math.Inf(-1)
	for p := range periods {
		for i := range steps {
			pin := 0.0
			if float64(i) < s.top*float64(steps) {
				pin = s.volts
			}
			a := s.slopes(x, pin)
			b := s.slopes(plus(x, a, dt/2), pin)
			c := s.slopes(plus(x, b, dt/2), pin)
			d := s.slopes(plus(x, c, dt), pin)
			for j := range x {
				x[j] += dt / 6 * (a[j] + 2*b[j] + 2*c[j] + d[j])
			}
			if p == periods-1 {
				current := x[1]
				if s.h.inductance == 0 {
					current = x[0] / after
				}
				sum, squares, currents = sum+x[0], squares+x[0]*x[0], currents+current*current
				least, most = math.Min(least, x[2]), math.Max(most, x[2])
			}
		}
	}
	n := float64(steps)
	return math.Sqrt(squares/n - sum*sum/n/n), currents / n, most - least
}

func TestWavesAgreeWithStepping(t *testing.T) {
	for _, c := range []struct {
		name, at, capacitor, inductance, clock string
	}{
		{"at the coil", "coil", "4.7 µF", "0 H", "1 MHz"},
		{"slow", "coil", "1 µF", "0 H", "20 kHz"},
		{"at the stage", "stage", "1 µF", "0 H", "1 MHz"},
		{"with a coil of 300 mH", "coil", "0.47 µF", "300 mH", "1 MHz"},
	} {
		b := read(t, exact, "hand.hours.drive.stage", "1 kΩ", "hand.hours.drive.capacitor_at", c.at, "hand.hours.drive.capacitor", c.capacitor,
			"hand.hours.meter.inductance", c.inductance, "hand.hours.drive.clock", c.clock)
		h := &built(b).hands[0]
		duty := 120. / 256
		node, square, swing := (&stepped{h, 5, duty}).run(400, 512)
		assert.InEpsilon(t, node, 5*h.rms(duty, func(w wave) complex128 { return w.node }), 2e-3, c.name)
		current := 5 * h.rms(duty, func(w wave) complex128 { return w.coil })
		steady := 5 * duty / (h.pin + h.stage + h.fixed + h.setting + h.coil)
		assert.InEpsilon(t, square, steady*steady+current*current, 2e-3, c.name)
		if got := h.tremble(5); got > 1e-3 {
			duty = 128. / 256
			_, _, swing = (&stepped{h, 5, duty}).run(400, 512)
			assert.InEpsilon(t, swing, got, 0.02, c.name)
		} else {
			assert.Less(t, swing, 2e-3, c.name)
		}
	}
}

// Derived: bare pulses have d(1−d) of the square of what the divider leaves.
func TestWavesWithoutCapacitor(t *testing.T) {
	b := read(t, exact, "hand.hours.drive.capacitor", "")
	want := 5 * math.Sqrt(0.46875*0.53125) * 640 / 9375
	assert.InEpsilon(t, want, at(t, built(b), "hours.node_ac_half"), 1e-9)
}

// Derived: the needle of a square law stands at the mean square, which bare pulses make
// larger than the square of the mean by 1/d.
func TestSquareLawFollowsTheMeanSquare(t *testing.T) {
	b := read(t, exact, "hand.hours.drive.capacitor", "", "hand.hours.meter.law", "square")
	c := built(b)
	assert.InEpsilon(t, 0.25/0.46875, at(t, c, "hours.needle_half"), 1e-6)
	smooth := read(t, exact, "hand.hours.drive.capacitor", "470 µF", "hand.hours.meter.law", "square")
	assert.InEpsilon(t, 0.25, at(t, built(smooth), "hours.needle_half"), 1e-4)
}

// Derived: the harmonics of a square wave of U between 0 and U have 2U/(πn) at their
// peaks, n odd, and far above its own period T a needle follows each by 1/(n·f·T)²:
// together 4/π · (1 − 1/27 + 1/125 …) = 4/π · π³/32 from peak to peak.
func TestTrembleOfSlowPulses(t *testing.T) {
	b := read(t, exact, "hand.hours.drive.capacitor", "", "hand.hours.drive.clock", "8 kHz")
	c := built(b)
	h := &c.hands[0]
	turns := h.pwm * h.period
	want := 5 / 9375. / 500e-6 * 4 / math.Pi * math.Pow(math.Pi, 3) / 32 / (turns*turns - 1)
	assert.InEpsilon(t, want, h.tremble(5), 0.02)
	assert.Equal(t, "trembles", word(t, c, "hours.needle_moving"))
}

// Derived: with the diodes across it the coil's voltage is where what the chain drives
// is what coil and diodes take.
func TestDiodesClamp(t *testing.T) {
	b := read(t, exact, "hand.hours.meter.diodes", "silicon", "hand.hours.meter.internal_kind", "none")
	c := built(b, Fault{ID: "fixed_decade_low", About: "hours"})
	v := at(t, c, "hours.coil_voltage_top")
	assert.InEpsilon(t, (4.6875-v)/(50+820+485), v/640+v/10e6+2.5e-9*(math.Exp(v/0.0463)-1), 1e-6)
	assert.Less(t, v, 4.6875*640/1995)
}
