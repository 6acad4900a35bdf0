package judge

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
)

// Shapes of an error over the dial.
func everywhere(float64) float64     { return 1 }
func fromZero(share float64) float64 { return 1 - share }

// betweenEnds is where zero and full scale were set: most at half.
func betweenEnds(share float64) float64 { return 4 * share * (1 - share) }

// orNothing is 0 for what is not there.
func orNothing(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// eitherWay are gains of a share, + and -.
func eitherWay(share float64) [2]float64 { return [2]float64{share, -share} }

// stands is for sources whose sign is always known.
func stands(*sinceSet) bool { return true }

func words(text string) func(*sinceSet) string { return func(*sinceSet) string { return text } }

// sources is the table of what makes a hand read wrong. Definitions are in
// catalogue.md; the shapes over the dial are common practice, no source, unless a
// row says otherwise.
var sources = []source{
	{id: "class", label: "accuracy class",
		amount: (*sinceSet).classError, shape: betweenEnds,
		advice: words("Measure the scale at some codes, give the points as its law, and straighten it."),
		proofs: (*sinceSet).straightened},
	{id: "scale", label: "scale as measured",
		amount: (*sinceSet).scaleError, shape: betweenEnds,
		advice: words("More points, read to a tenth of a division with the eye straight above the needle.")},
	{id: "rail", label: "rail drift",
		gains: func(s *sinceSet) [2]float64 {
			if s.fades() {
				return [2]float64{}
			}
			return eitherWay(s.circuit().Drift)
		},
		advice: func(s *sinceSet) string { return railAdvice(s.b, s.circuit().Drift) },
		proofs: (*sinceSet).steadierRail},
	{id: "fade", label: "cells fading",
		gains: func(s *sinceSet) [2]float64 {
			return [2]float64{-orNothing(s.hand().FadeError / s.minutes())}
		},
		advice: words("Hold the rail with a converter: the needle follows it. Then measure how far that lets it drift, 2 % with many."),
		tries:  func(s *sinceSet) [][]model.Change { return [][]model.Change{s.converter("boost")} }},
	{id: "fresh", label: "fresh cells",
		gains: func(s *sinceSet) [2]float64 {
			return [2]float64{orNothing(s.hand().FreshError / s.minutes())}
		},
		advice: words("The fresh pack stands above the rail: fewer cells, or a regulator that holds it down."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{s.fewerCells(), s.converter("linear")}
		}},
	{id: "temperature", label: "room temperature",
		gains:  func(s *sinceSet) [2]float64 { return s.hand().Warm },
		advice: words("Trim at the room's middle temperature; more series resistance against the copper coil."),
		proofs: (*sinceSet).otherTemperatures},
	{id: "movement", label: "movement, not known",
		gains:  func(s *sinceSet) [2]float64 { return eitherWay(s.movementUnknown()) },
		advice: words("How magnet and spring follow the room is not known: its class once more for each 10 K is what a meter may do. Read it at two temperatures; about 200 ppm/K with alnico, -2000 with ferrite."),
		proofs: func(s *sinceSet) []proof {
			return []proof{s.proof("Should it be 200 ppm/K", "hand.meter.movement_tempco", "200 ppm/K")}
		}},
	{id: "full_scale", label: "full scale not met",
		gains: func(s *sinceSet) [2]float64 {
			return [2]float64{s.hand().FullScaleReached - 1}
		},
		needles: true,
		advice:  words("Series parts with which the trimmer reaches full scale."),
		tries:   (*sinceSet).otherSeries},
	{id: "trim", label: "trimmer's fineness",
		gains: func(s *sinceSet) [2]float64 {
			return eitherWay(orNothing(s.hand().TrimStep / 2 / s.minutes()))
		},
		advice: words("A multi-turn trimmer, or a smaller one."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.drive.trimmer_turns", "25")}}
		}},
	{id: "leak", label: "capacitor's leak",
		gains: func(s *sinceSet) [2]float64 {
			return eitherWay(orNothing(s.hand().CapacitorLeakError / s.minutes()))
		},
		advice: words("A film or ceramic capacitor."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.drive.capacitor_kind", "film")}}
		}},
	{id: "coding", label: "coding",
		amount: func(s *sinceSet) float64 { return s.hand().CodeErrorMax },
		at: func(s *sinceSet) func(share float64) float64 {
			coding, minutes := s.circuit().Quantisation(), s.minutes()
			return func(share float64) float64 { return minutes * (coding.Shown(coding.Code(share)) - share) }
		},
		needles: true,
		advice:  words("More codes, rounded to the nearest, that share the dial evenly; a scale that is not even, straightened."),
		tries:   (*sinceSet).otherCodes},
	{id: "friction", label: "friction",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().StickError) }, shape: everywhere,
		advice: words("Look for dust in the gap, paper or window touching the pointer, a tilted pivot; then measure again."),
		proofs: func(s *sinceSet) []proof {
			clean := model.Builds.Field("hand.meter.stick").New
			return []proof{s.proof("Clean, within "+clean, "hand.meter.stick", clean)}
		}},
	{id: "zero", label: "zero",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().ZeroError) }, shape: fromZero,
		standing: stands,
		advice:   words("The zero screw, case closed, in its final place, tapping; then trim full scale."),
		proofs: func(s *sinceSet) []proof {
			return []proof{s.proof("At zero", "hand.meter.zero_offset", "0 %")}
		}},
	{id: "mounting", label: "mounting",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().MountingError) }, shape: everywhere,
		advice: words("Mount it as its dial asks for; else zero and trim it in the final case and position, and measure the scale there."),
		proofs: (*sinceSet).asAsked},
	{id: "ripple", label: "ripple",
		amount: func(s *sinceSet) float64 { return s.hand().RippleNeedle / 2 }, shape: everywhere,
		advice: words("A faster PWM or a larger capacitor."),
		tries:  (*sinceSet).smoother},
	{id: "law_ripple", label: "ripple on the law",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().LawRippleError) }, shape: betweenEnds,
		standing: func(s *sinceSet) bool { return s.circuit().Law.Kind == calc.Square },
		advice:   words("Smooth the current, or measure the scale with this very drive."),
		tries:    (*sinceSet).smoother},
	{id: "settling", label: "settling",
		amount: (*sinceSet).settlingError, shape: everywhere,
		advice: words("A quicker meter, or a smooth sweep in many small steps.")},
	{id: "pin_bend", label: "pin's bend",
		amount: func(s *sinceSet) float64 {
			return s.mostBent(orNothing(s.hand().PinBend), s.pinBend())
		},
		at:       func(s *sinceSet) func(share float64) float64 { return s.bent(s.pinBend()) },
		standing: stands,
		advice:   words("More resistance before the capacitor, or none behind the pin."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.drive.capacitor_at", "coil")}, {s.change("hand.drive.capacitor", "")}}
		}},
	{id: "diode_bend", label: "diodes' bend",
		amount: func(s *sinceSet) float64 {
			if p := s.hand(); p.TopVoltage <= p.FullScaleVoltage { // too little voltage to be trimmed at all
				return 0
			}
			return s.mostBent(orNothing(s.hand().DiodeBend), s.diodeBend())
		},
		at:       func(s *sinceSet) func(share float64) float64 { return s.bent(s.diodeBend()) },
		standing: stands,
		advice:   words("They suit a coil below 0.2 V at full scale; else the fixed resistor alone protects it."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.meter.diodes", "none")}}
		}},
	{id: "drift", label: "drift since it was set",
		amount: (*sinceSet).driftError, shape: everywhere,
		advice: words("Let the firmware count the tick that suits the middle of the room; measured on a buffered output, the crystal's own tolerance is gone too."),
		tries:  (*sinceSet).otherTicks,
		proofs: (*sinceSet).measuredCrystal},
}

