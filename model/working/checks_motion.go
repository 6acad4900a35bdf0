package working

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// remaining is the formula of how far a needle still is from its end at a time, of the step.
func (d *desk) remaining(t string) string {
	switch z := d.wired().Movement.Damping; {
	case math.Abs(z-1) < 1e-4:
		return "(1 + ω_n·" + t + ")/exp(ω_n·" + t + ")"
	case z > 1:
		return "(fast/exp(slow·" + t + ") − slow/exp(fast·" + t + "))/(fast − slow)"
	}
	d.let("angle_"+t, "Its swing by then, in radians", quantity.Times, "ring·ω_n·"+t)
	d.let("alive_"+t, "What of it is not damped yet", quantity.Times, "1/exp(ζ·ω_n·"+t+")")
	return "alive_" + t + "·(cos(angle_" + t + ") + ζ/ring·cos(angle_" + t + " − π/2))"
}

// swinging finds what remaining needs, so that its lines come first.
func (d *desk) swinging() {
	d.first("ζ", "ω_n")
	switch z := d.wired().Movement.Damping; {
	case math.Abs(z-1) < 1e-4:
	case z > 1:
		d.let("root", "Of that it creeps by", quantity.Times, "sqrt(ζ² − 1)")
		d.let("slow", "Its slow part, a second", quantity.Times, "ω_n/(ζ + root)")
		d.let("fast", "Its fast part, a second", quantity.Times, "ω_n·(ζ + root)")
	default:
		d.first("ring")
	}
}

func settles(d *desk, o circuit.Outcome) ([]Step, error) {
	d.swinging()
	d.put("settled", "Last 1.5 % off, by trying", quantity.Seconds, o.Value)
	return d.nearly(o, "", candidate{words: "How far off it is then", formula: "abs(" + d.remaining("settled") + ")", wants: 0.015, unit: quantity.Percent})
}

func wrapSpeed(d *desk, o circuit.Outcome) ([]Step, error) {
	h := d.wired()
	stop := choose(d.turnsInTheMiddle(), "1 + 2·stop", "stop")
	return d.strike(o, "1", 1, stop, h.Stop/h.Used+choosing(d.turnsInTheMiddle(), 1, 0))
}

func wakeSpeed(d *desk, o circuit.Outcome) ([]Step, error) {
	h := d.wired()
	wake := 1 - 5/h.Minutes
	if h.Minutes == 1 {
		wake = 1 - 5.0/60
	}
	return d.strike(o, "from_rest", wake-choosing(h.Bridge, 0.5, 0), "1 + "+choose(d.turnsInTheMiddle(), "2·stop", "stop")+" − wake", 1+h.Stop/h.Used-wake)
}

// turnsInTheMiddle says whether the time 0 is the middle of the scale: below it there is as
// much of the scale again.
func (d *desk) turnsInTheMiddle() bool { return d.wired().Used < 1 }

func choosing(so bool, then, other float64) float64 {
	if so {
		return then
	}
	return other
}

// strike is how fast a needle that steps by so much meets a stop beyond its end.
func (d *desk) strike(o circuit.Outcome, step string, by float64, stop string, beyond float64) ([]Step, error) {
	m := d.wired().Movement
	if o.Value == 0 {
		return d.plainly(o, "It does not come so far", "max(0, "+step+"·wrap_overshoot − ("+stop+"))")
	}
	d.let("beyond", "The stop, past its end", quantity.Times, stop)
	d.swinging()
	if step != "1" {
		d.first(step)
	}
	// Between passing its end and turning the needle is at the stop once.
	peak := math.Pi / (m.Frequency() * math.Sqrt((1-m.Damping)*(1+m.Damping)))
	passes := bisect(m.Remaining, 0, peak)
	at := bisect(func(t float64) float64 { return by*m.Remaining(t) + beyond }, passes, peak)
	d.put("met", "It meets the stop, by trying", quantity.Seconds, at)
	left := d.remaining("met")
	return d.beside(o, d.words(o), step+"·ω_n/ring·alive_met·cos(angle_met − π/2)",
		candidate{words: "How far past its end it is then", formula: step + "·abs(" + left + ")", wants: beyond, unit: quantity.Percent},
		candidate{words: "How far it has come then", formula: step + "·(1 − " + left + ")", wants: by + beyond, unit: quantity.Percent})
}

