package model

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
)

// seriesOptions are fixed resistors of E24 with trimmers of 1-2-5: the coil safe
// with the trimmer at zero, full scale reached by every kit, the trimmer between
// a fifth and four fifths of its travel, and set as finely as can be. Where the
// steps of E24 are too wide for that, a second fixed resistor stands in as the
// stage, as long as no capacitor is behind it.
func (s subject) seriesOptions() [][]Change {
	present := s.drive().Stage.Number
	whole := s.hand().SeriesNeeded + present
	if !(whole > 0) {
		return nil
	}
	bench := s.bench()
	all := s.seriesChoices(bench, present)
	padded := s.drive().CapacitorAt == "coil" || s.drive().Capacitor.Number == 0
	if padded && present > 0 {
		all = append(all, s.seriesChoices(bench, 0)...)
	}
	if options := best(all); !padded || !slices.ContainsFunc(all, ranked.whole) {
		if !padded {
			return options
		}
		for pad := calc.NextPreferred(whole/60, calc.E24, true); pad < whole/8; pad = calc.NextPreferred(pad, calc.E12, true) {
			all = append(all, s.seriesChoices(bench, pad)...)
		}
	}
	return best(all)
}

// whole says whether a choice needs no other: the coil is safe, and every kit
// comes to full scale.
func (r ranked) whole() bool { return r.score[0]+r.score[1] == 0 && r.worth[0] == 0 }

// seriesChoices are those with one stage resistor, Ω.
func (s subject) seriesChoices(bench *bench, stage float64) []ranked {
	var all []ranked
	needed := s.hand().SeriesNeeded + s.drive().Stage.Number - stage
	add := func(fixed, trimmer float64) { all = append(all, s.seriesChoice(bench, stage, fixed, trimmer)) }
	if s.drive().Setting.Given() && stage == s.drive().Stage.Number {
		add(s.drive().Fixed.Number, s.drive().Trimmer.Number)
	}
	for trimmer := 10.0; trimmer <= max(3*needed, 20); trimmer = calc.NextPreferred(trimmer, calc.OneTwoFive, true) {
		if trimmer < 0.01*needed {
			continue
		}
		if trimmer >= needed {
			add(0, trimmer)
		}
		for fixed := calc.NextPreferred(needed, calc.E24, true); fixed >= max(needed-trimmer, needed/8); fixed = calc.NextPreferred(fixed, calc.E24, false) {
			add(fixed, trimmer)
		}
	}
	return all
}

// seriesChoice judges one choice on the bench.
func (s subject) seriesChoice(bench *bench, stage, fixed, trimmer float64) ranked {
	f, t, st := fieldTable["hand.drive.fixed"], fieldTable["hand.drive.trimmer"], fieldTable["hand.drive.stage"]
	changes := []Change{
		{f, s.i, quantityText(f, s.drive().Fixed, fixed, 0.01)},
		{t, s.i, quantityText(t, s.drive().Trimmer, trimmer, 0.10)},
	}
	if stage != s.drive().Stage.Number {
		changes = append(changes, Change{st, s.i, quantityText(st, s.drive().Stage, stage, 0.01)})
	}
	if s.drive().Setting.Given() {
		changes = append(changes, Change{fieldTable["hand.drive.setting"], s.i, ""})
	}
	d := bench.drive()
	d.Stage.Number = stage // as it is where no change says otherwise
	for _, c := range changes {
		c.put(bench.build)
	}
	h := bench.series()
	off := math.Abs(h.TrimmerTravel - 0.5)
	return ranked{changes, bench.score(), []float64{
		number01(!subject{bench.build, &bench.plan, s.i}.reachedByAll()), number01(stage > 0), number01(off > 0.3), trimmer, off,
	}}
}

// reachedByAll says whether the trimmer brings every kit to full scale, whatever
// ends of their tolerances its parts are at.
func (s subject) reachedByAll() bool {
	h, d, m := s.circuit(), s.drive(), s.meter()
	share := h.Top / h.Counts
	least := s.b.Rail.Voltage.Low()*share/m.FullScale.High() - m.Coil.High() - d.PinResistance.High() - d.Stage.High() - d.Fixed.High()
	most := s.b.Rail.Voltage.High()*share/m.FullScale.Low() - m.Coil.Low() - d.PinResistance.Low() - d.Stage.Low() - d.Fixed.Low()
	return least >= 0 && most <= d.Trimmer.Low()
}

