package judge

import (
	"fmt"
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/measure"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/scale"
)

// kindRules judge what kind of meter each hand has, and whether it can be driven at all.
// Limits: common practice, no source, unless a row says otherwise.
var kindRules = []rule{
	{id: "kind", field: "hand.meter.kind",
		figure: func(s subject) float64 { return kinds[s.meter().Kind].bad }, limits: at(never, half, 1+half),
		says:   func(s subject, _ string) string { return kinds[s.meter().Kind].says },
		advice: func(s subject) string { return kinds[s.meter().Kind].advice }},
	{id: "law_assumed", field: "hand.meter.law",
		figure: func(s subject) float64 { return holds(s.meter().LawAssumed() && !s.isMeasured()) }, limits: at(half, never, never),
		says: func(s subject, _ string) string {
			return "The law of its " + s.meter().Kind + " is not known: it is judged as a square."
		},
		advice: always("Measure the scale at some codes: no two of them are alike.")},
	{id: "driven", field: "hand.meter.full_scale", unit: quantity.Amperes, does: doing(breaks),
		figure: func(s subject) float64 { _, fullScale := s.circuit().Shunted(); return fullScale }, limits: at(never, never, MostSwitched),
		says: func(s subject, x string) string {
			return x + " through a pin: no. Two transistors carry " + show(MostSwitched, quantity.Milliamperes) + "."
		},
		advice: func(s subject) string {
			if s.meter().Glow != "no" {
				return "A shunt may be inside, with a movement that needs far less; with such paint the case stays closed all the same: another meter."
			}
			return "If a shunt is inside, the movement behind it may do with 50 to 75 mV: open it and look; never a dial that may be radium."
		}},
	{id: "terminals_apart", field: "hand.meter.terminal_resistance", unit: quantity.Times,
		figure: subject.terminalsApart, limits: at(never, 1, never),
		says: func(s subject, x string) string {
			resistance, fullScale := unmeasured(s.meter()).Terminals(model.Nominal, model.Nominal)
			return fmt.Sprintf("Its terminals were measured as %s; coil, full scale and what is inside make %s: %s times what their tolerances allow.",
				terminalsText(s.meter().TerminalResistance.Number, s.meter().TerminalFullScale.Number), terminalsText(resistance, fullScale), x)
		},
		advice: always("Measure again what is less sure; or more is inside than was seen.")},
	{id: "glow", field: "hand.meter.glow", does: doing(hurts),
		figure: func(s subject) float64 { return holds(s.meter().Glow != "no") }, limits: at(never, half, never),
		says: func(s subject, _ string) string {
			if s.meter().Glow == "yes" {
				return "Its paint glows, or did: it may be radium, whose dust is the danger."
			}
			return "Whether its paint is radium is not known."
		},
		advice: always("The case stays closed: never open, scrape or sand it. Local rules say who takes such a thing, and who measures it.")},
	{id: "half_scale", field: "hand.meter.zero_at",
		figure: func(s subject) float64 { return holds(s.meter().ZeroAt == "centre" && s.drive().By != "bridge") }, limits: at(half, never, never),
		says: func(subject, string) string {
			return "The needle rests in the middle and is driven one way: half of the scale is the dial, and what is off by a share of the whole counts double."
		},
		advice: always("Between two pins it goes from end to end."),
		offer: func(s subject) []model.Change {
			if s.drive().By != "pin" {
				return nil
			}
			return []model.Change{s.change("hand.drive.by", "bridge")}
		}},
	{id: "bridge_rest", field: "hand.drive.by",
		figure: func(s subject) float64 { return holds(s.meter().ZeroAt != "centre" && s.drive().By == "bridge") }, limits: at(never, never, half),
		says: func(subject, string) string {
			return "A bridge drives both ways, and this needle rests at an end: half of the codes press it against its stop."
		},
		advice: always("One pin drives it; or say that its zero stands in the middle."),
		offer:  func(s subject) []model.Change { return []model.Change{s.change("hand.drive.by", "pin")} }},
	{id: "bridge_capacitor", field: "hand.drive.capacitor_kind", does: doing(breaks),
		figure: func(s subject) float64 {
			if s.drive().By != "bridge" || !s.drive().MayLeak() {
				return math.NaN()
			}
			return number01(s.drive().CapacitorKind == "electrolytic")
		},
		limits: at(never, -1, half),
		says: func(s subject, _ string) string {
			if s.drive().CapacitorKind == "electrolytic" {
				return "Between two pins the capacitor is charged both ways: an electrolytic can burst."
			}
			return "Between two pins the capacitor is charged both ways, and its kind is not given: an electrolytic can burst."
		},
		advice: always("A film capacitor, or a ceramic one."),
		offer:  func(s subject) []model.Change { return []model.Change{s.change("hand.drive.capacitor_kind", "film")} }},
	{id: "suppressed_zero", field: "hand.meter.scale_from", unit: quantity.Percent,
		figure: func(s subject) float64 {
			if s.b.Hands[s.i].Correct == "codes" {
				return math.NaN()
			}
			return s.meter().ScaleFrom.Number
		},
		limits: at(never, never, 0),
		says: func(s subject, x string) string {
			return "Its zero is suppressed: the needle rests up to " + x + " of full scale, and so does the hand for its first " + quantity.DialTime(s.meter().ScaleFrom.Number*s.minutes()) + "."
		},
		advice: always("A table of codes in the firmware begins where the needle does."),
		offer:  func(s subject) []model.Change { return []model.Change{s.change("hand.correct", "codes")} }},
}

