package judge

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// handRules judge each hand. Limits: common practice, no source, unless a row
// says otherwise.
var handRules = []rule{
	{id: "inside", field: "hand.meter.in_circuit", called: "full scale", unit: quantity.Percent,
		figure: func(s subject) float64 { return s.reachedWithInside() }, off: from(1), limits: insideLimits,
		says: func(s subject, x string) string {
			what := "What is"
			if kind := s.meter().InternalKind; kind != "none" {
				what = "The " + kind
			}
			if text := s.strainText(s.reachedWithInside()); text != "" {
				return what + " inside is still connected: " + text + "."
			}
			return what + " inside is still connected: the needle gets " + x + " of its full-scale current."
		},
		does: subject.strain,
		advice: func(s subject) string {
			h := s.hand()
			return "Plan with it, or take it out; never open a dial that may be radium. With it the terminals show " + show(h.TerminalResistance, quantity.Ohms) + " and ask for " + show(h.TerminalFullScale, quantity.Microamperes) + "."
		},
		offer: func(s subject) []model.Change {
			if m := s.meter(); !m.Coil.Given() || !m.FullScale.Given() || m.Glow != "no" {
				return nil // nobody knows what stands behind it, or it stays closed
			}
			return []model.Change{s.change("hand.meter.in_circuit", "no")}
		}},
	{id: "full_scale_reached", field: "hand.drive.fixed", called: "full scale", unit: quantity.Percent, part: "series",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.FullScaleReached }), off: from(1), limits: at(never, 0.01, 0.03),
		says: func(s subject, x string) string {
			if text := s.strainText(s.hand().FullScaleReached); text != "" {
				return "At the top code " + text + "."
			}
			return "At the top code the needle gets " + x + " of its full-scale current."
		},
		does: subject.strain,
		advice: func(s subject) string {
			if needed := s.hand().SeriesNeeded; needed >= 0 {
				return "It takes " + show(needed, quantity.Ohms) + " in series beside pin and stage, trimmer included."
			}
			if text := s.lowTopText(); text != "" {
				return text
			}
			return "The rail is too low for this meter even without any: " + s.moreVoltage() + "."
		},
		mends: func(s subject) (string, int) {
			if s.drive().Setting.Given() {
				return "hand.drive.setting", s.i
			}
			return "hand.drive.fixed", s.i
		}},
	{id: "trimmer_travel", field: "hand.drive.fixed", called: "travel", unit: quantity.Percent, part: "series",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.TrimmerTravel }), off: from(0.5), limits: at(never, 0.4, 0.5),
		says: func(_ subject, x string) string { return "Full scale asks for " + x + " of the trimmer's travel." },
		advice: func(s subject) string {
			if text := s.lowTopText(); text != "" {
				return text
			}
			if s.hand().SeriesNeeded < 0 {
				return "There is too little voltage to drop: " + s.moreVoltage() + "."
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
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.TrimmerShare }), limits: at(0.3, 0.6, never),
		says:   func(_ subject, x string) string { return "The trimmer makes up " + x + " of the chain." },
		advice: always("Its wiper and its temperature move the needle, and it protects nothing: more of it in the fixed resistor.")},
	{id: "trim_step", field: "hand.drive.trimmer_turns", called: "step", unit: quantity.Minutes, part: "series",
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.TrimStep }),
		limits: func(s subject) limits { return limits{s.hand().Step / 4, s.hand().Step, never, false} },
		says:   func(_ subject, x string) string { return "The trimmer sets full scale in steps of " + x + "." },
		advice: always("A multi-turn trimmer, or a smaller one."),
		offer: func(s subject) []model.Change {
			return []model.Change{{Field: model.Builds.Field("hand.drive.trimmer_turns"), Index: s.i, Text: "25"}}
		}},
	// 1.2 is what a meter stands for good (IEC 60051, read second-hand); 2 bends pointers when pegged.
	{id: "overload_worst", field: "hand.drive.fixed", called: "worst", unit: quantity.Times, part: "series",
		figure: func(s subject) float64 { return s.overloadWorst() },
		limits: func(s subject) limits { return limits{1, s.meter().Overload.Number, 2, false} },
		says: func(s subject, x string) string {
			worst, text := s.overloadWorst(), "Pin stuck high"
			if s.drive().Trimmer.Number > 0 {
				text += ", trimmer at zero"
			}
			if strain := s.strainText(worst); strain != "" {
				text += ", " + strain
			} else {
				text += ": " + x + " times full scale"
			}
			if worst > s.hand().OverloadWorst {
				text += ", with usual tolerances where none are given"
			}
			return text + "."
		},
		does: subject.strain,
		advice: func(s subject) string {
			text := " A larger fixed resistor protects the coil."
			if s.drive().Trimmer.Number > 0 {
				text = " Set the trimmer to its maximum before the first power-up; a larger fixed resistor with a smaller trimmer protects the coil for good."
			}
			return strings.TrimSpace(s.diodesText() + text + s.looseText())
		}},
	{id: "inside_value", field: "hand.meter.internal",
		figure: func(s subject) float64 {
			return holds(s.meter().InCircuit == "yes" && !s.meter().Internal.Given() && math.IsNaN(s.circuit().TerminalResistance))
		},
		limits: at(never, half, never),
		says: func(s subject, _ string) string {
			what := "What"
			if kind := s.meter().InternalKind; kind != "none" {
				what = "The " + kind + " that"
			}
			return what + " is left inside has no value here: the results leave it out."
		},
		advice: always("Read its marking, or measure it with one of its ends lifted; never open a dial that may be radium. Until then the series resistance is a guess.")},
	{id: "inside_is_coil", field: "hand.meter.internal",
		figure: func(s subject) float64 {
			return holds(s.meter().InternalKind == "multiplier" && s.meter().Internal.Number == s.meter().Coil.Number)
		},
		limits: at(never, half, never),
		says: func(s subject, _ string) string {
			return "Coil and multiplier inside are both " + quantity.Format(quantity.Value{Number: s.meter().Coil.Number}, quantity.Ohms) + ": likely the same reading, put in twice."
		},
		advice: always("The coil alone is meant at Coil, without the multiplier: at the coil's own ends, its millivolts at full scale over that current."),
		mends:  func(s subject) (string, int) { return "hand.meter.coil", s.i }},
	{id: "coil_voltage", field: "hand.meter.full_scale", unit: quantity.Volts, does: doing(breaks),
		figure: subject.coilVoltage,
		off:    func(x float64) float64 { return holds(x < leastCoilVoltage || x > mostCoilVoltage) },
		limits: at(never, half, never),
		says: func(_ subject, x string) string {
			return "At full scale the coil has " + x + " across it; 20 to 500 mV is usual."
		},
		advice: subject.slipText},
	{id: "pin_mean_current", field: "hand.meter.full_scale", unit: quantity.Percent, part: "series", does: doing(breaks),
		figure: func(s subject) float64 { return s.hand().PinMeanCurrent / s.currentLimit() }, limits: at(0.25, 0.5, 1),
		says: func(s subject, x string) string {
			return "At the top code the " + s.sourceText() + " gives " + show(s.hand().PinMeanCurrent, quantity.Milliamperes) + ", " + x + " of its limit."
		},
		advice: always("Its voltage sags and drifts well below the limit: a more sensitive meter, or two transistors that the pin switches."),
		offer: func(s subject) []model.Change {
			if s.drive().By != "pin" {
				return nil
			}
			return []model.Change{s.change("hand.drive.by", "switch")}
		}},
	{id: "pin_peak_current", field: "hand.drive.stage", called: "peak", unit: quantity.Percent, part: "filter", does: doing(breaks),
		figure: func(s subject) float64 { return s.hand().PinPeakCurrent / s.peakLimit() }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "Into the empty capacitor the " + s.sourceText() + " gives " + show(s.hand().PinPeakCurrent, quantity.Milliamperes) + ", " + x + " of its limit."
		},
		advice: always("Put more resistance before the capacitor.")},
	{id: "pin_share", field: "hand.drive.pin_resistance", unit: quantity.Percent,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.PinShare }), limits: at(0.01, 0.03, never),
		says: func(s subject, x string) string {
			return "The " + s.sourceText() + "'s own resistance is " + x + " of the chain: where it is a third off, so is the needle by " + quantity.DialTime(s.hand().PinShare*0.3*s.minutes()) + "."
		},
		advice: always("It spreads by a third and follows temperature; trimming takes the spread out. A more sensitive meter, or a driver stage.")},
	{id: "coil_share", field: "hand.meter.coil_copper", unit: quantity.Percent,
		figure: ofEach(func(h *circuit.HandPlan) float64 { return h.CoilShare }), limits: at(0.15, 0.4, never),
		says: func(s subject, x string) string {
			return "Copper is " + x + " of the chain: 10 K move full scale by " + quantity.DialTime(0.0393*s.hand().CoilShare*s.minutes()) + "."
		},
		advice: func(s subject) string {
			if s.multiplied() {
				return "The multiplier inside swamps it: a larger one, or more resistance before it at a higher rail within the controller's limit."
			}
			if s.coilVoltage() > mostCoilVoltage {
				return "See first whether a multiplier is inside: that is of no copper, and the coil is less."
			}
			return "A higher rail within the controller's limit, with more series resistance, swamps it."
		}},
	{id: "resistor_power", field: "hand.drive.resistor_rating", called: "heat", unit: quantity.Percent, does: doing(breaks),
		figure: func(s subject) float64 { return s.hand().ResistorPower / s.drive().ResistorRating.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "A resistor turns " + show(s.hand().ResistorPower, quantity.Milliwatts) + " to heat, " + x + " of what it stands."
		},
		advice: always("A larger kind of resistor."),
		offer: func(s subject) []model.Change {
			return []model.Change{{Field: model.Builds.Field("hand.drive.resistor_rating"), Index: s.i, Text: RatingFor(s.hand().ResistorPower)}}
		}},
	{id: "trimmer_power", field: "hand.drive.trimmer", called: "heat", unit: quantity.Percent, part: "series", does: doing(breaks),
		figure: func(s subject) float64 { return s.hand().TrimmerPower / s.drive().ResistorRating.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "The trimmer's current is for " + show(s.hand().TrimmerPower, quantity.Milliwatts) + " over its whole track, " + x + " of what it stands."
		},
		advice: always("Near its end all of it falls on a little of the track: a smaller trimmer.")},
}

// looseText says that full scale is known too loosely to choose a resistor that protects it
// and still reaches it; "" where it is known well enough. What a multimeter in the row reads is
// good to 1 %: common practice, no source.
func (s subject) looseText() string {
	const loose = 0.03
	fullScale := s.meter().FullScale
	if off := fullScale.Half() / fullScale.Number; off > loose {
		return " Full scale is known within ±" + show(off, quantity.Percent) + " alone: the current that a multimeter in the row reads, the needle on its last mark, is good to 1 %, and leaves room."
	}
	return ""
}
