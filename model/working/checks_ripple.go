package working

import (
	"fmt"
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// byModes is how a ripple is found.
const byModes = "Found step by step, by computer"

// rippleLetters are those of pulses and what is left of them.
var rippleLetters = map[string]entry{
	"T_p":         always("A PWM period", quantity.Seconds, "prescale·N/clock"),
	"τ":           always("The filter's time", quantity.Seconds, "C·(R_a ∥ R_c)"),
	"x":           inTimes("High, in filter times", "d_half·T_p/τ"),
	"y":           inTimes("Low, in filter times", "(1 − d_half)·T_p/τ"),
	"h":           always("A pin always high drives", quantity.Times, "U/R_chain/I_fs"),
	"short":       always("The shorter of high and low", quantity.Times, "min(d_half, 1 − d_half)"),
	"τ_L":         found("The coil's time", quantity.Seconds, func(d *desk) string { return "inductance/" + d.withShunt("R_loop", "R_chain") }),
	"R_loop":      always("What the coil's current meets", quantity.Ohms, "coil + R_x ∥ R_n"),
	"x_L":         inTimes("High, in coil's times", "d_half·T_p/τ_L"),
	"y_L":         inTimes("Low, in coil's times", "(1 − d_half)·T_p/τ_L"),
	"node":        tried("The node's ripple (its own working)", quantity.Volts, func(d *desk) float64 { return d.solved().RippleVoltageWorst }),
	"coil_ripple": tried("The coil's ripple (ripple_current)", quantity.Percent, func(d *desk) float64 { return d.solved().RippleCurrent }),
	"times":       always("Its PWM over its own frequency", quantity.Times, "2·π/T_p/ω_n"),
	"needle":      always("What the needle follows of it", quantity.Times, "1/sqrt((1 − times²)² + (2·ζ·times)²)"),
	"smooth":      found("What the filter lets pass", quantity.Times, func(d *desk) string { return choose(d.wired().Capacitor > 0, "1/sqrt(1 + (2·π·τ/T_p)²)", "1") }),
	"wide":        always("While it speeds one way", quantity.Seconds, "T_p·sqrt((1 − short²)/3)"),
}

// inTimes is a letter for how many times a time constant something lasts. What is left after 100
// of them is nothing; a calculator's exp goes to 230.
func inTimes(words, formula string) entry {
	return found(words, quantity.Times, func(d *desk) string {
		return choose(d.formula(formula).value() > 100, "min("+formula+", 100)", formula)
	})
}

// pulsed is what an exponential makes of pulses, of the whole swing.
const pulsed = "(1 − 1/exp(x))·(1 − 1/exp(y))/(1 − 1/exp(x + y))"

// pulsedByCoil is the same of a coil's inductance.
const pulsedByCoil = "(1 − 1/exp(x_L))·(1 − 1/exp(y_L))/(1 − 1/exp(x_L + y_L))"

// steady is whether nothing changes: the pin is never low, or never high.
func (d *desk) steady() bool {
	h := d.wired()
	duty := h.Duty(min(h.Top, math.Floor(h.Counts/2)))
	return !(duty > 0 && duty < 1)
}

// unmoved is the working of a ripple that is none.
func (d *desk) unmoved(o circuit.Outcome) ([]Step, error) {
	return d.plainly(o, "The pin does not switch: none", "0")
}

// lastResort is the last one: what the needle or the coil swings about, where no short sum is
// near the swing.
var lastResort = candidate{words: "No short sum comes near; it swings about", formula: "d_half·h", wants: math.NaN(), unit: quantity.Times}

func nodeRipple(d *desk, o circuit.Outcome) ([]Step, error) {
	if d.steady() {
		return d.unmoved(o)
	}
	whole := "U·R_c/R_chain·"
	if d.wired().Inductance == 0 {
		if steps, err := d.plainly(o, d.words(o), whole+pulsed); err == nil {
			return steps, nil
		}
	}
	return d.nearly(o, byModes,
		candidate{words: "As a straight line up and down", formula: whole + "T_p/τ·d_half·(1 − d_half)"},
		candidate{words: "Charge in and out, without the coil's inductance", formula: whole + pulsed},
		candidate{words: "Little comes past the coil", formula: "U·T_p/(R_a·C)·d_half·(1 − d_half)"},
		lastResort)
}

func coilRipple(d *desk, o circuit.Outcome) ([]Step, error) {
	switch h := d.wired(); {
	case d.steady():
		return d.unmoved(o)
	case h.Capacitor > 0 && h.Inductance == 0:
		return d.plainly(o, d.words(o), "node/R_c/I_fs")
	case h.Capacitor == 0 && h.Inductance == 0:
		return d.plainly(o, d.words(o), "h")
	case h.Capacitor == 0:
		if steps, err := d.plainly(o, d.words(o), "h·"+pulsedByCoil); err == nil {
			return steps, nil
		}
	}
	return d.nearly(o, byModes,
		candidate{words: "By Ohm's law, without its inductance", formula: choose(d.wired().Capacitor > 0, "node/R_c/I_fs", "h")},
		candidate{words: "By its inductance alone", formula: "U/inductance/I_fs·T_p·d_half·(1 − d_half)"},
		lastResort)
}

func needleRipple(d *desk, o circuit.Outcome) ([]Step, error) {
	if d.steady() || o.Value == 0 {
		return d.unmoved(o)
	}
	return d.nearly(o, byModes,
		candidate{words: "Pulses of force, twice added up", formula: "S_f·h·ω_n²·T_p²·d_half·(1 − d_half)/8"},
		candidate{words: "Its force up and down, twice added up", formula: "S_f·coil_ripple·ω_n²·wide^3/(12·(1 − short)·T_p)"},
		candidate{words: "The first wave of the pulses alone", formula: "S_f·4/π·h·cos(π·(d_half − 0.5))·smooth·needle"},
		candidate{words: "It follows every pulse", formula: "S_f·h·(1 + 2·wrap_overshoot)"},
		candidate{words: "It follows what the coil gets", formula: "S_f·coil_ripple"},
		lastResort)
}

func lawRipple(d *desk, o circuit.Outcome) ([]Step, error) {
	h := d.wired()
	switch {
	case d.steady() || o.Value == 0:
		return d.plainly(o, "The ripple is on a straight line of its law: none", "0")
	case h.Capacitor == 0 && h.Inductance == 0:
		return d.plainly(o, d.words(o), "S_f·(d_half·law(h) − law(d_half·h))")
	}
	list := []candidate{lastResort}
	switch {
	case h.Law.Kind == calc.Square && h.Inductance == 0:
		if steps, err := d.plainly(o, d.words(o), "S_f·(h/(1 − scale_from))²·(d_half·(1 − d_half) − τ/T_p·"+pulsed+")"); err == nil {
			return steps, nil
		}
		fallthrough
	case h.Law.Kind == calc.Square:
		list = []candidate{
			{words: "A third of the square of half the ripple", formula: "S_f·(coil_ripple/(1 − scale_from))²/12"},
			{words: "Pulses, hardly smoothed", formula: "S_f·(h/(1 − scale_from))²·d_half·(1 − d_half)"}, lastResort}
	case h.Law.Kind == calc.Table && h.Law.From == 0:
		list = []candidate{
			{words: "A ripple straight up and down over its corners", formula: "S_f·(" + d.overCorners() + ")/(2·coil_ripple)"},
			{words: "Pulses, hardly smoothed", formula: "S_f·(d_half·law(h) − law(d_half·h))"}, lastResort}
	}
	return d.nearly(o, byModes, list...)
}

// overCorners is what a current that ripples evenly about its mean makes of the corners of a
// law's table that it passes, times twice the ripple: at each the change of slope times the
// square of how far beyond it the ripple goes.
func (d *desk) overCorners() string {
	points := d.wired().Law.Points
	sum := "0"
	reach, mean := d.solved().RippleCurrent/2, d.formula("d_half·h").value()
	for k := 1; k < len(points)-1; k++ {
		if math.Abs(points[k].Current-mean) >= reach {
			continue
		}
		of := fmt.Sprintf("_%d", k)
		for n, at := range points[k-1 : k+2] {
			d.letters[fmt.Sprintf("%d x%d%s", d.of, n, of)] = share(at.Current)
			d.letters[fmt.Sprintf("%d y%d%s", d.of, n, of)] = share(at.Scale)
		}
		d.let("kink"+of, "How much steeper behind "+quantity.Show(points[k].Current, quantity.Percent, 3), quantity.Times,
			"(y2"+of+" − y1"+of+")/(x2"+of+" − x1"+of+") − (y1"+of+" − y0"+of+")/(x1"+of+" − x0"+of+")")
		d.let("past"+of, "So far the ripple goes past it", quantity.Percent, "coil_ripple/2 − abs(d_half·h − x1"+of+")")
		sum += " + kink" + of + "·past" + of + "²"
	}
	return sum
}