// scaleRules judge what was measured of a hand's scale, row by row.
var scaleRules = []rule{
	{id: "scale_few", field: "hand.correct",
		figure: func(s subject) float64 {
			f := s.rows()
			return holds(f != nil && !f.Enough)
		},
		limits: at(half, never, never),
		says:   func(s subject, _ string) string { return "Of its scale " + s.rows().Why + ": it is not used yet." },
		advice: func(s subject) string {
			return fmt.Sprintf("Next: look where it stands at code %d.", s.rows().Next.Code)
		}},
	{id: "scale_outlier", field: "hand.correct", unit: quantity.Percent,
		figure: func(s subject) float64 {
			most := math.NaN()
			if f := s.rows(); f != nil {
				for _, o := range f.Outliers {
					if !(math.Abs(o.Off) <= most) {
						most = math.Abs(o.Off)
					}
				}
			}
			return most
		},
		limits: at(never, 0, never),
		says: func(s subject, x string) string {
			var rows []int
			for _, o := range s.rows().Outliers {
				rows = append(rows, o.Row)
			}
			return rowsText(rows) + " of its scale: off by up to " + x + " of the scale from what the others say, and left out."
		},
		advice: always("Look again there: tapped, straight from the front, coming from below.")},
	{id: "scale_rescaled", field: "hand.correct",
		figure: func(s subject) float64 {
			f := s.rows()
			return holds(f != nil && len(f.Scaled) > 0)
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			return rowsText(s.rows().Scaled) + " of its scale: taken with another top code than most, and scaled to it."
		},
		advice: always("That is right only if zero and full scale were not set anew between.")},
	{id: "scale_steep", field: "hand.correct", unit: quantity.Minutes, called: "one code",
		figure: func(s subject) float64 {
			f := s.fitted()
			if f == nil || s.b.Hands[s.i].Correct != "codes" {
				return math.NaN()
			}
			steep := f.Steepest(s.circuit().Quantisation())
			if !steep.TooSteep {
				return math.NaN()
			}
			return steep.Step * s.minutes()
		},
		limits: at(never, 0, never),
		says: func(s subject, x string) string {
			steep := s.fitted().Steepest(s.circuit().Quantisation())
			return "Near " + quantity.FormatDial(steep.At, s.b.Hands[s.i].Shows) + " one code moves the needle by " + x + ": the scale is too steep there for codes to straighten it."
		},
		advice: always("A dial drawn to the needle reads right everywhere."),
		offer:  func(s subject) []model.Change { return []model.Change{s.change("hand.correct", "dial")} }},
}

