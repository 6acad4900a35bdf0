package model

import (
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// ofEach makes a figure of a hand's plan.
func ofEach(f func(h *HandPlan) float64) func(subject) float64 {
	return func(s subject) float64 { return f(s.hand()) }
}

// always says the same of every build.
func always(text string) func(subject) string { return func(subject) string { return text } }

// holds is the figure of what is so or not; limits of half judge it.
func holds(so bool) float64 {
	if so {
		return 1
	}
	return math.NaN()
}

const half = 0.5

// from makes a figure a distance from x0, either way.
func from(x0 float64) func(float64) float64 {
	return func(x float64) float64 { return math.Abs(x - x0) }
}

// handRules judge each hand. Limits: common practice, no source, unless a row
// says otherwise.
var handRules = []rule{
	{id: "trimmer_travel", field: "hand.drive.fixed", called: "travel", unit: quantity.Percent, part: "series",
		figure: ofEach(func(h *HandPlan) float64 { return h.TrimmerTravel }), off: from(0.5), limits: at(never, 0.4, 0.5),
		says: func(_ subject, x string) string { return "Full scale asks for " + x + " of the trimmer's travel." },
		advice: func(s subject) string {
			if s.hand().SeriesNeeded < 0 {
				return "There is too little voltage to drop: a higher rail, or a meter that needs less."
			}
			switch travel := s.hand().TrimmerTravel; {
			case travel < 0:
				return "The resistors before it drop too much already: a smaller fixed one."
			case travel > 1:
				return "It has no more than 100 %: a larger fixed resistor, or a larger trimmer."
			}
			return "Its end turns are coarse and tolerances eat a tenth: bring it near its middle."
		}},
	{id: "travel_band", field: "hand.drive.trimmer", called: "nearest end", unit: quantity.Percent, part: "series",
		figure: func(s subject) float64 { return s.travelToSpare() }, limits: atLeast(never, 0.02, never),
		says: func(_ subject, x string) string {
			return "With the parts' tolerances the trimmer may come within " + x + " of its end, or past it: not every kit will trim up."
		},
		advice: always("A trimmer that covers the tolerances, or closer parts.")},
	{id: "trimmer_share", field: "hand.drive.trimmer", called: "share", unit: quantity.Percent, part: "series",
		figure: ofEach(func(h *HandPlan) float64 { return h.TrimmerShare }), limits: at(0.3, 0.6, never),
		says:   func(_ subject, x string) string { return "The trimmer makes up " + x + " of the chain." },
		advice: always("Its wiper and its temperature move the needle, and it protects nothing: more of it in the fixed resistor.")},
	{id: "trim_step", field: "hand.drive.trimmer_turns", called: "step", unit: quantity.Minutes, part: "series",
		figure: ofEach(func(h *HandPlan) float64 { return h.TrimStep }),
		limits: func(s subject) limits { return limits{s.hand().Step / 4, s.hand().Step, never, false} },
		says:   func(_ subject, x string) string { return "The trimmer sets full scale in steps of " + x + "." },
		advice: always("A multi-turn trimmer, or a smaller one."),
		offer: func(s subject) []Change {
			return []Change{{Builds.Field("hand.drive.trimmer_turns"), s.i, "25"}}
		}},
	{id: "full_scale_reached", field: "hand.drive.fixed", called: "full scale", unit: quantity.Percent, part: "series",
		figure: ofEach(func(h *HandPlan) float64 { return h.FullScaleReached }), off: from(1), limits: at(never, 0.01, 0.03),
		says: func(_ subject, x string) string {
			return "At the top code the needle gets " + x + " of its full-scale current."
		},
		advice: func(s subject) string {
			if needed := s.hand().SeriesNeeded; needed >= 0 {
				return "It takes " + show(needed, quantity.Ohms) + " in series, trimmer included."
			}
			return "The rail is too low for this coil even without any: a higher rail, or a meter that needs less voltage."
		},
		mends: func(s subject) (string, int) {
			if s.drive().Setting.Given() {
				return "hand.drive.setting", s.i
			}
			return "hand.drive.fixed", s.i
		}},
	// 1.2 is what a meter stands for good (IEC 60051, read second-hand); 2 bends pointers when pegged.
	{id: "overload_worst", field: "hand.drive.fixed", called: "worst", unit: quantity.Times, part: "series",
		figure: ofEach(func(h *HandPlan) float64 { return h.OverloadWorst }),
		limits: func(s subject) limits { return limits{1, s.meter().Overload.Number, 2, false} },
		says: func(_ subject, x string) string {
			return "Pin stuck high, trimmer at zero: " + x + " times full scale."
		},
		advice: always("Set the trimmer to its maximum before the first power-up; a larger fixed resistor with a smaller trimmer protects the coil for good.")},
	{id: "inside", field: "hand.meter.in_circuit", called: "full scale", unit: quantity.Percent,
		figure: func(s subject) float64 { return s.reachedWithInside() }, off: from(1), limits: insideLimits,
		says: func(s subject, x string) string {
			return "The " + s.meter().InternalKind + " inside is still connected: the needle gets " + x + " of its full-scale current."
		},
		advice: func(s subject) string {
			h := s.hand()
			return "Take it out. With it the terminals show " + show(h.TerminalResistance, quantity.Ohms) + " and ask for " + show(h.TerminalFullScale, quantity.Microamperes) + "."
		},
		offer: func(s subject) []Change {
			return []Change{{Builds.Field("hand.meter.in_circuit"), s.i, "no"}}
		}},
	{id: "pin_mean_current", field: "hand.meter.full_scale", unit: quantity.Percent, part: "series",
		figure: func(s subject) float64 { return s.hand().PinMeanCurrent / s.drive().PinLimit.Number }, limits: at(0.25, 0.5, 1),
		says: func(s subject, x string) string {
			return "At the top code the pin gives " + show(s.hand().PinMeanCurrent, quantity.Milliamperes) + ", " + x + " of its limit."
		},
		advice: always("Its voltage sags and drifts well below the limit: a more sensitive meter, or a driver stage.")},
	{id: "pin_peak_current", field: "hand.drive.stage", called: "peak", unit: quantity.Percent, part: "filter",
		figure: func(s subject) float64 { return s.hand().PinPeakCurrent / s.drive().PinLimit.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "Into the empty capacitor the pin gives " + show(s.hand().PinPeakCurrent, quantity.Milliamperes) + ", " + x + " of its limit."
		},
		advice: always("Put more resistance before the capacitor.")},
	{id: "pin_share", field: "hand.drive.pin_resistance", unit: quantity.Percent,
		figure: ofEach(func(h *HandPlan) float64 { return h.PinShare }), limits: at(0.01, 0.03, never),
		says: func(s subject, x string) string {
			return "The pin's own resistance is " + x + " of the chain: where it is a third off, so is the needle by " + quantity.DialTime(s.hand().PinShare*0.3*s.minutes()) + "."
		},
		advice: always("It spreads by a third and follows temperature; trimming takes the spread out. A more sensitive meter, or a driver stage.")},
	{id: "coil_share", field: "hand.meter.coil_copper", unit: quantity.Percent,
		figure: ofEach(func(h *HandPlan) float64 { return h.CoilShare }), limits: at(0.15, 0.4, never),
		says: func(s subject, x string) string {
			return "Copper is " + x + " of the chain: 10 K move full scale by " + quantity.DialTime(0.0393*s.hand().CoilShare*s.minutes()) + "."
		},
		advice: always("A higher rail with more series resistance swamps it.")},
	{id: "resistor_power", field: "hand.drive.resistor_rating", called: "heat", unit: quantity.Percent,
		figure: func(s subject) float64 { return s.hand().ResistorPower / s.drive().ResistorRating.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "A resistor turns " + show(s.hand().ResistorPower, quantity.Milliwatts) + " to heat, " + x + " of what it stands."
		},
		advice: always("A larger kind of resistor."),
		offer: func(s subject) []Change {
			return []Change{{Builds.Field("hand.drive.resistor_rating"), s.i, ratingFor(s.hand().ResistorPower)}}
		}},
	{id: "trimmer_power", field: "hand.drive.trimmer", called: "heat", unit: quantity.Percent, part: "series",
		figure: func(s subject) float64 { return s.hand().TrimmerPower / s.drive().ResistorRating.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "The trimmer's current is for " + show(s.hand().TrimmerPower, quantity.Milliwatts) + " over its whole track, " + x + " of what it stands."
		},
		advice: always("Near its end all of it falls on a little of the track: a smaller trimmer.")},
	{id: "ripple_needle", field: "hand.drive.capacitor", called: "trembles", unit: quantity.Percent, part: "filter",
		figure: func(s subject) float64 { return s.hand().RippleNeedle / s.minutes() }, limits: at(0.002, 0.005, 0.02),
		says: func(s subject, x string) string {
			return "The needle trembles by " + quantity.DialTime(s.hand().RippleNeedle) + ", " + x + " of the scale."
		},
		advice: always("A faster PWM or a larger capacitor steadies it; 0.2 % of the scale is what the eye sees.")},
	{id: "pwm_slow", field: "hand.drive.pwm_wanted", called: "periods a swing", unit: quantity.Times, part: "pwm",
		figure: func(s subject) float64 { return s.periodsASwing() }, limits: atLeast(never, 25, 8),
		says: func(s subject, x string) string {
			return "The PWM of " + show(s.hand().PWMFrequency, quantity.Hertz) + " has only " + x + " periods in a swing of the needle, which follows them."
		},
		advice: always("From 25 on the needle smooths by itself.")},
	{id: "hum", field: "hand.drive.capacitor", called: "ripple", unit: quantity.Percent, part: "filter",
		figure: func(s subject) float64 {
			if f := s.hand().PWMFrequency; f <= 100 || f >= 8000 {
				return math.NaN()
			}
			return s.hand().RippleCurrent
		},
		limits: at(0.1, 0.5, never),
		says: func(s subject, x string) string {
			return "The coil's current ripples by " + x + " of full scale at " + show(s.hand().PWMFrequency, quantity.Hertz) + ": a quiet room hears it hum."
		},
		advice: always("A PWM above 8 kHz, or a capacitor.")},
	{id: "filter_idle", field: "hand.drive.capacitor", unit: quantity.Hertz,
		figure: func(s subject) float64 { return s.hand().FilterCorner / s.hand().PWMFrequency }, limits: at(1.0/3, never, never),
		says: func(s subject, _ string) string {
			return "The filter's corner of " + show(s.hand().FilterCorner, quantity.Hertz) + " is near or above the PWM of " + show(s.hand().PWMFrequency, quantity.Hertz) + ": it hardly filters."
		},
		advice: always("The needle itself may smooth enough; else a larger capacitor.")},
	{id: "filter_draws", field: "hand.drive.stage", unit: quantity.Times, part: "filter", called: "its draw",
		figure: func(s subject) float64 {
			return s.hand().FilterCurrent / (s.hand().RailCurrent - s.hand().FilterCurrent)
		}, limits: at(1, never, never),
		says: func(s subject, x string) string {
			return "The filter draws " + show(s.hand().FilterCurrent, quantity.Microamperes) + " for itself, " + x + " times what the meter gets."
		},
		advice: always("In the low part of each period the pin empties the capacitor: more resistance before it.")},
	{id: "filter_settling", field: "hand.drive.capacitor", unit: quantity.Seconds, called: "settles in", part: "filter",
		figure: ofEach(func(h *HandPlan) float64 { return h.FilterSettling }),
		limits: func(s subject) limits {
			l := limits{s.hand().NeedleSettling / 3, never, never, false}
			if s.minutes() == 1 {
				l.caution = 1
			}
			return l
		},
		says: func(_ subject, x string) string {
			return "The filter takes " + x + " to settle: the needle grows sluggish."
		},
		advice: always("A smaller capacitor, or a faster PWM with one.")},
	{id: "never_at_rest", field: "hand.meter.period", unit: quantity.Seconds,
		figure: func(s subject) float64 {
			if s.minutes() != 1 {
				return math.NaN()
			}
			return s.hand().NeedleSettling
		},
		limits: at(0.5, 1, never),
		says: func(_ subject, x string) string {
			return "The seconds needle takes " + x + " to settle: it is hardly ever at rest."
		},
		advice: always("A quicker meter, or a smooth sweep in many small steps.")},
	{id: "capacitor_leak", field: "hand.drive.capacitor_kind", called: "leak", unit: quantity.Minutes, part: "filter",
		figure: func(s subject) float64 { return s.leak() },
		limits: func(s subject) limits { return limits{0.003 * s.minutes(), 0.01 * s.minutes(), never, false} },
		says: func(_ subject, x string) string {
			return "An electrolytic leaks 1 to 3 µA, less with time: up to " + x + " on this meter."
		},
		advice: always("A film or ceramic capacitor.")},
	{id: "capacitor_voltage", field: "hand.drive.capacitor_rating", called: "reserve", unit: quantity.Times,
		figure: func(s subject) float64 { return s.drive().CapacitorRating.Number / s.circuit().MostRail },
		limits: atLeast(never, 1.5, 1),
		says: func(s subject, x string) string {
			return "With the coil's lead off the capacitor gets " + show(s.circuit().MostRail, quantity.Volts) + "; it stands " + x + " times that."
		},
		advice: always("One for half as much again. Reversed or overdriven, an electrolytic can burst."),
		offer: func(s subject) []Change {
			return []Change{{Builds.Field("hand.drive.capacitor_rating"), s.i, voltageFor(1.5 * s.circuit().MostRail)}}
		}},
	{id: "law_ripple", field: "hand.drive.capacitor", called: "shift", unit: quantity.Minutes, part: "filter",
		figure: ofEach(func(h *HandPlan) float64 { return h.LawRippleError }), off: math.Abs,
		limits: func(s subject) limits { return limits{s.hand().Step / 2, s.hand().Step, never, false} },
		says: func(s subject, x string) string {
			text := "The coil's ripple shifts half scale by " + x + ": the needle shows the mean of its law, not the law of the mean."
			if s.meter().Law == "table" {
				return "If the law is that of a moving iron: " + strings.ToLower(text[:1]) + text[1:]
			}
			return text
		},
		advice: always("Smooth the current, or measure the scale with this very drive.")},
	{id: "pin_bend", field: "hand.drive.pin_low", unit: quantity.Minutes, part: "filter", called: "bend",
		figure: ofEach(func(h *HandPlan) float64 { return h.PinBend }), off: math.Abs,
		limits: func(s subject) limits { return limits{s.hand().Step / 4, s.hand().Step, never, false} },
		says: func(_ subject, x string) string {
			return "The pin's resistance is not the same high and low: the scale bends by " + x + " between its ends."
		},
		advice: func(s subject) string {
			d := s.drive()
			return "Before the capacitor at least " + show(100*math.Abs(d.PinHigh.Number-d.PinLow.Number), quantity.Ohms) + "."
		}},
	{id: "diode_bend", field: "hand.meter.diodes", unit: quantity.Minutes, called: "bend",
		figure: ofEach(func(h *HandPlan) float64 { return h.DiodeBend }),
		limits: func(s subject) limits { return limits{s.hand().Step / 4, s.hand().Step, never, false} },
		says: func(s subject, x string) string {
			return "The diodes across the coil leak " + show(s.hand().DiodeLeak, quantity.Microamperes) + " at full scale and bend it by " + x + "."
		},
		advice: always("They suit a coil below 0.2 V at full scale; else the fixed resistor alone protects it."),
		offer: func(s subject) []Change {
			return []Change{{Builds.Field("hand.meter.diodes"), s.i, "none"}}
		}},
	{id: "zero_off", field: "hand.meter.zero_offset", unit: quantity.Minutes,
		figure: ofEach(func(h *HandPlan) float64 { return h.ZeroError }), off: math.Abs,
		limits: func(s subject) limits { return limits{s.hand().Step / 2, 0.02 * s.minutes(), never, false} },
		says: func(_ subject, x string) string {
			return "Without current the needle stands " + x + " off zero."
		},
		advice: always("The zero screw first, case closed, in its final place, tapping; then trim full scale.")},
	{id: "friction", field: "hand.meter.stick", unit: quantity.Minutes,
		figure: ofEach(func(h *HandPlan) float64 { return h.StickError }),
		limits: func(s subject) limits { return limits{2 * s.hand().Step, 0.02 * s.minutes(), never, false} },
		says:   func(_ subject, x string) string { return "The needle may stick up to " + x + " from its place." },
		advice: always("Look for dust in the gap, paper or window touching the pointer, a tilted pivot; not at one place only means the jewels.")},
	{id: "mounting", field: "hand.meter.panel", unit: quantity.Minutes,
		figure: ofEach(func(h *HandPlan) float64 { return h.MountingError }), limits: at(0, never, never),
		says: func(s subject, x string) string {
			return "It is not mounted as its dial asks for: up to " + x + " off what was measured elsewhere."
		},
		advice: always("Zero and trim it in the final case and position.")},
	{id: "neighbour", field: "hand.meter.neighbour", unit: quantity.Times,
		figure: ofEach(func(h *HandPlan) float64 { return h.NeighbourDistance }), limits: atLeast(1.5, never, never),
		says: func(_ subject, x string) string {
			return "The next magnet is " + x + " diameters away: nearer than 1.5 they pull each other."
		},
		advice: always("Move them apart, or zero and trim both in the final case.")},
	{id: "temperature_error", field: "hand.drive.resistor_tempco", unit: quantity.Minutes,
		figure: ofEach(func(h *HandPlan) float64 { return h.TemperatureError }),
		limits: func(s subject) limits { return limits{s.hand().Step, 0.02 * s.minutes(), never, false} },
		says: func(_ subject, x string) string {
			return "Over the room's temperatures full scale wanders by " + x + "."
		},
		advice: always("More series resistance against the copper coil, or trim at the room's middle temperature."),
		mends:  func(s subject) (string, int) { return "rail.trimmed_at", 0 },
		called: "wanders",
		offer: func(s subject) []Change {
			c := s.circuit()
			middle := quantity.Format(quantity.Value{Number: math.Round((c.RoomLow + c.RoomHigh) / 2)}, quantity.Celsius)
			return []Change{{Builds.Field("rail.trimmed_at"), 0, middle}}
		}},
	{id: "rail_drift", field: "rail.drift", unit: quantity.Percent,
		figure: func(s subject) float64 {
			_, share := s.p.worstHand(func(i int) float64 { return s.p.Hands[i].RailError / s.p.Minutes(i) })
			return share
		},
		limits: func(s subject) limits {
			_, codes := s.p.worstHand(func(i int) float64 { return s.p.Minutes(i) / s.p.Hands[i].Step })
			return limits{1 / codes, 0.03, never, false}
		},
		says: func(s subject, x string) string {
			i, codes := s.p.worstHand(func(i int) float64 { return s.p.Hands[i].RailError / s.p.Hands[i].Step })
			return "The rail's drift of " + x + " moves full scale by " + quantity.DialTime(s.p.Hands[i].RailError) + ", " + show(codes, quantity.Times) + " codes."
		},
		advice: always("The needle follows the rail one to one: a linear regulator or a reference holds it closer than a step-up board.")},
	{id: "fade_error", field: "converter.kind", called: "falls back", unit: quantity.Percent, part: "supply",
		figure: func(s subject) float64 {
			_, share := s.p.worstHand(func(i int) float64 { return s.p.Hands[i].FadeError / s.p.Minutes(i) })
			return share
		},
		limits: at(never, 0.01, 0.05),
		says: func(s subject, x string) string {
			i, _ := s.p.worstHand(func(i int) float64 { return s.p.Hands[i].FadeError / s.p.Minutes(i) })
			return "As the cells fade the needle falls back by up to " + quantity.DialTime(s.p.Hands[i].FadeError) + ", " + x + " of the scale."
		},
		advice: always("Hold the rail with a converter: the needle follows it one to one.")},
	{id: "equal_steps", field: "hand.drive.top", part: "top",
		figure: func(s subject) float64 {
			_, steps := dial(s.b.Hands[s.i].Shows)
			d := s.drive()
			// a table makes unequal steps anyhow
			return holds(steps%d.Top != 0 && d.Top%steps != 0 && s.b.Hands[s.i].Correct != "codes")
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			_, steps := dial(s.b.Hands[s.i].Shows)
			return fmt.Sprintf("%d codes do not share the dial's %d steps evenly.", s.drive().Top, steps)
		},
		advice: always("Some of its steps are longer than others.")},
	{id: "code_step", field: "hand.drive.counts", called: "one code", unit: quantity.Minutes, part: "top",
		figure: ofEach(func(h *HandPlan) float64 { return h.Step }),
		limits: func(s subject) limits {
			mark := s.b.Hands[s.i].smallestMark()
			return limits{mark / 2, mark, never, false}
		},
		says: func(s subject, x string) string {
			return "One code is " + x + "; the smallest mark is " + quantity.DialTime(s.b.Hands[s.i].smallestMark()) + "."
		},
		advice: always("More codes, or a coarser dial.")},
	{id: "scale_class", field: "hand.meter.class", unit: quantity.Minutes,
		figure: func(s subject) float64 {
			if s.b.Hands[s.i].Correct != "none" {
				return math.NaN()
			}
			return s.meter().Class.Number * s.minutes()
		},
		limits: func(s subject) limits { return limits{s.hand().Step, never, never, false} },
		says: func(s subject, x string) string {
			return "Class " + show(s.meter().Class.Number, quantity.Percent) + " alone is ±" + x + ", more than a code."
		},
		advice: always("Measure the scale at some codes and straighten it: worth more than more bits.")},
	{id: "origin", field: "hand.meter.origin",
		figure: func(s subject) float64 {
			o := s.meter().Origin
			return holds(o == "mains" || o == "high voltage")
		},
		limits: at(never, half, never),
		says: func(s subject, _ string) string {
			return "It comes out of " + map[string]string{"mains": "mains", "high voltage": "high-voltage"}[s.meter().Origin] + " equipment, which may hold a charge for days."
		},
		advice: always("Only a meter that is out already, with no capacitor in its case. The set itself is for licensed practice.")},
}

// supplyRules judge what the whole clock has once: rail, converter, cells.
var supplyRules = []rule{
	{id: "rail_maximum", field: "rail.maximum", called: "most", unit: quantity.Volts, part: "supply", offer: subject.fewerCells,
		figure: func(s subject) float64 { return mostRail(s.b) },
		limits: func(s subject) limits { return limits{never, never, s.b.Rail.Maximum.Number, false} },
		says: func(s subject, x string) string {
			return "The rail can come to " + x + "; the controller stands " + show(s.b.Rail.Maximum.Number, quantity.Volts) + "."
		},
		advice: func(s subject) string {
			switch {
			case mostRail(s.b) <= s.b.Rail.Voltage.High(): // not the cells' doing
				return "A lower rail."
			case s.b.Converter.Kind == "boost":
				return "Fewer cells, or a regulator between: a step-up passes a higher input through."
			}
			return "Fewer cells, or a regulator between: nothing else holds the rail down."
		},
		mends: func(s subject) (string, int) {
			if mostRail(s.b) > s.b.Rail.Voltage.High() {
				return "battery.cells", 0
			}
			return "rail.voltage", 0
		}},
	{id: "passes_through", field: "battery.cells", called: "fresh", unit: quantity.Volts, part: "supply", offer: subject.fewerCells,
		figure: func(s subject) float64 {
			if !hasBattery(&s.b.Battery) || s.b.Converter.Kind != "boost" {
				return math.NaN()
			}
			pack := &s.p.circuit.Battery.Pack
			return pack.Fresh() - pack.Supply.Drop
		},
		limits: func(s subject) limits { // the fault is rail_maximum's
			return limits{s.b.Rail.Voltage.Number - 0.2, s.b.Rail.Voltage.Number, never, false}
		},
		says: func(s subject, x string) string {
			text := "The fresh pack stands at " + x + ", near or above the rail of " + show(s.b.Rail.Voltage.Number, quantity.Volts)
			if _, most := s.p.worstHand(func(i int) float64 { return s.p.Hands[i].FreshError }); most > 0 {
				text += ": the needle reads high by up to " + quantity.DialTime(most)
			}
			return text + "."
		},
		advice: always("The step-up passes it through and full scale is off until the cells fade: one cell less.")},
	{id: "brown_out", field: "load.minimum_voltage", unit: quantity.Volts,
		figure: func(s subject) float64 { return s.b.Rail.Voltage.Number },
		limits: func(s subject) limits {
			minimum := s.b.Load.MinimumVoltage.Number
			return limits{never, minimum + 0.2, minimum, true}
		},
		says: func(s subject, x string) string {
			return "The rail of " + x + " is near or below the controller's minimum of " + show(s.b.Load.MinimumVoltage.Number, quantity.Volts) + "."
		},
		advice: always("A higher rail, or a lower brown-out setting if the controller has one.")},
	{id: "pins_together", field: "load.package_limit", called: "together", unit: quantity.Percent, part: "lamp",
		figure: func(s subject) float64 { return s.p.Supply.PinsTogether / s.b.Load.PackageLimit.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "All pins together give up to " + show(s.p.Supply.PinsTogether, quantity.Milliamperes) + ", " + x + " of what the controller stands."
		},
		advice: always("Larger lamp resistors, or a transistor for the lamps.")},
	{id: "load_unknown", field: "load.controller_on",
		figure: func(s subject) float64 {
			b := s.b
			return holds(hasBattery(&b.Battery) && !(b.Load.ControllerOn.Given() && b.Load.ControllerOff.Given() && b.Battery.Capacity.Given()))
		},
		limits: at(half, never, never),
		says: func(subject, string) string {
			return "How long the cells last is not known in full: the controller's currents and the cells' capacity are needed."
		},
		advice: always("Measure what it takes awake and asleep; typical cells are in the list.")},
	{id: "pack_carries", field: "battery.cell", part: "supply",
		figure: func(s subject) float64 {
			return holds(hasBattery(&s.b.Battery) && math.IsNaN(s.p.Battery.CurrentOn) && !math.IsNaN(s.p.Battery.RailCurrentOn))
		},
		limits: at(never, never, half),
		says: func(subject, string) string {
			return "The fresh pack cannot carry the waking clock: its own resistance takes too much."
		},
		advice: always("Larger cells, more of them, or less load.")},
	{id: "peak_cell_current", field: "battery.cell", called: "peak", unit: quantity.Milliamperes, part: "supply",
		figure: func(s subject) float64 { return s.p.Battery.CurrentPeak },
		limits: func(s subject) limits {
			most := mostOf(s.b.Battery.Cell)
			return limits{never, most, 3 * most, false}
		},
		says: func(s subject, x string) string {
			return "With every lamp lit the cells give " + x + "; " + s.b.Battery.Cell + " is good for " + show(mostOf(s.b.Battery.Cell), quantity.Milliamperes) + "."
		},
		advice: always("Larger cells, or larger lamp resistors: beyond that much of the capacity is lost.")},
	{id: "stranded", field: "converter.minimum_input", called: "left", unit: quantity.Percent, part: "supply",
		figure: func(s subject) float64 { return s.strandedByConverter() },
		limits: func(s subject) limits {
			l := limits{never, 0.2, never, false}
			if s.b.Converter.Kind == "boost" {
				l.fault = 0.2
			}
			return l
		},
		says: func(s subject, x string) string {
			return "The clock ends with " + x + " of the cells' charge left: the pack is below what the rail or its converter needs."
		},
		advice: always("Cells whose end lies above that, or a converter that starts lower.")},
	{id: "stranded", field: "converter.minimum_input", called: "above it by", unit: quantity.Volts, part: "supply",
		figure: func(s subject) float64 { return s.aboveMinimum() }, limits: atLeast(never, 0.1, never),
		says: func(s subject, _ string) string {
			return "At their end the cells under load are within 0.1 V of the converter's minimum input of " + show(s.b.Converter.MinimumInput.Number, quantity.Volts) + ", or below."
		},
		advice: always("It may restart over and over at the end: one cell more, or a converter that starts lower.")},
	{id: "lamps_share", field: "load.controller_on", called: "lamps' share", unit: quantity.Percent, part: "lamp",
		figure: func(s subject) float64 { return s.p.Battery.Awake.Lamps }, limits: at(0.5, never, never),
		says:   func(_ subject, x string) string { return "Awake, the lamps take " + x + " of what the cells give." },
		advice: always("Four times the resistor is half as bright to the eye."),
		mends: func(s subject) (string, int) {
			i, _ := s.p.heaviestLamp()
			return "lamp.resistor", i
		},
	},
	{id: "converter_share", field: "converter.quiescent", called: "share", unit: quantity.Percent,
		figure: func(s subject) float64 { return s.p.Battery.Asleep.Converter },
		limits: func(s subject) limits {
			l := limits{0.5, never, never, false}
			if s.p.Battery.LifeStandby < s.p.circuit.Battery.Pack.Shelf {
				l.caution = 0.9
			}
			return l
		},
		says: func(_ subject, x string) string {
			return "Asleep, the converter itself takes " + x + " of what the cells give."
		},
		advice: always("One with a smaller quiescent current; a power lamp on its board comes off.")},
	{id: "life_on", field: "load.controller_on", called: "awake", unit: quantity.Hours, part: "supply",
		figure: func(s subject) float64 { return s.p.Battery.LifeOn }, limits: atLeast(60*day, 30*day, day),
		says: func(_ subject, x string) string { return "Always awake the cells last " + x + "." },
		advice: func(s subject) string {
			load := s.p.Battery.RailCurrentOn
			if _, lamps := s.p.heaviestLamp(); lamps > load/2 {
				return "The lamps are " + show(lamps/load, quantity.Percent) + " of the load: larger resistors, or let it sleep when nobody looks."
			}
			if share := s.b.Load.ControllerOn.Number / load; share > 0 {
				return "Let it sleep when nobody looks: the controller takes " + show(share, quantity.Percent) + " of the load."
			}
			return "Let it sleep when nobody looks."
		},
		mends: func(s subject) (string, int) {
			if i, lamps := s.p.heaviestLamp(); lamps > s.p.Battery.RailCurrentOn/2 {
				return "lamp.resistor", i
			}
			return "load.controller_on", 0
		}},
	{id: "life_standby", field: "load.controller_off", called: "asleep", unit: quantity.Hours, part: "supply",
		figure: func(s subject) float64 { return s.p.Battery.LifeStandby }, limits: atLeast(never, year, 30*day),
		says: func(_ subject, x string) string { return "Asleep the cells last " + x + "." },
		advice: func(s subject) string {
			if share := s.p.Battery.Asleep.Converter; share > 0.5 {
				return "The converter's own current is " + show(share, quantity.Percent) + " of it: look there first."
			}
			return "Find what is still awake: a pin left floating, a pull-up, a lamp, the brown-out detector."
		},
		mends: func(s subject) (string, int) {
			if s.p.Battery.Asleep.Converter > 0.5 {
				return "converter.quiescent", 0
			}
			return "load.controller_off", 0
		}},
	{id: "life_standby", field: "battery.shelf", unit: quantity.Hours,
		figure: func(s subject) float64 {
			if s.p.Battery.LifeStandby == s.p.circuit.Battery.Pack.Shelf {
				return holds(s.p.circuit.Battery.Present)
			}
			return math.NaN()
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			return "Asleep the cells last their shelf life of " + quantity.ShowDuration(s.p.Battery.LifeStandby) + ": it decides."
		},
		advice: always("Nothing is gained by a smaller sleeping current.")},
}

// crystalRules judge the crystal and its load.
var crystalRules = []rule{
	{id: "load_offset", field: "crystal.capacitor_in", called: "offset", unit: quantity.PPM, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.LoadOffset }, off: math.Abs, limits: at(10, 20, 100),
		says: func(s subject, x string) string {
			return "The load capacitors put the crystal off by " + x + ", " + show(calc.SecondsADay*s.p.Crystal.LoadOffset, quantity.SecondsPerDay) + "."
		},
		advice: func(s subject) string {
			if each := s.p.Crystal.CapacitorEach; each > 0 {
				return "Two of " + show(each, quantity.Picofarads) + " would make the load it is cut for."
			}
			return "The stray alone is more than the load it is cut for."
		}},
	{id: "stray_alone", field: "crystal.load", unit: quantity.Picofarads,
		figure: func(s subject) float64 { return s.p.Crystal.CapacitorEach },
		limits: func(subject) limits { return limits{never, 2e-12, math.SmallestNonzeroFloat64, true} },
		says: func(_ subject, x string) string {
			return "The stray alone is nearly all the load this crystal is cut for, or more: " + x + " each are left for capacitors."
		},
		advice: always("A crystal for a larger load, or shorter tracks.")},
	{id: "large_capacitors", field: "crystal.capacitor_in", called: "largest", unit: quantity.Picofarads, part: "load_capacitors",
		figure: func(s subject) float64 {
			return max(s.p.circuit.Crystal.In, s.p.circuit.Crystal.Out)
		},
		limits: at(never, 33e-12, never),
		says: func(_ subject, x string) string {
			return "A load capacitor of " + x + " is more than a watch crystal starts with for sure."
		},
		advice: always("A crystal for a smaller load.")},
	{id: "capacitor_ratio", field: "crystal.capacitor_out", called: "ratio", unit: quantity.Times, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.CapacitorRatio }, limits: at(1.5, 3, never),
		says:   func(_ subject, x string) string { return "One load capacitor is " + x + " times the other." },
		advice: always("The nearer they are, the surer it starts.")},
	// ST AN2867 asks for 5.
	{id: "gain_margin", field: "crystal.transconductance", called: "margin", unit: quantity.Times, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.GainMargin }, limits: atLeast(never, 5, 3),
		says: func(s subject, x string) string {
			return "The oscillator has " + x + " times the " + show(s.p.Crystal.TransconductanceCritical, quantity.Microsiemens) + " the crystal needs; 5 is safe."
		},
		advice: always("A crystal with a smaller load or series resistance, or a stronger oscillator setting.")},
	{id: "gain_margin", field: "crystal.transconductance",
		figure: func(s subject) float64 {
			return holds(!s.b.Crystal.Transconductance.Given() && !math.IsNaN(s.p.Crystal.TransconductanceCritical))
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			return "Whether the crystal starts for sure is not known: it needs " + show(s.p.Crystal.TransconductanceCritical, quantity.Microsiemens) + ", five times over."
		},
		advice: always("Give the oscillator's transconductance from the controller's data sheet.")},
	{id: "month_drift", field: "crystal.measured", called: "a month", unit: quantity.Seconds, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.MonthDrift }, off: math.Abs,
		limits: func(s subject) limits {
			finest := 60 * s.p.finestStep()
			return limits{finest / 2, finest, never, false}
		},
		says: func(s subject, x string) string {
			return "In a month it drifts by " + x + "; the finest hand's step is " + quantity.DialTime(s.p.finestStep()) + "."
		},
		advice: always("Measure the frequency on a buffered output and let the firmware count the true tick.")},
}