// bisect is where a function that falls from a to b is 0.
func bisect(f func(float64) float64, a, b float64) float64 {
	for range 200 {
		if m := (a + b) / 2; f(m) > 0 {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// lag is what a needle is behind, added up from a time on, times its frequency.
func lag(m calc.Movement, t float64) float64 {
	z, r := m.Damping, math.Sqrt((1-m.Damping)*(1+m.Damping))
	a := r * m.Frequency() * t
	return math.Exp(-z*m.Frequency()*t) * (2*z*math.Cos(a) + (2*z*z-1)/r*math.Sin(a))
}

func shortestRamp(d *desk, o circuit.Outcome) ([]Step, error) {
	if o.Value == 0 {
		return d.plainly(o, "A jump keeps within 1 %", "max(0, wrap_overshoot − 0.01)")
	}
	m, time := d.wired().Movement, o.Value
	turn := math.Pi / (m.Frequency() * math.Sqrt((1-m.Damping)*(1+m.Damping)))
	speed := func(t float64) float64 { return m.Remaining(t-time) - m.Remaining(t) }
	a, n := time, 400.0
	for k := 1.0; k <= 3*n && speed(a+turn/n) > 0; k++ {
		a += turn / n
	}
	at := bisect(speed, a, a+turn/n)
	d.swinging()
	d.let("bent", "Of its sine", quantity.Times, "(2·ζ² − 1)/ring")
	d.put("ramp_found", "The shortest ramp, by trying", quantity.Seconds, time)
	d.put("turned", "It turns then, by trying", quantity.Seconds, at)
	d.let("before_it", "Ramp's end to its turn", quantity.Seconds, "turned − ramp_found")
	left := func(t string) string {
		d.let("angle_"+t, "Its swing by then, in radians", quantity.Times, "ring·ω_n·"+t)
		return "(2·ζ·cos(angle_" + t + ") + bent·cos(angle_" + t + " − π/2))/exp(ζ·ω_n·" + t + ")"
	}
	d.let("start_left", "What its start has left then", quantity.Times, left("turned"))
	d.let("end_left", "What its end has left then", quantity.Times, left("before_it"))
	over := (lag(m, at) - lag(m, at-time)) / m.Frequency() / time
	return d.nearly(o, "", candidate{words: "So far past its end", formula: "(start_left − end_left)/(ω_n·ramp_found)", wants: choosing(math.Abs(over/0.01-1) < Near, 0.01, over), unit: quantity.Percent})
}

// diodesLeak is what the coil's full voltage lets through the diodes, or the most that the
// chain can drive through them where that is less.
func diodesLeak(d *desk, o circuit.Outcome) ([]Step, error) {
	if o.Value == calc.DiodeLeak(d.solved().FullScaleVoltage) {
		return d.plainly(o, d.words(o), leakAt("full_scale_voltage", d.solved().FullScaleVoltage))
	}
	across := 46.3e-3 * math.Log1p(o.Value/2.5e-9)
	d.let("R_zero_more", "All before it, trimmer at zero", quantity.Ohms, "R_p + R_s + R_f + R_i")
	d.let("q", "What the coil leaves of it", quantity.Times, "R_m/(R_zero_more + R_m)")
	d.put("forced", "Across the diode, by trying", quantity.Volts, across)
	d.first("U")
	return d.beside(o, d.words(o), leakAt("forced", across),
		candidate{words: "What the chain drives through it", formula: "(U·q − forced)/(R_zero_more·q + 1)", wants: o.Value, unit: quantity.Amperes},
		candidate{words: "What the chain leaves across it", formula: "U·q", wants: across, unit: quantity.Volts},
		candidate{words: "No more than stands across it", formula: "U·q", wants: math.NaN(), unit: quantity.Volts})
}

// leakAt is the formula of a diode's leak at a voltage: where there is so little of it that no
// calculator tells it from a straight line, that.
func leakAt(letter string, volts float64) string {
	if math.Abs(volts) < 1e-6*46.3e-3 {
		return "leaks·" + letter + "/bends"
	}
	return "leaks·(exp(" + letter + "/bends) − 1)"
}

// diodesBend is how far the scale is bent. Where the coil has little voltage, the exponentials
// differ by too little for a calculator: there a parabola comes near.
func diodesBend(d *desk, o circuit.Outcome) ([]Step, error) {
	if d.solved().FullScaleVoltage > 0.01*46.3e-3 {
		return d.plainly(o, d.words(o), d.formulaOf(o.Result))
	}
	return d.nearly(o, "By the diode's law, with all digits", candidate{words: "As a parabola", formula: "S_f·series·leaks·u²/8/(volts + series·(I_fs + leaks·u))"})
}