// rows are what the rows of a hand's scale tell, nil where there are none.
func (s subject) rows() *scale.Fitted { return scale.Of(&s.b.Hands[s.i]) }

// fitted is the law that the rows of a hand's scale make; nil where there is none.
func (s subject) fitted() *scale.Fitted {
	if f := scale.Of(&s.b.Hands[s.i]); f != nil && f.Enough {
		return f
	}
	return nil
}

// isMeasured says whether points of the scale were measured.
func (s subject) isMeasured() bool { return s.fitted() != nil || s.meter().Law == "table" }

// rowsText names rows: "Row 3", "Rows 3 and 5".
func rowsText(rows []int) string {
	if len(rows) == 1 {
		return fmt.Sprintf("Row %d", rows[0])
	}
	text := "Rows "
	for k, row := range rows[:len(rows)-1] {
		if k > 0 {
			text += ", "
		}
		text += fmt.Sprint(row)
	}
	return fmt.Sprintf("%s and %d", text, rows[len(rows)-1])
}

// kinds are what is to be said of a kind of meter: 1 a caution, 2 a fault. Common practice,
// no source.
var kinds = map[string]struct {
	bad          float64
	says, advice string
}{
	"rectifier": {1, "A rectifier is inside: the first 0.3 to 1.2 V of a direct voltage move nothing, and the foot of the scale is crowded.",
		"Taken out, the movement behind it is an even one; never open a dial that may be radium. Or measure the scale as it is."},
	"thermal": {1, "A hot wire or strip moves it: it follows over seconds, with about the square of the current, and with the room.",
		"For hours, not for seconds; warm it up for some minutes, and measure its scale then."},
	"cross coil": {2, "A cross coil has no spring: two coils turn its needle by their ratio, and one current says nothing.",
		"Another meter. It would take two bridges, and a table of sine and cosine."},
	"other": {1, "What kind it is, is not known: how its needle follows the current is a guess.",
		"Does it move either way with its leads turned round, does it come back to its zero, is it slow? Then measure its scale."},
}

// MostSwitched is the most that two small transistors carry, A. Common practice, no source.
const MostSwitched = 0.2

// terminalsApart is how far what was measured at the closed case's terminals is from what
// coil, full scale and what is inside make, over what both tolerances allow; NaN where both
// are not known.
func (s subject) terminalsApart() float64 {
	m := s.meter()
	if m.InternalKind != "none" && !m.Internal.Given() || m.InternalKind == "none" && m.InCircuit == "yes" {
		return math.NaN() // what is inside is not known
	}
	bare := unmeasured(m)
	bare.InCircuit = "yes"
	resistance, fullScale := bare.Terminals(model.Nominal, model.Nominal)
	most := math.NaN()
	for _, pair := range [...]struct {
		measured quantity.Value
		follows  float64
		within   float64 // of what it follows from, a share
	}{
		{m.TerminalResistance, resistance, max(share(m.Coil), share(m.Internal))},
		{m.TerminalFullScale, fullScale, share(m.FullScale)},
	} {
		measured := asUsual(pair.measured, readingTolerance)
		apart := math.Abs(measured.Number-pair.follows) / (measured.Half() + pair.within*pair.follows)
		if !(apart <= most) && !math.IsNaN(apart) {
			most = apart
		}
	}
	return most
}

// share is the tolerance of a reading as a share of it, the usual one where it has none; 0
// of what is not given.
func share(v quantity.Value) float64 {
	if !v.Given() {
		return 0
	}
	return asUsual(v, readingTolerance).Half() / v.Number
}

// unmeasured is a meter of which nobody measured the closed case.
func unmeasured(m *model.Meter) *model.Meter {
	bare := *m
	bare.TerminalResistance, bare.TerminalFullScale = quantity.Absent(), quantity.Absent()
	return &bare
}

