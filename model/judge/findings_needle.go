package judge

import (
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// needleRules judge the filter, the codes and the needle of each hand.
var needleRules = []rule{
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
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.FilterSettling }),
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
		advice: always("A film capacitor, or a ceramic one: that loses capacitance under voltage and may sing.")},
	{id: "capacitor_voltage", field: "hand.drive.capacitor_rating", called: "reserve", unit: quantity.Times, does: doing(breaks),
		figure: func(s subject) float64 { return s.drive().CapacitorRating.Number / mostRail(s.b) },
		limits: atLeast(never, 1.5, 1),
		says: func(s subject, x string) string {
			return "With the coil's lead off the capacitor gets " + show(mostRail(s.b), quantity.Volts) + "; it stands " + x + " times that."
		},
		advice: always("One for half as much again. Reversed or overdriven, an electrolytic can burst."),
		offer: func(s subject) []model.Change {
			return []model.Change{{Field: model.Builds.Field("hand.drive.capacitor_rating"), Index: s.i, Text: voltageFor(1.5 * mostRail(s.b))}}
		}},
	{id: "law_ripple", field: "hand.drive.capacitor", called: "shift", unit: quantity.Minutes, part: "filter",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.LawRippleError }), off: math.Abs,
		limits: func(s subject) limits { return limits{s.hand().Step / 2, s.hand().Step, never, false} },
		says: func(s subject, x string) string {
			text := "The coil's ripple shifts half scale by " + x + ": the needle shows the mean of its law, not the law of the mean."
			if s.isMeasured() {
				return "If the law is that of a moving iron: " + strings.ToLower(text[:1]) + text[1:]
			}
			return text
		},
		advice: always("Smooth the current, or measure the scale with this very drive.")},
	{id: "pin_bend", field: "hand.drive.pin_low", unit: quantity.Minutes, part: "filter", called: "bend",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.PinBend }), off: math.Abs,
		limits: func(s subject) limits { return limits{s.hand().Step / 4, s.hand().Step, never, false} },
		says: func(_ subject, x string) string {
			return "The pin's resistance is not the same high and low: the scale bends by " + x + " between its ends."
		},
		advice: func(s subject) string {
			d := s.drive()
			return "Before the capacitor at least " + show(100*math.Abs(d.PinHigh.Number-d.PinLow.Number), quantity.Ohms) + "."
		}},
	{id: "diode_bend", field: "hand.meter.diodes", unit: quantity.Minutes, called: "bend",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.DiodeBend }),
		limits: func(s subject) limits { return limits{s.hand().Step / 4, s.hand().Step, never, false} },
		says: func(s subject, x string) string {
			return "The diodes across the coil leak " + show(s.hand().DiodeLeak, quantity.Microamperes) + " at full scale and bend it by " + x + "."
		},
		advice: func(s subject) string { return s.diodesText() },
		offer: func(s subject) []model.Change {
			return []model.Change{{Field: model.Builds.Field("hand.meter.diodes"), Index: s.i, Text: "none"}}
		}},
	{id: "zero_off", field: "hand.meter.zero_offset", unit: quantity.Minutes,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.ZeroError }), off: math.Abs,
		limits: func(s subject) limits { return limits{s.hand().Step / 2, 0.02 * s.minutes(), never, false} },
		says: func(_ subject, x string) string {
			return "Without current the needle stands " + x + " off zero."
		},
		advice: always("Clock off, the zero screw first, case closed, in its final place, tapping; then trim full scale.")},
	{id: "friction", field: "hand.meter.stick", unit: quantity.Minutes,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.StickError }),
		limits: func(s subject) limits { return limits{2 * s.hand().Step, 0.02 * s.minutes(), never, false} },
		says:   func(_ subject, x string) string { return "The needle may stick up to " + x + " from its place." },
		advice: always("At one place: dust or paper, or a window that the pointer touches; everywhere: the jewels.")},
	{id: "mounting", field: "hand.meter.panel", unit: quantity.Minutes,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.MountingError }), limits: at(0, never, never),
		says: func(s subject, x string) string {
			return "It is not mounted as its dial asks for: up to " + x + " off what was measured elsewhere."
		},
		advice: always("Zero and trim it in the final case and position.")},
	{id: "neighbour", field: "hand.meter.neighbour", unit: quantity.Times,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.NeighbourDistance }), limits: atLeast(1.5, never, never),
		says: func(_ subject, x string) string {
			return "The next magnet is " + x + " diameters away: nearer than 1.5 they pull each other."
		},
		advice: always("Move them apart, or zero and trim both in the final case.")},
	{id: "temperature_error", field: "hand.drive.resistor_tempco", unit: quantity.Minutes,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.TemperatureError }),
		limits: func(s subject) limits { return limits{s.hand().Step, 0.02 * s.minutes(), never, false} },
		says: func(_ subject, x string) string {
			return "Over the room's temperatures full scale wanders by " + x + "."
		},
		advice: func(s subject) string {
			c := s.circuit()
			middle := quantity.Format(quantity.Value{Number: math.Round((c.RoomLow + c.RoomHigh) / 2)}, quantity.Celsius)
			return "More series resistance against the copper coil, or trim at the room's middle temperature, " + middle + ", and say so."
		},
		mends:  func(s subject) (string, int) { return "rail.trimmed_at", 0 },
		called: "wanders"},
	{id: "rail_drift", field: "rail.drift", unit: quantity.Percent,
		figure: func(s subject) float64 {
			_, share := worstHand(s.p, func(i int) float64 { return s.p.Hands[i].RailError / s.p.Minutes(i) })
			return share
		},
		limits: func(s subject) limits {
			_, codes := worstHand(s.p, func(i int) float64 { return s.p.Minutes(i) / s.p.Hands[i].Step })
			return limits{1 / codes, 0.01, never, false}
		},
		says: func(s subject, x string) string {
			i, codes := worstHand(s.p, func(i int) float64 { return s.p.Hands[i].RailError / s.p.Hands[i].Step })
			return "The rail's drift of " + x + " moves full scale" + s.ofHand(i) + " by " + quantity.DialTime(s.p.Hands[i].RailError) + ", " + show(codes, quantity.Times) + " codes."
		},
		advice: func(s subject) string { return railAdvice(s.b, s.p.Circuit.Hands[0].Drift) }},
	{id: "fade_error", field: "converter.kind", called: "falls back", unit: quantity.Percent, part: "supply",
		figure: func(s subject) float64 {
			_, share := worstHand(s.p, func(i int) float64 { return s.p.Hands[i].FadeError / s.p.Minutes(i) })
			return share
		},
		limits: at(never, 0.01, 0.05),
		says: func(s subject, x string) string {
			i, _ := worstHand(s.p, func(i int) float64 { return s.p.Hands[i].FadeError / s.p.Minutes(i) })
			return "As the cells fade the needle" + s.ofHand(i) + " falls back by up to " + quantity.DialTime(s.p.Hands[i].FadeError) + ", " + x + " of the scale."
		},
		advice: always("Hold the rail with a converter: the needle follows it one to one.")},
	{id: "equal_steps", field: "hand.drive.top", part: "top",
		figure: func(s subject) float64 {
			_, steps := circuit.Dial(s.b.Hands[s.i].Shows)
			d := s.drive()
			// a table makes unequal steps anyhow
			return holds(steps%d.Top != 0 && d.Top%steps != 0 && s.b.Hands[s.i].Correct != "codes")
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			_, steps := circuit.Dial(s.b.Hands[s.i].Shows)
			return fmt.Sprintf("%d codes do not share the dial's %d steps evenly.", s.drive().Top, steps)
		},
		advice: always("Some of its steps are longer than others.")},
	{id: "top_code", field: "hand.drive.top", part: "top",
		figure: func(s subject) float64 {
			d := s.drive() // timers have 8 or 16 bits; with one count more than the code none asks for a code of all counts
			return holds(d.Top == d.Counts && d.DutyOffset == 0 && (d.Counts == 1<<8 || d.Counts == 1<<16))
		},
		limits: at(never, half, never),
		says: func(s subject, _ string) string {
			return fmt.Sprintf("The top code is all %d counts: the timer's register holds %d at most, and may make 0 of it.", s.drive().Counts, s.drive().Counts-1)
		},
		advice: always("A smaller top code. If the register is wider than the counts, leave it.")},
	{id: "code_step", field: "hand.drive.counts", called: "one code", unit: quantity.Minutes, part: "top",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.Step }),
		limits: func(s subject) limits {
			mark := s.b.Hands[s.i].SmallestMark()
			return limits{mark / 2, mark, never, false}
		},
		says: func(s subject, x string) string {
			return "One code is " + x + "; the smallest mark is " + quantity.DialTime(s.b.Hands[s.i].SmallestMark()) + "."
		},
		advice: always("More codes, or a coarser dial.")},
	{id: "uneven_scale", field: "hand.correct", called: "wrong by", unit: quantity.Minutes,
		figure: func(s subject) float64 { return s.uneven() },
		limits: func(s subject) limits { return limits{never, s.hand().Step / 2, s.hand().Step, false} },
		says: func(_ subject, x string) string {
			return "The scale is not even and nothing straightens it: the hand is up to " + x + " wrong."
		},
		advice: func(s subject) string {
			if s.meter().LawInForce() == "square" && !s.isMeasured() {
				return "The square is a guess: measure the scale at some codes; then a table of codes in the firmware straightens it, or a dial drawn to the needle."
			}
			return "A table of codes in the firmware straightens it, or a dial drawn to the needle."
		},
		offer: func(s subject) []model.Change {
			if !s.isMeasured() { // nobody measured what the codes would straighten
				return nil
			}
			return []model.Change{s.change("hand.correct", "codes")}
		}},
	{id: "scale_class", field: "hand.meter.class", unit: quantity.Minutes,
		figure: func(s subject) float64 {
			if s.readTo() > 0 { // the scale was measured
				return math.NaN()
			}
			return s.meter().Class.Number * s.minutes()
		},
		limits: func(s subject) limits { return limits{s.hand().Step, never, never, false} },
		says: func(s subject, x string) string {
			return "Class " + show(s.meter().Class.Number, quantity.Percent) + " alone is ±" + x + ", more than a code."
		},
		advice: always("Measure the scale at some codes and straighten it: worth more than more bits.")},
	{id: "origin", field: "hand.meter.origin", does: doing(hurts),
		figure: func(s subject) float64 {
			_, judged := setsOf[s.meter().Origin]
			return holds(judged && s.meter().Removed != "yes")
		},
		limits: func(s subject) limits {
			if s.meter().Origin == "vehicle" {
				return limits{never, half, never, false}
			}
			return limits{never, never, half, false}
		},
		says: func(s subject, _ string) string {
			return "It is not said to be out of its set: " + setsOf[s.meter().Origin].danger + "."
		},
		advice: func(s subject) string { return setsOf[s.meter().Origin].advice },
		mends:  func(s subject) (string, int) { return "hand.meter.removed", s.i }},
}

// setsOf are the sets a meter may still be part of that can hurt who takes it out,
// by its origin: why, and what to do.
var setsOf = map[string]struct{ danger, advice string }{
	"mains":        {"mains equipment kills, and unplugged may hold a charge for days", leaveTheSet},
	"high voltage": {"high-voltage equipment kills, and unplugged may hold a charge for days", leaveTheSet},
	"vehicle": {"a vehicle's battery burns who shorts it, and its airbags can fire",
		"Battery disconnected, the airbag's circuits left alone; the rest is for licensed practice. Then say that it is out."},
}

const leaveTheSet = "Only a meter that is out already, nothing on its terminals, no capacitor in its case: say so once it is. The set itself is for licensed practice and local codes."