// classError is the class at half scale, min, where the scale was not measured.
func (s *sinceSet) classError() float64 {
	if s.readTo() > 0 {
		return 0
	}
	return s.minutes() * s.meter().Class.Number
}

// scaleError is what the measuring of a scale leaves at half of it, min.
func (s *sinceSet) scaleError() float64 { return s.minutes() * s.readTo() }

// movementUnknown is the share by which the needle may go off with the room where its
// movement's drift is not known: its class for each 10 K. Common practice, no source.
func (s *sinceSet) movementUnknown() float64 {
	if s.meter().MovementTempco.Given() {
		return 0
	}
	h := s.circuit()
	return s.meter().Class.Number * max(math.Abs(h.RoomLow-h.TrimmedAt), math.Abs(h.RoomHigh-h.TrimmedAt)) / 10
}

// fades says whether cells feed the rail directly, so that it falls as they fade.
func (s *sinceSet) fades() bool { return s.hand().FadeError > 0 }

// settlingError is how far a seconds hand that has not settled within its second
// is behind when it is over, min.
func (s *sinceSet) settlingError() float64 {
	if s.minutes() != 1 || s.hand().NeedleSettling <= 1 {
		return 0
	}
	h := s.circuit()
	return h.Minutes / float64(h.Steps) * h.Movement.Lag(1)
}

// driftError is what the clock may gain or lose since it was set, min.
func (s *sinceSet) driftError() float64 {
	const secondsAMinute = 60
	low, high := s.rateEnds()
	return s.horizon.days(s.p) * max(math.Abs(low), math.Abs(high)) / secondsAMinute
}

// pinBend gives the share of full-scale current that the pin's asymmetry adds at a
// share of it.
func (s *sinceSet) pinBend() func(float64) float64 {
	d := s.circuit().Drive()
	return s.circuit().PinBend(&d).At
}

// diodeBend gives the same of the diodes across the coil.
func (s *sinceSet) diodeBend() func(float64) float64 {
	resistance, fullScale := s.circuit().Shunted()
	series := s.hand().DiodeSeries(fullScale)
	return func(share float64) float64 { return calc.DiodeBendAt(fullScale, resistance, series, share) }
}

// bent gives what a bend of the current does at a share of the dial, min.
func (s *sinceSet) bent(bend func(float64) float64) func(share float64) float64 {
	h := s.circuit()
	return func(share float64) float64 {
		c := h.Wanted(share)
		return h.Minutes * h.MovedBy(c, bend(c))
	}
}

// mostBent is the largest that a bend does: the plan's own figure, min, where the
// needle or its dial follows the current, else at the dial's instants.
func (s *sinceSet) mostBent(most float64, bend func(float64) float64) float64 {
	h := s.circuit()
	if most == 0 || h.Dial || h.Law.Kind == calc.Linear {
		return most
	}
	most = 0
	bent := s.bent(bend)
	for k := range h.Steps {
		if off := bent(float64(k) / float64(h.Steps)); math.Abs(off) > math.Abs(most) {
			most = off
		}
	}
	return most
}