// terminalsText is what a closed case shows, what is known of it: "30 kΩ and 1 mA".
func terminalsText(resistance, fullScale float64) string {
	switch {
	case math.IsNaN(fullScale):
		return show(resistance, quantity.Ohms)
	case math.IsNaN(resistance):
		return show(fullScale, quantity.Microamperes)
	}
	return show(resistance, quantity.Ohms) + " and " + show(fullScale, quantity.Microamperes)
}

// slipOrInside says what dial and volts tell of a meter whose coil has more or less than is
// usual across it; "" where they tell nothing.
func (s subject) slipOrInside() string {
	m, v := s.meter(), s.coilVoltage()
	volts, amperes := measure.Said(m.Marked)
	const closed = "these are the values of the closed case. Enter them as At its terminals and Full scale there, with Left inside yes."
	switch {
	case v > mostCoilVoltage && math.Abs(v/volts-1) < 0.1:
		return "That is what its dial says: a multiplier is inside, and " + closed
	case v > mostCoilVoltage && math.Abs(m.FullScale.Number/amperes-1) < 0.1:
		return "The current is what its dial says: a resistor is likely inside, and " + closed
	case v > mostCoilVoltage && m.OhmsPerVolt.Given():
		return "It is a voltmeter: a multiplier is inside. Enter what was measured as At its terminals and Full scale there, with Left inside yes."
	}
	return ""
}

// closed is the closed case of a meter as a coil and its full scale, with the tolerances
// of what was measured of it.
func (s subject) closed() (resistance, fullScale quantity.Value) {
	h, m := s.circuit(), s.meter()
	resistance, fullScale = m.TerminalResistance, m.TerminalFullScale
	if !resistance.Given() {
		resistance = quantity.Value{Number: h.TerminalResistance, Tolerance: share(m.Coil), Share: true}
	}
	if !fullScale.Given() {
		fullScale = quantity.Value{Number: h.TerminalFullScale, Tolerance: share(m.FullScale), Share: true}
	}
	return resistance, fullScale
}

// currentLimit is the most that what drives the hand should give, A: the pin, or the two
// transistors that it switches.
func (s subject) currentLimit() float64 {
	if s.drive().By == "switch" {
		return MostSwitched
	}
	return s.drive().PinLimit.Number
}

// peakLimit is the most that it should give for a moment, A: of transistors twice as much.
// Common practice, no source.
func (s subject) peakLimit() float64 {
	if s.drive().By == "switch" {
		return 2 * MostSwitched
	}
	return s.currentLimit()
}

// sourceText is what drives the hand.
func (s subject) sourceText() string {
	if s.drive().By == "switch" {
		return "switch"
	}
	return "pin"
}

// slipText names the slip that most likely puts the coil's voltage beyond what is
// usual: the least power of ten that brings it back, in the coil where that itself is
// not usual, else in the full-scale current.
func (s subject) slipText() string {
	if text := s.slipOrInside(); text != "" {
		return text
	}
	coil, fullScale := s.meter().Coil.Number, s.meter().FullScale.Number
	step, or := 0.1, "Or the coil was measured with its multiplier: that is found inside, not of the coil."
	if coil*fullScale < leastCoilVoltage {
		step, or = 10, "Or a shunt is inside: then the coil alone was not measured."
	}
	by, n := step, 1
	for v := coil * fullScale * by; (v < leastCoilVoltage || v > mostCoilVoltage) && n < len(folds)-1; v *= step {
		by, n = by*step, n+1
	}
	slipped, unit := "full scale ", quantity.Microamperes
	typed, meant := fullScale, fullScale*by
	if least, most := model.Builds.Field("hand.meter.coil").UsualRange(); (coil < least || coil > most) && coil*by >= least && coil*by <= most {
		slipped, unit, typed, meant = "a coil of ", quantity.Ohms, coil, coil*by
	}
	return "Likely a " + folds[n] + " slip: " + slipped + show(meant, unit) + " in place of " + show(typed, unit) +
		" would make " + show(coil*fullScale*by, quantity.Volts) + ". " + or
}

// folds are the powers of ten in words.
var folds = []string{"", "tenfold", "hundredfold", "thousandfold", "ten-thousandfold", "hundred-thousandfold", "millionfold"}