// lampRules judge each lamp, and each button.
var lampRules = []rule{
	{id: "lamp_voltage", field: "lamp.forward", unit: quantity.Volts,
		figure: func(s subject) float64 { return s.b.Rail.Voltage.Number - s.b.Lamps[s.i].Forward.Number },
		limits: func(subject) limits { return limits{never, 0.5, math.SmallestNonzeroFloat64, true} },
		says: func(_ subject, x string) string {
			return "The rail stands " + x + " above the lamp's own voltage: it stays dark, or follows every change of the rail."
		},
		advice: always("A higher rail, or a lamp of another colour.")},
	{id: "lamp_current", field: "lamp.resistor", called: "current", unit: quantity.Milliamperes, part: "lamp",
		figure: func(s subject) float64 { return s.p.Lamps[s.i].Current },
		limits: func(s subject) limits { return limits{never, 10e-3, min(20e-3, s.b.pinLimit()), false} },
		says:   func(_ subject, x string) string { return "The lamp takes " + x + "." },
		advice: always("1 to 2 mA is bright enough, and the lamps are most of what a waking clock draws.")},
	{id: "lamp_current", field: "lamp.resistor", called: "current", unit: quantity.Milliamperes, part: "lamp",
		figure: func(s subject) float64 {
			if c := s.p.Lamps[s.i].Current; c > 0 {
				return c
			}
			return math.NaN() // dark is not dim: lamp_voltage says it
		},
		limits: atLeast(0.3e-3, never, never),
		says:   func(_ subject, x string) string { return "At " + x + " the lamp is dim." },
		advice: always("A smaller resistor; 1 to 2 mA is bright.")},
	{id: "lamp_power", field: "lamp.resistor_rating", called: "heat", unit: quantity.Percent, part: "lamp",
		figure: func(s subject) float64 { return s.p.Lamps[s.i].Power / s.b.Lamps[s.i].ResistorRating.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "The lamp's resistor turns " + show(s.p.Lamps[s.i].Power, quantity.Milliwatts) + " to heat, " + x + " of what it stands."
		},
		advice: always("A larger resistor, or a larger kind of one.")},
	{id: "lamp_unknown", field: "lamp.forward",
		figure: func(s subject) float64 { return holds(math.IsNaN(s.p.Lamps[s.i].Current)) }, limits: at(never, half, never),
		says: func(subject, string) string {
			return "What the lamp draws is not known, and so how long the cells last is not either."
		},
		advice: always("Give its forward voltage and its resistor.")},
	{id: "button_wedged", field: "button.pull", called: "wedged", unit: quantity.Hours,
		figure: func(s subject) float64 { return s.p.Buttons[s.i].WedgedLife }, limits: atLeast(60*day, never, never),
		says: func(_ subject, x string) string {
			return "Wedged in a drawer, the button empties the cells in " + x + "."
		},
		advice: always("A larger pull resistor, waking on release, or a recessed button."),
		offer: func(s subject) []Change {
			var changes []Change
			if s.b.Buttons[s.i].Pull.Number < 100e3 {
				changes = append(changes, Change{Builds.Field("button.pull"), s.i, "100 kΩ"})
			}
			if s.b.Buttons[s.i].Wakes == "press" {
				changes = append(changes, Change{Builds.Field("button.wakes"), s.i, "release"})
			}
			return changes
		}},
}

// rules is the findings table.
var rules = placed(handRules, supplyRules, crystalRules, lampRules, usualRules())
