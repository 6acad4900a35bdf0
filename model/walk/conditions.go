package walk

import (
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/measure"
)

// A condition is one thing that a stage is done with: in words, and what of it is missing or
// there. None can be skipped.
type condition struct {
	says    string
	asks    func(s *site) (needs, met []string)
	against func(f *judge.Finding) bool // a finding stands against it, of the stage's hand; nil: none can
}

// known asks for fields that are given, and not only assumed.
func known(says string, paths ...string) condition {
	return condition{says, func(s *site) (needs, met []string) {
		for _, path := range paths {
			if at := s.pathOf(path); s.isKnown(path) {
				met = append(met, at)
			} else {
				needs = append(needs, at)
			}
		}
		return needs, met
	}, nil}
}

// free asks that none of these findings is as bad as this, of the stage's hand or of the
// clock; a stage that is the clock's asks it of everything. Without ids it is all findings.
// What is missing is the field that mends it.
func free(says string, least judge.Severity, ids ...string) condition {
	against := func(f *judge.Finding) bool {
		return f.Severity >= least && (ids == nil || slices.Contains(ids, f.ID))
	}
	return condition{says, func(s *site) (needs, met []string) {
		for k := range s.found {
			if f := &s.found[k]; against(f) && s.concerns(f) && !slices.Contains(needs, f.Field) {
				needs = append(needs, f.Field)
			}
		}
		return needs, nil
	}, against}
}

// concerns says whether a finding is of the stage's hand, or of the whole clock.
func (s *site) concerns(f *judge.Finding) bool {
	return s.hand == noHand || f.About == "" || f.About == s.handName()
}

// inside asks for readings at test points of the hand that lie within what a sound clock
// reads there, and were read since something of it was changed.
func inside(says string, points ...string) condition {
	return condition{says, func(s *site) (needs, met []string) {
		for _, point := range points {
			if id := s.pointID(point); s.isInside(id) && !s.isBefore(point) {
				met = append(met, id)
			} else {
				needs = append(needs, id)
			}
		}
		return needs, met
	}, nil}
}

// signed asks for a row that says who met it, of what stands in the file now.
func signed(id string) condition {
	return condition{signs[id].says, func(s *site) (needs, met []string) {
		if s.isSigned(id) {
			return nil, []string{id}
		}
		return []string{id}, nil
	}, nil}
}

// isSigned says whether somebody said yes to a condition, and nothing that this rested on
// has changed since.
func (s *site) isSigned(id string) bool {
	row, at := s.signed(id)
	if row < 0 {
		return false
	}
	m := &s.b.Walk[row].Met[at]
	return saysYes(m.Value) && m.RestedOn == s.text(signs[id].ground)
}

// either asks for the one or the other. What is missing is what the first one needs, then the
// other.
func either(says string, one, other condition) condition {
	return condition{says, func(s *site) (needs, met []string) {
		needs, met = one.asks(s)
		if len(needs) == 0 {
			return nil, met
		}
		if lacks, has := other.asks(s); len(lacks) == 0 {
			return nil, append(met, has...)
		} else {
			return append(needs, lacks...), append(met, has...)
		}
	}, one.against}
}

// meter is that condition, wherever it is asked: who signed it did so in the survey.
var meter = condition{"full scale and coil are known", func(s *site) (needs, met []string) {
	survey := *s
	survey.id = "survey"
	return survey.meterKnown()
}, nil}

// meterKnown asks for the meter's full scale and resistance. One of the two may be what the
// dial says, where somebody signs that it is.
func (s *site) meterKnown() (needs, met []string) {
	var missing []string
	for _, path := range s.meterPaths() {
		if at := s.pathOf(path); s.isKnown(path) && !s.isFromDial(path) {
			met = append(met, at)
		} else {
			missing = append(missing, at)
		}
	}
	if len(missing) != 1 || !s.isKnown("hand.meter.marked") {
		return missing, met
	}
	if s.isSigned(fromDial) {
		return nil, append(met, fromDial)
	}
	return append(missing, fromDial), met
}

// meterPaths are the fields of full scale and resistance that count: of the movement, or of the
// closed case where that is driven as it is.
func (s *site) meterPaths() [2]string {
	paths := [2]string{"hand.meter.full_scale", "hand.meter.coil"}
	if m := &s.b.Hands[s.hand].Meter; m.AsMeasured() {
		if m.TerminalFullScale.Given() {
			paths[0] = "hand.meter.terminal_full_scale"
		}
		if m.TerminalResistance.Given() {
			paths[1] = "hand.meter.terminal_resistance"
		}
	}
	return paths
}

// ofMeter says whether a field is one of these.
func ofMeter(path string) func(s *site) bool {
	return func(s *site) bool {
		paths := s.meterPaths()
		return slices.Contains(paths[:], path)
	}
}

// isFromDial says whether a value is what the dial says, and nobody measured it.
func (s *site) isFromDial(path string) bool {
	f := model.Builds.Field(path)
	return s.d.Mark(f, s.index(f)) == measure.FromDial
}

// driftKnown asks for a frequency that was measured, or for all that the crystal's rate
// follows from.
func driftKnown(s *site) (needs, met []string) {
	if !s.b.Crystal.Frequency.Given() {
		return []string{"crystal.frequency"}, nil // the controller's own clock, of which nothing is known
	}
	if s.isKnown("crystal.measured") {
		return nil, []string{"crystal.measured"}
	}
	if s.readingAt("clock.drift") >= 0 {
		return nil, []string{"clock.drift"}
	}
	return known("", "crystal.load", "crystal.tolerance", "crystal.capacitor_in", "crystal.capacitor_out").asks(s)
}

// crystalAdded says whether a crystal is added, and onCells whether cells feed the clock.
func crystalAdded(s *site) bool { return s.b.Crystal.Frequency.Given() }
func onCells(s *site) bool      { return s.b.Battery.Cells != 0 }

// fromASet says whether the meter may still hang in something that can hurt.
func fromASet(s *site) bool { return measure.FromASet(s.b.Hands[s.hand].Meter.Origin) }

// humFeared says whether a hum is to be feared.
func humFeared(s *site) bool {
	needs, _ := noHum.asks(s)
	return len(needs) > 0
}

// noHum asks that none is.
var noHum = free("no hum is to be feared", judge.Warning, "hum")

// oneMissing says whether one value of the meter, and no more, may be what the dial says.
func oneMissing(s *site) bool {
	needs, _ := s.meterKnown()
	return slices.Contains(needs, fromDial) || s.isSigned(fromDial)
}