// filterOptions are capacitors of E6: none where there is no need of one, at the
// coil, or behind a stage resistor of their own, for which the fixed resistor
// makes room.
func (s subject) filterOptions() [][]Change {
	var all []ranked
	if s.hand().SeriesNeeded+s.drive().Stage.Number < 0 {
		return nil
	}
	bench := s.bench()
	all = append(all, s.filterChoice(bench, 0, 0, s.roomFor(0)))
	all = append(all, s.capacitors(bench, 0)...)
	if slim := best(all); len(slim) > 0 && s.clean(all) {
		return slim
	}
	whole := s.hand().SeriesNeeded + s.drive().Stage.Number
	for _, share := range [...]float64{0.1, 0.2, 0.4, 0.6} {
		all = append(all, s.capacitors(bench, calc.NearestPreferred(share*whole, calc.E24))...)
	}
	return best(all)
}

// clean says whether a choice leaves nothing that a filter could be blamed for.
func (s subject) clean(all []ranked) bool {
	for _, r := range all {
		if r.worth[0] == 0 {
			return true
		}
	}
	return false
}

// filterFindings weighs what those rules find that a filter may mend.
func (b *bench) filterFindings() float64 {
	var s score
	for k := range handRules {
		if r := &handRules[k]; r.part == "filter" || r.id == "filter_idle" {
			severity, _ := r.grade(subject{b.build, &b.plan, b.i})
			s.add(severity)
		}
	}
	return float64(100*s[0] + 10*s[1] + s[2])
}

// capacitors are choices with a stage resistor, Ω, 0 for the node at the coil:
// around the smallest capacitor that is quiet.
func (s subject) capacitors(bench *bench, stage float64) []ranked {
	var all []ranked
	quiet, room := 0, s.roomFor(stage)
	for c := 1e-9; c <= fieldTable["hand.drive.capacitor"].high/10 && quiet < 4; c = calc.NextPreferred(c, calc.E6, true) {
		r := s.filterChoice(bench, stage, c, room)
		h := &bench.plan.Hands[s.i]
		if h.RippleNeedle <= 0.002*s.minutes() && !(h.RippleCurrent > 0.1) {
			quiet++
		}
		if quiet > 0 {
			all = append(all, r)
		}
	}
	return all
}

// filterChoice judges one choice on the bench: no capacitor, or one at the coil,
// or one behind a stage.
func (s subject) filterChoice(bench *bench, stage, capacitor float64, room []Change) ranked {
	place, kind := "coil", ""
	if stage > 0 {
		place = "stage"
	}
	switch {
	case capacitor > 10e-6: // larger ones of other kinds are dear
		kind = "electrolytic"
	case capacitor > 0:
		kind = "ceramic"
	}
	f := func(key string) *Field { return fieldTable["hand.drive."+key] }
	changes := append([]Change{
		{f("capacitor"), s.i, quantityText(f("capacitor"), s.drive().Capacitor, capacitor, 0.2)},
		{f("stage"), s.i, quantityText(f("stage"), s.drive().Stage, stage, 0.01)},
		{f("capacitor_at"), s.i, place},
		{f("capacitor_kind"), s.i, kind},
	}, room...)
	for _, c := range changes {
		c.put(bench.build)
	}
	bench.smooth()
	return ranked{changes, bench.score(), []float64{bench.filterFindings(), number01(capacitor > 0), number01(stage > 0), capacitor}}
}

// roomFor are the fixed resistor and trimmer that go with another stage resistor,
// which takes its part of the chain.
func (s subject) roomFor(stage float64) []Change {
	if stage == s.drive().Stage.Number {
		return nil
	}
	other := s
	other.b = s.b.changed([]Change{{fieldTable["hand.drive.stage"], s.i, quantityText(fieldTable["hand.drive.stage"], s.drive().Stage, stage, 0.01)}})
	bench := other.bench()
	bench.series()
	options := subject{bench.build, &bench.plan, s.i}.seriesOptions()
	if len(options) == 0 {
		return nil
	}
	return options[0]
}
