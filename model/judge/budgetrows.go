package judge

import (
	"math"

	"example.com/needlewright/calc"
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

// sources is the table of what makes a hand read wrong. Definitions are in
// catalogue.md; the shapes over the dial are common practice, no source, unless a
// row says otherwise.
var sources = []source{
	{id: "class", label: "accuracy class",
		amount: (*sinceSet).classError, shape: betweenEnds},
	{id: "scale", label: "scale as measured",
		amount: (*sinceSet).scaleError, at: (*sinceSet).scaleErrorAt},
	{id: "rail", label: "rail drift",
		gains: func(s *sinceSet) [2]float64 {
			if s.fades() {
				return [2]float64{}
			}
			return eitherWay(s.circuit().Drift)
		}},
	{id: "fade", label: "cells fading",
		gains: func(s *sinceSet) [2]float64 {
			return [2]float64{-orNothing(s.hand().FadeError / s.reach())}
		}},
	{id: "fresh", label: "fresh cells",
		gains: func(s *sinceSet) [2]float64 {
			return [2]float64{orNothing(s.hand().FreshError / s.reach())}
		}},
	{id: "temperature", label: "room temperature",
		gains: func(s *sinceSet) [2]float64 { return s.hand().Warm }},
	{id: "movement", label: "movement, not known",
		gains: func(s *sinceSet) [2]float64 { return eitherWay(s.movementUnknown()) }},
	{id: "full_scale", label: "full scale not met",
		gains: func(s *sinceSet) [2]float64 {
			return [2]float64{s.hand().FullScaleReached - 1}
		},
		needles: true},
	{id: "trim", label: "trimmer's fineness",
		gains: func(s *sinceSet) [2]float64 {
			return eitherWay(orNothing(s.hand().TrimStep / 2 / s.reach()))
		}},
	{id: "leak", label: "capacitor's leak",
		gains: func(s *sinceSet) [2]float64 {
			return eitherWay(orNothing(s.hand().CapacitorLeakError / s.reach()))
		}},
	{id: "coding", label: "coding",
		amount: func(s *sinceSet) float64 { return s.hand().CodeErrorMax },
		at: func(s *sinceSet) func(share float64) float64 {
			coding, minutes := s.circuit().Quantisation(), s.minutes()
			return func(share float64) float64 { return minutes * (coding.Shown(coding.Code(share)) - share) }
		},
		needles: true},
	{id: "friction", label: "friction",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().StickError) }, shape: everywhere},
	{id: "zero", label: "zero",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().ZeroError) / s.circuit().Reach }, shape: fromZero,
		standing: stands},
	{id: "mounting", label: "mounting",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().MountingError) }, shape: everywhere},
	{id: "ripple", label: "ripple",
		amount: func(s *sinceSet) float64 { return s.hand().RippleNeedle / 2 }, shape: everywhere},
	{id: "law_ripple", label: "ripple on the law",
		amount: func(s *sinceSet) float64 { return orNothing(s.hand().LawRippleError) },
		at: func(s *sinceSet) func(share float64) float64 {
			most, h := orNothing(s.hand().LawRippleError), s.circuit()
			return func(share float64) float64 { return most * betweenEnds(h.FromRest(share)) }
		},
		standing: func(s *sinceSet) bool { return s.circuit().Law.Kind == calc.Square }},
	{id: "settling", label: "settling",
		amount: (*sinceSet).settlingError, shape: everywhere},
	{id: "pin_bend", label: "pin's bend",
		amount: func(s *sinceSet) float64 {
			return s.mostBent(orNothing(s.hand().PinBend), s.pinBend())
		},
		at:       func(s *sinceSet) func(share float64) float64 { return s.bent(s.pinBend()) },
		standing: stands},
	{id: "diode_bend", label: "diodes' bend",
		amount: func(s *sinceSet) float64 {
			if p := s.hand(); p.TopVoltage <= p.FullScaleVoltage { // too little voltage to be trimmed at all
				return 0
			}
			return s.mostBent(orNothing(s.hand().DiodeBend), s.diodeBend())
		},
		at:       func(s *sinceSet) func(share float64) float64 { return s.bent(s.diodeBend()) },
		standing: stands},
	{id: "drift", label: "drift since it was set",
		amount: (*sinceSet).driftError, shape: everywhere},
}

// classError is the class at half scale, min, where the scale was not measured.
func (s *sinceSet) classError() float64 {
	if s.readTo() > 0 {
		return 0
	}
	return s.minutes() / s.circuit().Used * s.meter().Class.Number
}

// scaleError is the most that the measuring of a scale leaves, min.
func (s *sinceSet) scaleError() float64 {
	if s.fitted() != nil {
		return s.minutes() * s.circuit().Reach * s.readTo()
	}
	return s.minutes() / s.circuit().Used * s.readTo()
}

// scaleErrorAt gives what it leaves at a share of the dial, min.
func (s *sinceSet) scaleErrorAt() func(share float64) float64 {
	most, f, h := s.scaleError(), s.fitted(), s.circuit()
	if f == nil {
		return func(share float64) float64 { return most * betweenEnds(share) }
	}
	return func(share float64) float64 { return h.Minutes * h.Reach * f.Left(h.FromRest(share)) }
}

// movementUnknown is the share by which the needle may go off with the room where its
// movement's drift is not known: its class for each 10 K. Common practice, no source.
func (s *sinceSet) movementUnknown() float64 {
	if s.meter().MovementTempco.Given() {
		return 0
	}
	h := s.circuit()
	return s.meter().Class.Number * max(math.Abs(h.RoomLow-h.TrimmedAt), math.Abs(h.RoomHigh-h.TrimmedAt)) / 10
}

// reach is the dial time that full-scale current moves the needle by, min.
func (s *sinceSet) reach() float64 { return s.minutes() * s.circuit().Reach }

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
		return h.Minutes * h.MovedBy(c, math.Copysign(1, c)*bend(math.Abs(c)))
	}
}

// mostBent is the largest that a bend does: the plan's own figure, min, where the
// needle or its dial follows the current, else at the dial's instants.
func (s *sinceSet) mostBent(most float64, bend func(float64) float64) float64 {
	h := s.circuit()
	if most == 0 || h.Dial || h.Law.IsEven() {
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
